# Writes steps.json: the wine data (Randall 1989) of the package ordinal with the eight bottles as mixes: cumulative
# logit model with random judges (clmm, 15 quadrature nodes, tightened control), places of bottles about their mean, and the
# likelihood ratio test against the model without bottles. Run with: Rscript steps.R
suppressPackageStartupMessages({ library(ordinal); library(jsonlite) })
data(wine)
control <- clmm.control(method = "ucminf", gradTol = 1e-8, innerCtrl = "noWarn")
full <- clmm(rating ~ bottle + (1 | judge), data = wine, nAGQ = 15, control = control)
none <- clmm(rating ~ 1 + (1 | judge), data = wine, nAGQ = 15, control = control)
k <- nlevels(wine$bottle)
b <- c(0, full$beta)
V <- vcov(full)[names(full$beta), names(full$beta)]
L <- rbind(0, diag(k - 1)) - matrix(1 / k, k, k - 1)
write(toJSON(list(about = "written by steps.R", r = R.version.string, ordinal = as.character(packageVersion("ordinal")),
  rows = data.frame(judge = as.integer(wine$judge), bottle = as.integer(wine$bottle), rating = as.integer(as.character(wine$rating))),
  chiSquare = 2 * as.numeric(logLik(full) - logLik(none)), df = k - 1,
  p = pchisq(2 * as.numeric(logLik(full) - logLik(none)), k - 1, lower.tail = FALSE),
  variance = as.numeric(VarCorr(full)$judge), places = unname(b - mean(b)), errors = unname(sqrt(diag(L %*% V %*% t(L))))),
  digits = NA, auto_unbox = TRUE), "steps.json")
