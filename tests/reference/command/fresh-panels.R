# Freshly drawn unbalanced panels, read by R: what `dropwise panel`, `fit` and `predict` must print for the same CSV.
# lme4/lmerTest for estimates and Satterthwaite, pbkrtest for Kenward-Roger, emmeans for means and Tukey's pairs, base R
# for the mixed assessor model and (by Henderson's equations, written out) for predictions and leaving mixes out.
# Run with: Rscript fresh-panels.R  (writes fresh-panels.json)
suppressMessages({library(lmerTest); library(pbkrtest); library(emmeans); library(jsonlite); library(Matrix)})
emm_options(lmerTest.limit = 1e5, pbkrtest.limit = 1e5, cov.keep = character(0))
tight <- lmerControl(optimizer = "nloptwrap", calc.derivs = FALSE, check.conv.singular = "ignore", check.nobs.vs.rankZ = "ignore",
  optCtrl = list(algorithm = "NLOPT_LN_BOBYQA", xtol_abs = 1e-12, xtol_rel = 0, ftol_abs = 0, ftol_rel = 1e-15, maxeval = 1e5))
fitted_by <- function(formula, d) suppressMessages(lmerTest::lmer(formula, d, REML = TRUE, control = tight))
cells <- function(f, g) interaction(f, g, drop = TRUE)

# who tastes what: order drawn anew for each assessor and replicate, a share of cups missing
taste <- function(assessors, mixes, replicates, sessions, keep, seed, level, sd, carry = 0, first = 0, reference = FALSE) {
  force(level)
  set.seed(seed)
  names <- c(paste0("m", seq_len(mixes)), if (reference) "reference")
  level <- c(level, if (reference) 52)
  out <- list()
  off <- rnorm(assessors, 0, sd[1]); inter <- matrix(rnorm(assessors * length(names), 0, sd[2]), assessors)
  evening <- rnorm(sessions, 0, sd[3]); shift <- matrix(rnorm(assessors * sessions, 0, sd[4]), assessors)
  for (a in seq_len(assessors)) for (r in seq_len(replicates)) {
    order <- sample(length(names)); s <- (r - 1) %% sessions + 1
    for (p in seq_along(order)) {
      m <- order[p]
      before <- if (p > 1) carry * (level[order[p - 1]] - mean(level)) else first
      y <- level[m] + off[a] + inter[a, m] + evening[s] + shift[a, s] + before + rnorm(1, 0, sd[5])
      out[[length(out) + 1]] <- data.frame(mix = names[m], assessor = paste0("P", a), session = paste0("s", s), replicate = r, position = p, y = round(pmin(100, pmax(0, y)), 1))
    }
  }
  d <- do.call(rbind, out)
  d <- d[sort(sample(nrow(d), round(keep * nrow(d)))), ]
  d
}
ready <- function(d) { d$assessor <- factor(d$assessor); d$session <- factor(d$session); d$mix <- factor(d$mix); d }
rows_of <- function(d) unname(as.matrix(cbind(mix = as.character(d$mix), assessor = as.character(d$assessor), session = as.character(d$session), replicate = d$replicate, position = d$position, y = d$y)))

panel_case <- function(name, d, random, df, adjust = FALSE) {
  d <- ready(d)
  fixed <- "y ~ 0 + mix"; extra <- character(0)
  if (adjust) {
    for (p in sort(unique(d$position))[-1]) { n <- paste0("place", p); d[[n]] <- as.numeric(d$position == p); extra <- c(extra, n) }
    cell <- aggregate(y ~ assessor + mix, d, mean)
    lev <- coef(lm(y ~ 0 + mix + assessor, cell)); lev <- lev[paste0("mix", levels(d$mix))]; names(lev) <- levels(d$mix)
    key <- paste(d$assessor, d$session, d$replicate)
    before <- sapply(seq_len(nrow(d)), function(i) { j <- which(key == key[i] & d$position == d$position[i] - 1); if (length(j)) lev[[as.character(d$mix[j])]] else NA })
    d$carried <- ifelse(is.na(before), 0, before - mean(before, na.rm = TRUE)); extra <- c(extra, "carried")
    for (n in extra) d[[n]] <- d[[n]] - mean(d[[n]])
    fixed <- paste(fixed, "+", paste(extra, collapse = " + "))
  }
  if ("assessor:mix" %in% random) d$am <- cells(d$assessor, d$mix)
  if ("assessor:session" %in% random) d$as <- cells(d$assessor, d$session)
  short <- c("assessor:mix" = "am", "assessor:session" = "as"); r <- ifelse(random %in% names(short), short[random], random)
  m <- fitted_by(as.formula(paste(fixed, "+", paste0("(1|", r, ")", collapse = " + "))), d)
  mode <- if (df == "Kenward-Roger") "kenward-roger" else "satterthwaite"
  k <- nlevels(d$mix); p <- length(fixef(m))
  # the F test of equal means with the contrasts of the usual table: as lmerTest's anova of the same model with a constant
  mm <- fitted_by(as.formula(paste("y ~ mix", if (length(extra)) paste("+", paste(extra, collapse = "+")), "+", paste0("(1|", r, ")", collapse = " + "))), d)
  a <- anova(mm, ddf = df, type = if (length(extra)) 3 else 1)["mix", ]
  co <- summary(m, ddf = df)$coefficients
  e <- emmeans(mm, "mix", lmer.df = mode); s <- as.data.frame(e); pr <- as.data.frame(pairs(e))
  v <- as.data.frame(VarCorr(m)); val <- setNames(v$vcov, v$grp)
  list(name = name, kind = "panel", df = mode, adjust = adjust, assessorBySession = "assessor:session" %in% random, rows = rows_of(d),
    variance = as.list(setNames(unname(val[c(r, "Residual")]), c(random, "residual"))), logLik = as.numeric(logLik(m)),
    test = list(f = a[["F value"]], numDf = a[["NumDF"]], denDf = a[["DenDF"]], p = a[["Pr(>F)"]]),
    means = data.frame(mix = as.character(s$mix), mean = s$emmean, se = s$SE, df = s$df),
    pairs = data.frame(pair = as.character(pr$contrast), difference = pr$estimate, se = pr$SE, df = pr$df, p = pr$p.value),
    order = if (adjust) data.frame(estimate = co[extra, 1], se = co[extra, 2], df = co[extra, 3], p = co[extra, 5]))
}

scaled_case <- function(name, d) {
  d <- ready(d)
  additive <- lm(y ~ assessor + mix, d)
  lev <- c(0, coef(additive)[paste0("mix", levels(d$mix)[-1])]); d$x <- lev[as.integer(d$mix)]
  full <- lm(y ~ assessor * mix, d); slopes <- lm(y ~ assessor + mix + assessor:x, d); only <- lm(y ~ assessor, d)
  ss <- function(m) sum(resid(m)^2); df <- function(m) df.residual(m)
  parts <- list(mix = c(ss(only) - ss(additive), df(only) - df(additive)), scaling = c(ss(additive) - ss(slopes), df(additive) - df(slopes)),
    left = c(ss(slopes) - ss(full), df(slopes) - df(full)), error = c(ss(full), df(full)))
  f <- function(a, b) { v <- a[1] / a[2] / (b[1] / b[2]); list(f = v, numDf = a[2], denDf = b[2], p = pf(v, a[2], b[2], lower.tail = FALSE)) }
  per <- lapply(levels(d$assessor), function(a) { o <- d[d$assessor == a, ]; w <- lm(y ~ x, o); list(assessor = a, slope = coef(w)[["x"]],
    se = sqrt((1 - 1 / nlevels(d$assessor)) * parts$left[1] / parts$left[2] / sum((o$x - mean(o$x))^2))) })
  list(name = name, kind = "scaled", rows = rows_of(d), mixTest = f(parts$mix, parts$left), scaling = f(parts$scaling, parts$left),
    disagreement = if (parts$error[2] > 0) f(parts$left, parts$error), slopes = per)
}

# --- mixtures: three components, with or without a dose
orthonormal <- function(k) { q <- qr.Q(qr(cbind(1, diag(k))))[, seq_len(k), drop = FALSE]; t(q[, -1, drop = FALSE]) }
ratio_case <- function(name, model, mixes, d, random, settings = NULL, reference = FALSE, at, df = "Satterthwaite", loo = TRUE, exact = TRUE) {
  g <- as.matrix(mixes[, c("a", "b", "c")]); X <- g / rowSums(g)
  terms <- function(S, dose) {
    o <- list(a = S[, 1], b = S[, 2], c = S[, 3])
    if (model != "linear") { o[["a*b"]] <- S[, 1] * S[, 2]; o[["a*c"]] <- S[, 1] * S[, 3]; o[["b*c"]] <- S[, 2] * S[, 3] }
    if (model %in% c("special-cubic", "full-cubic")) o[["a*b*c"]] <- S[, 1] * S[, 2] * S[, 3]
    if (identical(settings, "each")) { for (n in c("a", "b", "c")) o[[paste0("dose*", n)]] <- dose * o[[n]] }
    if (identical(settings, "whole")) o[["dose"]] <- dose
    if (!is.null(settings) && model != "linear") o[["dose*dose"]] <- dose^2
    do.call(cbind, o)
  }
  code <- function(v) v - 2            # dose from 1 to 3
  T <- terms(X, if (is.null(settings)) 0 else code(mixes$dose)); rownames(T) <- mixes$mix
  d <- ready(d); ref <- d$mix == "reference"
  M <- T[match(as.character(d$mix), rownames(T)), , drop = FALSE]; M[ref, ] <- 0
  if (reference) M <- cbind(M, reference = as.numeric(ref))
  if ("assessor:mix" %in% random) d$am <- cells(d$assessor, d$mix)
  short <- c("assessor:mix" = "am"); r <- ifelse(random %in% names(short), short[random], random)
  d$M <- M
  m <- fitted_by(as.formula(paste("y ~ 0 + M +", paste0("(1|", r, ")", collapse = " + "))), d)
  co <- summary(m, ddf = df)$coefficients; p <- ncol(T); P <- ncol(M)
  comps <- which(colnames(T) %in% c("a", "b", "c")); dosed <- which(colnames(T) %in% c("dose*a", "dose*b", "dose*c"))
  prods <- setdiff(which(!grepl("dose", colnames(T))), comps)
  L <- matrix(0, 0, P)
  block <- function(cols) { B <- matrix(0, length(cols) - 1, P); B[, cols] <- orthonormal(length(cols)); B }
  L <- rbind(L, block(comps)); if (length(dosed)) L <- rbind(L, block(dosed))
  for (j in prods) { row <- rep(0, P); row[j] <- 1; L <- rbind(L, row) }
  bl <- contestMD(m, L, ddf = df)
  # lack of fit: mix as a factor, contrasts of the means that vanish for every surface of the model
  mf <- fitted_by(as.formula(paste("y ~ 0 + mix +", paste0("(1|", r, ")", collapse = " + "))), d)
  own <- T[intersect(levels(d$mix), rownames(T)), , drop = FALSE]
  lof <- NULL
  if (nrow(own) > p) {
    q <- qr.Q(qr(own), complete = TRUE)[, (p + 1):nrow(own), drop = FALSE]
    K <- matrix(0, ncol(q), nlevels(d$mix)); K[, match(rownames(own), levels(d$mix))] <- t(q)
    x <- contestMD(mf, K, ddf = df); lof <- list(f = x[["F value"]], numDf = x[["NumDF"]], denDf = x[["DenDF"]], p = x[["Pr(>F)"]])
  }
  v <- as.data.frame(VarCorr(m)); val <- setNames(v$vcov, v$grp); s2 <- val[["Residual"]]
  Z <- lapply(r, function(n) model.matrix(~ 0 + f, data.frame(f = factor(d[[n]])))); names(Z) <- r
  V <- diag(s2, nrow(d)); for (n in r) V <- V + val[[n]] * tcrossprod(Z[[n]])
  means <- fixef(mf)[match(rownames(own), levels(d$mix))]
  out <- list()
  if (loo) {
    miss <- sapply(rownames(own), function(k) { keep <- d$mix != k; W <- solve(V[keep, keep]); B <- M[keep, , drop = FALSE]
      b <- solve(t(B) %*% W %*% B, t(B) %*% W %*% d$y[keep]); means[[which(rownames(own) == k)]] - sum(own[k, ] * b[seq_len(p)]) })
    out <- list(rmse = sqrt(mean(miss^2)), q2 = 1 - sum(miss^2) / sum((means - mean(means))^2))
  }
  # prediction of the panel's own average at new ratios: BLUP of x'b + mean of assessors + sessions as poured + (new) assessor by mix
  W <- solve(V); C <- solve(t(M) %*% W %*% M); b <- C %*% t(M) %*% W %*% d$y; e <- d$y - M %*% b
  S <- as.matrix(at[, c("a", "b", "c")]); F <- cbind(terms(S, if (is.null(settings)) 0 else code(at$dose)), if (reference) 0)
  A <- nlevels(d$assessor)
  w <- list(assessor = rep(1 / A, A)); if ("session" %in% r) w$session <- as.numeric(table(d$session)) / nrow(d)
  # cov(y, u) for u = sum of weighted effects, and its variance
  cu <- rep(0, nrow(d)); vu <- 0
  for (n in names(w)) { cu <- cu + val[[n]] * (Z[[n]] %*% w[[n]]); vu <- vu + val[[n]] * sum(w[[n]]^2) }
  u <- as.numeric(t(cu) %*% W %*% e)
  extra <- if ("am" %in% r) val[["am"]] / A else 0
  pred <- lapply(seq_len(nrow(F)), function(i) { x <- F[i, ]; h <- x - t(M) %*% W %*% cu
    list(mean = sum(x * b) + u, se = sqrt(as.numeric(t(h) %*% C %*% h) + vu - as.numeric(t(cu) %*% W %*% cu) + extra)) })
  res <- resid_fixed <- d$y[!ref] - (M %*% b)[!ref]; yy <- d$y[!ref]
  if (exact && !is.null(lof) && lof$p < 0.5) stop(paste(name, "shows lack of fit by chance: choose another seed", lof$p))
  list(name = name, kind = "ratios", model = model, df = if (df == "Kenward-Roger") "kenward-roger" else "satterthwaite",
    settings = settings, mixes = unname(as.matrix(mixes)), mixColumns = names(mixes), rows = rows_of(d), at = unname(as.matrix(at)), atColumns = names(at),
    variance = as.list(setNames(unname(val[c(r, "Residual")]), c(random, "residual"))), logLik = as.numeric(logLik(m)),
    coefficients = data.frame(term = colnames(T), estimate = co[seq_len(p), 1], se = co[seq_len(p), 2], df = co[seq_len(p), 3], p = co[seq_len(p), 5]),
    reference = if (reference) list(mean = co[P, 1], se = co[P, 2]), blending = list(f = bl[["F value"]], numDf = bl[["NumDF"]], denDf = bl[["DenDF"]], p = bl[["Pr(>F)"]]),
    lackOfFit = lof, leaveOneMixOut = out, rSquared = 1 - sum(res^2) / sum((yy - mean(yy))^2), predictions = if (exact) pred)
}
blends <- function(n, seed, dose = FALSE) {
  set.seed(seed); o <- list()
  while (length(o) < n) { c <- runif(1, .05, .4); a <- runif(1, .1, .8); b <- 1 - a - c; if (b >= .1 && b <= .8) o[[length(o) + 1]] <- round(4 * c(a, b, c), 2) }
  g <- do.call(rbind, o); d <- data.frame(mix = paste0("m", seq_len(n)), round = 1, a = g[, 1], b = g[, 2], c = g[, 3])
  if (dose) d$dose <- rep(c(1, 2, 3, 1.5), length.out = n)
  d
}
surface <- function(m, quad = TRUE, dose = 0) { x <- as.matrix(m[, c("a", "b", "c")]); x <- x / rowSums(x); v <- 30 * x[, 1] + 55 * x[, 2] + 80 * x[, 3]
  if (quad) v <- v + 60 * x[, 1] * x[, 2] - 50 * x[, 2] * x[, 3]; if (!is.null(m$dose)) v <- v + (m$dose - 2) * dose; v }
at <- data.frame(name = c("p1", "p2", "p3"), a = c(.3, .6, .45), b = c(.5, .3, .35), c = c(.2, .1, .2))
atd <- cbind(at, dose = c(2, 1.5, 2.75))
full <- c("assessor", "assessor:mix", "session")
# the first seed from which on no component is estimated as zero (boundary fits are compared elsewhere) and, where
# predictions are compared, the lack of fit is not found
first <- function(make, seed) for (s in seed:(seed + 40)) {
  c <- try(make(s), silent = TRUE)
  if (!inherits(c, "try-error") && all(unlist(c$variance) > 0.01)) { c$seed <- s; return(c) }
}
set.seed(100); lev <- rnorm(8, 50, 8)
cases <- list(
  first(function(s) panel_case("panel gaps", taste(7, 6, 2, 2, 0.75, s, lev[1:6], c(8, 4, 3, 0, 8)), full, "Satterthwaite"), 101),
  first(function(s) panel_case("panel gaps", taste(7, 6, 2, 2, 0.75, s, lev[1:6], c(8, 4, 3, 0, 8)), full, "Kenward-Roger"), 101),
  first(function(s) panel_case("panel three sessions", taste(9, 8, 3, 3, 0.6, s, lev, c(10, 5, 4, 0, 7)), full, "Satterthwaite"), 102),
  first(function(s) panel_case("panel three sessions", taste(9, 8, 3, 3, 0.6, s, lev, c(10, 5, 4, 0, 7)), full, "Kenward-Roger"), 102),
  first(function(s) panel_case("panel once", taste(8, 7, 1, 1, 0.8, s, lev[1:7], c(9, 0, 0, 0, 8)), "assessor", "Satterthwaite"), 103),
  first(function(s) panel_case("panel adjusted", taste(8, 6, 2, 2, 0.85, s, lev[1:6], c(8, 5, 4, 0, 6), carry = -0.2, first = 8), full, "Satterthwaite", adjust = TRUE), 104),
  first(function(s) panel_case("panel adjusted", taste(8, 6, 2, 2, 0.85, s, lev[1:6], c(8, 5, 4, 0, 6), carry = -0.2, first = 8), full, "Kenward-Roger", adjust = TRUE), 104),
  first(function(s) panel_case("panel shifting", taste(8, 7, 3, 3, 0.85, s, lev[1:7], c(8, 5, 4, 5, 6)), c(full, "assessor:session"), "Satterthwaite"), 105),
  scaled_case("scaled balanced", taste(8, 6, 2, 1, 1, 106, lev[1:6], c(8, 4, 0, 0, 6))),
  scaled_case("scaled gaps", taste(9, 7, 2, 1, 0.8, 107, lev[1:7], c(8, 4, 0, 0, 6))),
  first(function(s) ratio_case("quadratic", "quadratic", blends(14, 201), taste(7, 14, 2, 2, 0.8, s, surface(blends(14, 201)), c(8, 4, 3, 0, 7)), full, at = at), 202),
  first(function(s) ratio_case("quadratic", "quadratic", blends(14, 201), taste(7, 14, 2, 2, 0.8, s, surface(blends(14, 201)), c(8, 4, 3, 0, 7)), full, at = at, df = "Kenward-Roger"), 202),
  first(function(s) ratio_case("linear whole dose", "linear", blends(12, 203, TRUE), taste(6, 12, 1, 1, 0.85, s, surface(blends(12, 203, TRUE), FALSE, 6), c(8, 0, 0, 0, 7)), "assessor", settings = "whole", at = atd), 214),
  first(function(s) ratio_case("quadratic each dose", "quadratic", blends(22, 205, TRUE), taste(6, 22, 2, 2, 0.7, s, surface(blends(22, 205, TRUE), TRUE, 6), c(8, 4, 3, 0, 7)), full, settings = "each", at = atd, exact = FALSE), 206),
  first(function(s) ratio_case("special cubic with the reference", "special-cubic", blends(15, 207), taste(6, 15, 2, 3, 0.75, s, surface(blends(15, 207)), c(8, 4, 4, 0, 7), reference = TRUE), full, reference = TRUE, at = at, exact = FALSE), 208)
)
versions <- sapply(c("lme4", "lmerTest", "pbkrtest", "emmeans"), function(p) as.character(packageVersion(p)))
write(toJSON(list(about = "written by fresh-panels.R", r = R.version.string, versions = as.list(versions), cases = cases), auto_unbox = TRUE, digits = NA, null = "null", na = "null", dataframe = "rows"), "fresh-panels.json")
for (c in cases) cat(c$name, if (!is.null(c$lackOfFit)) c$lackOfFit$p, unlist(c$variance), "\n")
