# What a fit of Scheffe's terms owes to each mix. One cup a mix and one assessor: hat values, Cook's distance and DFFITS of
# R's influence.measures (DFFITS turned to the error of the whole fit). A panel: generalised least squares by hand with the
# variances of lme4 held, all scores of a mix left out.
# Run with: Rscript influence.R  (writes influence.json)
suppressMessages({library(lme4); library(jsonlite)})
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                     check.conv.singular = "ignore", check.rankX = "stop.deficient")
d <- fromJSON("flavour-loop.json"); rows <- as.data.frame(d$rows); names(rows) <- d$columns
w <- d$ratios_as_weighed; w <- w / rowSums(w)
terms <- list(
  linear = function(x) x,
  quadratic = function(x) cbind(x, x[, 1] * x[, 2], x[, 1] * x[, 3], x[, 2] * x[, 3]))
single <- function(attribute, model) {
  r <- rows[rows$assessor == 1 & rows$replicate == 1, ]; r <- r[order(r$variant), ]
  X <- terms[[model]](w)[r$variant, ]; y <- r[[attribute]]
  m <- lm(y ~ 0 + X); s <- influence.measures(m)$infmat; i <- influence(m)
  shift <- s[, "dffit"] * i$sigma / summary(m)$sigma
  list(name = "single", attribute = attribute, model = model, mixes = data.frame(variant = r$variant, leverage = s[, "hat"],
       distance = s[, "cook.d"], shift = shift, moves = shift * summary(m)$sigma * sqrt(s[, "hat"])))
}
panel <- function(name, attribute, model, keep, reference) {
  r <- rows[keep, ]; r$y <- r[[attribute]]; r$ref <- as.numeric(r$variant %in% reference)
  r$assessor <- factor(r$assessor); r$session <- factor(r$replicate); r$mix <- factor(r$variant)
  F <- terms[[model]](w); X <- F[r$variant, , drop = FALSE] * (1 - r$ref); p <- ncol(X)
  if (any(r$ref > 0)) X <- cbind(X, r$ref)
  m <- lmer(y ~ 0 + X + (1|assessor) + (1|assessor:mix) + (1|session), r, REML = TRUE, control = tight)
  V <- as.matrix(getME(m, "Z") %*% (Matrix::tcrossprod(getME(m, "Lambda")) * sigma(m)^2) %*% Matrix::t(getME(m, "Z"))) +
    diag(sigma(m)^2, nrow(r))
  gls <- function(k) { C <- solve(t(X[k, ]) %*% solve(V[k, k], X[k, ]))
    list(b = drop(C %*% t(X[k, ]) %*% solve(V[k, k], r$y[k]))[1:p], C = C[1:p, 1:p]) }
  whole <- gls(rep(TRUE, nrow(r)))
  used <- setdiff(sort(unique(r$variant)), reference)
  found <- lapply(used, function(v) {
    o <- gls(r$variant != v); x <- F[v, ]; change <- whole$b - o$b; at <- function(C) drop(t(x) %*% C %*% x)
    data.frame(variant = v, leverage = 1 - at(whole$C) / at(o$C), distance = drop(t(change) %*% solve(whole$C, change)) / p,
               shift = sum(x * change) / sqrt(at(whole$C)), moves = sum(x * change)) })
  list(name = name, attribute = attribute, model = model, mixes = do.call(rbind, found))
}
all <- rep(TRUE, nrow(rows)); gaps <- (seq_len(nrow(rows)) - 1) %% 6 != 4
cases <- list(
  single("citrus", "linear"), single("floral", "quadratic"),
  panel("full", "citrus", "quadratic", all, integer(0)), panel("gaps", "cooked", "linear", gaps, integer(0)),
  panel("reference", "green", "quadratic", gaps, 8))
versions <- list(R = R.version.string, lme4 = as.character(packageVersion("lme4")))
write(toJSON(list(versions = versions, cases = cases), digits = NA, auto_unbox = TRUE, dataframe = "rows"), "influence.json")
