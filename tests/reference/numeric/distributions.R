# Writes distributions.json: tails and quantiles over the range used, far tails included. Run with: Rscript distributions.R
suppressPackageStartupMessages(library(jsonlite))
grid <- function(.kernel, ...) { g <- expand.grid(list(...), KEEP.OUT.ATTRS = FALSE); g$value <- do.call(.kernel, unname(as.list(g))); as.list(g) }
dfs <- c(1, 1.7, 3, 5, 8.4, 20, 77.7, 200, 1500, 1e5)
ps <- c(1e-12, 1e-6, 0.001, 0.025, 0.1, 0.3, 0.5, 0.6, 0.9, 0.975, 0.999)
out <- list(
  normalUpper = grid(function(x) pnorm(x, lower.tail = FALSE), x = c(-8, -3, -1, -1e-5, 0, 0.3, 1.96, 5, 10, 20, 37)),
  normalQuantile = grid(qnorm, p = c(1e-100, 1e-20, ps)),
  studentUpper = grid(function(t, df) pt(t, df, lower.tail = FALSE), t = c(-4, -0.7, 0, 1e-3, 0.5, 2, 5, 10, 40), df = dfs),
  studentQuantile = grid(qt, p = ps, df = dfs),
  fisherUpper = grid(function(f, a, b) pf(f, a, b, lower.tail = FALSE), f = c(0.01, 0.5, 1, 3, 12, 50, 500), a = c(1, 3, 9.5, 40), b = dfs),
  # with one numerator degree of freedom by Student's t: qf itself strays by up to 3e-6 there
  fisherQuantile = grid(function(p, a, b) ifelse(a == 1, qt((1 + p) / 2, b)^2, qf(p, a, b)), p = c(0.001, 0.05, 0.5, 0.95, 0.999), a = c(1, 3, 9.5, 40), b = dfs),
  chiSquareUpper = grid(function(x, df) pchisq(x, df, lower.tail = FALSE), x = c(0.01, 0.5, 3, 12, 40, 100, 400), df = c(0.5, 1, 3, 9.5, 40, 300)),
  chiSquareQuantile = grid(qchisq, p = c(1e-6, 0.001, 0.05, 0.5, 0.95, 0.999), df = c(0.5, 1, 3, 9.5, 40, 300)),
  betaCdf = grid(pbeta, x = c(0.001, 0.05, 0.2, 0.5, 0.8, 0.99), a = c(0.5, 1, 3, 20, 200), b = c(0.5, 1, 7, 47, 500)),
  betaQuantile = grid(qbeta, p = c(1e-4, 0.025, 0.5, 0.975, 0.9999), a = c(0.5, 1, 3, 20, 200), b = c(0.5, 1, 7, 47, 500)),
  binomialUpper = grid(function(k, n, p) pbinom(k - 1, n, p, lower.tail = FALSE), k = c(0, 1, 3, 7, 12, 60, 190), n = c(6, 12, 30, 200), p = c(0.02, 1 / 3, 0.5, 0.97)),
  binomialCdf = grid(pbinom, k = c(0, 1, 3, 7, 12, 60, 190), n = c(6, 12, 30, 200), p = c(0.02, 1 / 3, 0.5, 0.97)),
  binomialMass = grid(dbinom, k = c(0, 1, 3, 7, 12, 60, 190), n = c(6, 12, 30, 200), p = c(0.02, 1 / 3, 0.5, 0.97)))
write(toJSON(c(list(about = "written by distributions.R", r = R.version.string), out), digits = NA, auto_unbox = TRUE), "distributions.json")
