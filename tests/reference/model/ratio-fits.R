# Scheffe models on as-weighed ratios with random assessors, assessors by mix and sessions: coefficients, blending,
# Cox effects, lack of fit, leaving mixes out with variances held; full, with gaps, with the reference's indicator.
# Run with: Rscript ratio-fits.R  (writes ratio-fits.json)
suppressMessages({library(lmerTest); library(jsonlite); library(pbkrtest)})
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                     check.conv.singular = "ignore", check.rankX = "stop.deficient")
d <- fromJSON("flavour-loop.json"); rows <- as.data.frame(d$rows); names(rows) <- d$columns
w <- d$ratios_as_weighed; w <- w / rowSums(w)
terms <- list(
  linear = function(x) x,
  quadratic = function(x) cbind(x, x[, 1] * x[, 2], x[, 1] * x[, 3], x[, 2] * x[, 3]),
  `special-cubic` = function(x) cbind(terms$quadratic(x), x[, 1] * x[, 2] * x[, 3]))
complement <- function(A) { q <- qr(A); qr.Q(q, complete = TRUE)[, (q$rank + 1):nrow(A), drop = FALSE] }
frame <- function(keep, reference) {
  r <- rows[keep, ]; r$ref <- as.numeric(r$variant %in% reference); r
}
variances <- function(m) { v <- as.data.frame(VarCorr(m)); setNames(as.list(v$vcov), v$grp) }
test <- function(m, L, ddf) { a <- contestMD(m, L, ddf = ddf); list(f = a[["F value"]], numDf = a[["NumDF"]], denDf = a[["DenDF"]], p = a[["Pr(>F)"]]) }
line <- function(m, l, ddf) { a <- contest1D(m, l, ddf = ddf); list(change = a[["Estimate"]], se = a[["Std. Error"]], df = a[["df"]], p = a[["Pr(>|t|)"]]) }
# A component at zero is dropped before Kenward and Roger's method is used: it would count as estimated otherwise.
without_zeros <- function(random, m) {
  v <- as.data.frame(VarCorr(m)); zero <- v$grp[v$vcov < 1e-6 * sigma(m)^2]
  parts <- strsplit(random, " + ", fixed = TRUE)[[1]]
  paste(parts[!(parts %in% paste0("(1|", zero, ")"))], collapse = " + ")
}
one <- function(name, attribute, model, keep, reference, random, ddf = "Satterthwaite") {
  r <- frame(keep, reference); r$y <- r[[attribute]]
  r$assessor <- factor(r$assessor); r$session <- factor(r$replicate); r$mix <- factor(r$variant)
  F <- terms[[model]](w); X <- F[r$variant, , drop = FALSE] * (1 - r$ref)
  p <- ncol(X); if (any(r$ref > 0)) X <- cbind(X, r$ref)
  form <- as.formula(paste("y ~ 0 + X +", random))
  m <- lmer(form, r, REML = TRUE, control = tight)
  found <- variances(m)
  if (ddf == "Kenward-Roger") m <- lmer(as.formula(paste("y ~ 0 + X +", without_zeros(random, m))), r, control = tight)
  s <- coef(summary(m, ddf = ddf))
  pad <- function(L) cbind(L, matrix(0, nrow(L), ncol(X) - p))
  L <- rbind(cbind(t(complement(matrix(1, 3))), matrix(0, 2, p - 3)), if (p > 3) cbind(matrix(0, p - 3, 3), diag(p - 3)))
  low <- c(.2, .1, .1); high <- c(.8, .7, .7); centre <- c(.4, .3, .3)
  cox <- lapply(1:3, function(i) {
    at <- function(v) { x <- centre * (1 - v) / (1 - centre[i]); x[i] <- v; terms[[model]](t(x)) }
    line(m, drop(pad(at(high[i]) - at(low[i]))), ddf) })
  used <- setdiff(sort(unique(r$variant)), reference)
  r$mix <- factor(r$variant); M <- model.matrix(~ 0 + mix, r)
  mm <- lmer(as.formula(paste("y ~ 0 + M +", random)), r, REML = TRUE, control = tight)
  if (ddf == "Kenward-Roger") mm <- lmer(as.formula(paste("y ~ 0 + M +", without_zeros(random, mm))), r, control = tight)
  own <- match(used, levels(r$mix) |> as.integer())
  K <- complement(F[used, , drop = FALSE])
  lof <- if (length(used) > p) { Lm <- matrix(0, ncol(K), nlevels(r$mix)); Lm[, own] <- t(K); test(mm, Lm, ddf) } else NULL
  means <- fixef(mm)[own]
  V <- as.matrix(getME(m, "Z") %*% (Matrix::tcrossprod(getME(m, "Lambda")) * sigma(m)^2) %*% Matrix::t(getME(m, "Z"))) + diag(sigma(m)^2, nrow(r))
  predicted <- sapply(used, function(v) { k <- r$variant != v
    b <- solve(t(X[k, ]) %*% solve(V[k, k], X[k, ]), t(X[k, ]) %*% solve(V[k, k], r$y[k])); sum(F[v, ] * b[1:p]) })
  free <- r$ref == 0; xb <- drop(X %*% fixef(m))
  list(name = name, attribute = attribute, model = model, random = random, df = ddf, variance = found,
       logLik = as.numeric(logLik(m)),
       coefficients = data.frame(estimate = s[, "Estimate"], se = s[, "Std. Error"], df = s[, "df"], p = s[, "Pr(>|t|)"]),
       blending = test(m, pad(L), ddf), effects = cox, lackOfFit = lof,
       rmse = sqrt(mean((means - predicted)^2)), q2 = 1 - sum((means - predicted)^2) / sum((means - mean(means))^2),
       rSquared = 1 - sum((r$y - xb)[free]^2) / sum((r$y[free] - mean(r$y[free]))^2))
}
all <- rep(TRUE, nrow(rows)); gaps <- (seq_len(nrow(rows)) - 1) %% 6 != 4
full <- "(1|assessor) + (1|assessor:mix) + (1|session)"; single <- "(1|assessor)"
first <- rows$replicate == 1
cases <- list(
  one("full", "citrus", "quadratic", all, integer(0), full), one("full", "floral", "linear", all, integer(0), full),
  one("full", "green", "special-cubic", all, integer(0), full),
  one("gaps", "citrus", "quadratic", gaps, integer(0), full), one("gaps", "cooked", "linear", gaps, integer(0), full),
  one("gaps", "floral", "quadratic", gaps, integer(0), full, "Kenward-Roger"),
  one("reference", "green", "quadratic", gaps, 8, full), one("first", "citrus", "quadratic", first, integer(0), single),
  one("first", "floral", "linear", first, 8, single))
versions <- list(R = R.version.string, lme4 = as.character(packageVersion("lme4")),
  lmerTest = as.character(packageVersion("lmerTest")), pbkrtest = as.character(packageVersion("pbkrtest")))
write(toJSON(list(versions = versions, cases = cases), digits = NA, auto_unbox = TRUE, dataframe = "rows", null = "null"), "ratio-fits.json")
