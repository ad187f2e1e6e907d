# Writes map.json: principal components by prcomp, correlation with interval by cor.test, equal preference by
# chisq.test and exact intervals by binom.test. Numbers invented here. Run with: Rscript map.R
suppressPackageStartupMessages(library(jsonlite))
set.seed(2)
m <- matrix(round(rnorm(7 * 4, 50, 12) + rep(1:7, 4) * 3, 2), 7)
pack <- function(scale) { p <- prcomp(m, scale. = scale); list(deviations = p$sdev, loadings = unname(p$rotation[, 1:2]), scores = unname(p$x[, 1:2])) }
k <- cor.test(m[, 1], m[, 2])
counts <- c(14, 6, 9, 3)
write(toJSON(list(about = "written by map.R", r = R.version.string, means = m, covariance = pack(FALSE), correlation = pack(TRUE),
  agreement = list(r = unname(k$estimate), interval = as.numeric(k$conf.int), p = k$p.value, slope = unname(coef(lm(m[, 2] ~ m[, 1]))[2])),
  preference = list(counts = counts, statistic = unname(chisq.test(counts)$statistic), p = chisq.test(counts)$p.value,
    intervals = t(sapply(counts, function(c) as.numeric(binom.test(c, sum(counts))$conf.int))), pair = binom.test(14, 20)$p.value)), digits = NA, auto_unbox = TRUE), "map.json")
