# Writes choices.json: paired comparisons by R's glm (the logistic form of Bradley and Terry's model), Welch's interval
# by t.test, exact McNemar by binom.test. Counts invented here. Run with: Rscript choices.R
suppressPackageStartupMessages(library(jsonlite))
set.seed(3)
pairs <- t(combn(5, 2)); s <- c(0, 0.4, -0.6, 1, 0.2)
wins <- rbinom(nrow(pairs), 15, plogis(s[pairs[, 1]] - s[pairs[, 2]]))
X <- sapply(2:5, function(j) (pairs[, 1] == j) - (pairs[, 2] == j))
g <- glm(cbind(wins, 15 - wins) ~ 0 + X, family = binomial, control = glm.control(epsilon = 1e-14, maxit = 100))
w <- c(1, -1, 0.5, 0, 0.3); x <- w[pairs[, 1]] - w[pairs[, 2]]
h <- glm(cbind(wins, 15 - wins) ~ 0 + x, family = binomial, control = glm.control(epsilon = 1e-14, maxit = 100))
right <- c(7, 8, 6, 9, 7, 8); weak <- c(5, 6, 4, 7)
write(toJSON(list(about = "written by choices.R", r = R.version.string,
  paired = list(a = pairs[, 1] - 1, b = pairs[, 2] - 1, winsA = wins, trials = 15, estimates = unname(coef(g)), covariance = unname(vcov(g)), deviance = deviance(g), df = df.residual(g)),
  slope = list(design = w, estimate = unname(coef(h)), standardError = sqrt(vcov(h)[1]), deviance = deviance(h), df = df.residual(h)),
  welch = list(right = right, weak = weak, interval = as.numeric(t.test(right, weak)$conf.int)),
  mcnemar = list(onlyA = 9, onlyB = 2, p = binom.test(9, 11)$p.value)), digits = NA, auto_unbox = TRUE), "choices.json")
