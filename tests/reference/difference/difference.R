# Writes difference.json: exact tests, intervals, d' and its likelihood interval, plans by brute force, beta-binomial
# fits. Psychometric functions are integrated from their definitions. Run with: Rscript difference.R
suppressPackageStartupMessages(library(jsonlite))
tight <- function(f, a, b) integrate(f, a, b, rel.tol = 1e-12, subdivisions = 2000)$value
pc <- list(
  "triangle" = function(d) 2 * tight(function(x) (pnorm(-x * sqrt(3) + d * sqrt(2 / 3)) + pnorm(-x * sqrt(3) - d * sqrt(2 / 3))) * dnorm(x), 0, 12),
  "duo-trio" = function(d) 1 - pnorm(d / sqrt(2)) - pnorm(d / sqrt(6)) + 2 * pnorm(d / sqrt(2)) * pnorm(d / sqrt(6)),
  "tetrad" = function(d) 1 - 2 * tight(function(x) dnorm(x) * (2 * pnorm(x) * pnorm(x - d) - pnorm(x - d)^2), -12, 12),
  "two-afc" = function(d) pnorm(d / sqrt(2)),
  "three-afc" = function(d) tight(function(x) dnorm(x - d) * pnorm(x)^2, -12, d + 12))
chance <- c("triangle" = 1 / 3, "duo-trio" = 1 / 2, "tetrad" = 1 / 3, "two-afc" = 1 / 2, "three-afc" = 1 / 3)
ds <- c(0, 0.05, 0.3, 0.8, 1, 1.5, 2.2, 3, 4.5, 6)
psychometric <- lapply(pc, function(f) sapply(ds, f))

inverse <- function(m, share) if (share <= chance[[m]] + 1e-13) 0 else uniroot(function(d) pc[[m]](d) - share, c(0, 15), tol = 1e-13)$root
readings <- list()
for (m in names(pc)) for (case in list(c(30, 16), c(12, 9), c(50, 22), c(7, 7), c(24, 13), c(200, 120), c(18, 4))) {
  n <- case[1]; x <- case[2]; p0 <- chance[[m]]; share <- x / n
  ci <- if (x == n) c(0.025^(1 / n), 1) else binom.test(x, n)$conf.int
  best <- max(p0, share)
  ll <- function(p) dbinom(x, n, p, log = TRUE)
  over <- function(p) 2 * (ll(best) - ll(p)) - qchisq(0.95, 1)
  low <- if (best == p0 || over(p0) <= 0) p0 else uniroot(over, c(p0, best), tol = 1e-14)$root
  high <- if (x == n) NA else uniroot(over, c(best, 1 - 1e-12), tol = 1e-14)$root
  d <- if (x == n) NA else inverse(m, share)
  slope <- if (is.na(d) || d == 0) NA else { h <- 1e-4; (pc[[m]](d - 2 * h) - 8 * pc[[m]](d - h) + 8 * pc[[m]](d + h) - pc[[m]](d + 2 * h)) / (12 * h) }
  need <- which(pbinom(0:n - 1, n, p0, lower.tail = FALSE) <= 0.05)
  readings[[length(readings) + 1]] <- list(
    method = m, trials = n, correct = x, p = pbinom(x - 1, n, p0, lower.tail = FALSE),
    above = min(1, max(0, (share - p0) / (1 - p0))), interval = pmin(1, pmax(0, (ci - p0) / (1 - p0))),
    dPrime = d, error = if (is.na(slope)) NA else sqrt(share * (1 - share) / n) / slope,
    dPrimeLow = inverse(m, low), dPrimeHigh = if (is.na(high)) NA else inverse(m, high),
    needed = if (length(need)) min(need) - 1 else NA)
}

critical <- function(n, p0, alpha) { k <- which(pbinom(0:n - 1, n, p0, lower.tail = FALSE) <= alpha); if (length(k)) min(k) - 1 else NA }
plan <- function(p0, p1, alpha, power, most) {
  pow <- sapply(1:most, function(n) { k <- critical(n, p0, alpha); if (is.na(k)) 0 else pbinom(k - 1, n, p1, lower.tail = FALSE) })
  held <- max(which(pow < power)) + 1
  list(trials = held, firstTrials = min(which(pow >= power)), needed = critical(held, p0, alpha), power = pow[held])
}
plans <- list()
for (m in names(pc)) for (d in c(1, 1.5, 2.5)) for (s in list(c(0.05, 0.8), c(0.01, 0.9)))
  plans[[length(plans) + 1]] <- c(list(method = m, dPrime = d, alpha = s[1], goal = s[2]), plan(chance[[m]], pc[[m]](d), s[1], s[2], 1200))

people <- c(4, 4, 3, 4, 2, 1, 4, 3, 1, 4, 4, 0)
sizes <- list(rep(4, 12), c(4, 4, 3, 5, 2, 3, 4, 6, 3, 4, 4, 2))
fits <- lapply(sizes, function(n) {
  x <- pmin(people, n)
  ll <- function(t) { m <- plogis(t[1]); r <- plogis(t[2]); a <- m * (1 - r) / r; b <- (1 - m) * (1 - r) / r
    -sum(lchoose(n, x) + lbeta(x + a, n - x + b) - lbeta(a, b)) }
  o <- optim(c(0, 0), ll, control = list(reltol = 1e-16, maxit = 5000)); o <- optim(o$par, ll, method = "BFGS", control = list(reltol = 1e-16))
  profile <- function(m) optimize(function(r) ll(c(qlogis(m), r)), c(-20, 12), tol = 1e-12)$objective - o$value - qchisq(0.95, 1) / 2
  m <- plogis(o$par[1])
  list(trials = n, correct = x, mean = m, correlation = plogis(o$par[2]), logLikelihood = -o$value,
    interval = c(uniroot(profile, c(0.01, m), tol = 1e-12)$root, uniroot(profile, c(m, 0.999), tol = 1e-12)$root))
})
preference <- lapply(list(c(20, 8), c(5, 6), c(30, 30), c(9, 0)), function(v)
  list(first = v[1], second = v[2], p = binom.test(v[1], sum(v))$p.value, interval = as.numeric(binom.test(v[1], sum(v))$conf.int)))
write(toJSON(list(about = "written by difference.R", r = R.version.string, dPrimes = ds, psychometric = psychometric, readings = readings,
  plans = plans, betaBinomial = fits, preference = preference), digits = NA, auto_unbox = TRUE, na = "null"), "difference.json")
