# Writes cumulative-link.json: cumulative link models by the package ordinal (clm; clmm with 15 quadrature nodes and
# tightened control) on its wine data (Randall 1989), whole and thinned, and on ratings simulated here.
# Run with: Rscript cumulative-link.R
suppressPackageStartupMessages({ library(ordinal); library(jsonlite) })
pack <- function(name, d, formula, link, group) {
  X <- model.matrix(formula, d)[, -1, drop = FALSE]
  d$y <- factor(d$y, ordered = TRUE)
  g <- clm(update(formula, y ~ .), data = d, link = link, control = clm.control(gradTol = 1e-10))
  out <- list(name = name, link = link, y = as.integer(as.character(d$y)), x = unname(apply(X, 1, identity, simplify = FALSE)), names = colnames(X),
    assessor = as.integer(factor(d[[group]])) - 1, plain = list(thresholds = unname(g$alpha), estimates = unname(g$beta), se = unname(sqrt(diag(vcov(g)))), logLik = as.numeric(logLik(g))))
  d$group <- factor(d[[group]])
  m <- clmm(update(formula, y ~ . + (1 | group)), data = d, link = link, nAGQ = 15, control = clmm.control(method = "ucminf", gradTol = 1e-8, innerCtrl = "noWarn"))
  out$mixed <- list(thresholds = unname(m$alpha), estimates = unname(m$beta), se = unname(sqrt(diag(vcov(m)))[seq_len(length(m$alpha) + length(m$beta))]), variance = as.numeric(VarCorr(m)$group), logLik = as.numeric(logLik(m)), modes = as.numeric(m$ranef))
  out
}
data(wine); wine$y <- as.integer(as.character(wine$rating))
set.seed(8)
n <- 20; d <- expand.grid(a = 1:n, mix = 1:5); d$s <- (d$mix - 3) / 2; d$t <- ((d$mix * 7) %% 5 - 2) / 2
u <- rnorm(n, 0, 1.2)
latent <- 1.1 * d$s - 0.5 * d$t + u[d$a] + rlogis(nrow(d))
d$y <- cut(latent, c(-Inf, -2, -0.7, 0.5, 2, Inf), labels = FALSE) * 2
write(toJSON(list(about = "written by cumulative-link.R", r = R.version.string, ordinal = as.character(packageVersion("ordinal")), cases = list(
  pack("wine", wine, ~ temp + contact, "logit", "judge"),
  pack("wine probit", wine, ~ temp + contact, "probit", "judge"),
  pack("wine thinned", wine[(seq_len(72) * 31) %% 7 > 1, ], ~ temp * contact, "logit", "judge"),
  pack("simulated", d, ~ s + t, "logit", "a"))), digits = NA, auto_unbox = TRUE), "cumulative-link.json")
