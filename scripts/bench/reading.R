# lme4 on the models of reading.ts: Rscript reading.R DATA.json. For each attribute the mix-as-factor model (and, where
# there are ratios, the quadratic one) is fitted and its Satterthwaite table of mixes made by lmerTest; milliseconds of
# both parts as JSON on standard output. Start-up, reading the file and one warm-up fit are not counted.
suppressPackageStartupMessages({ library(lmerTest); library(jsonlite) })
d <- fromJSON(commandArgs(TRUE)[1])
f <- data.frame(lapply(d$factors, factor))
random <- paste0("(1|", setdiff(names(f), "mix"), ")", collapse = " + ")
x <- as.matrix(d$terms); f$X <- x
control <- lmerControl(calc.derivs = FALSE, check.conv.singular = "ignore")
one <- function(y, fixed) { f$y <- y; lme4::lmer(as.formula(paste(fixed, "+", random)), f, control = control) }
tested <- function(y) { f$y <- y; anova(lmerTest::lmer(as.formula(paste("y ~ mix +", random)), f, control = control)) }
invisible(one(d$scores[1, ], "y ~ mix")); invisible(tested(d$scores[1, ]))
t1 <- system.time(a <- apply(d$scores, 1, function(y) as.numeric(logLik(one(y, "y ~ mix")))))
t2 <- system.time(b <- apply(d$scores, 1, function(y) as.numeric(logLik(one(y, "y ~ 0 + X")))))
t3 <- system.time(for (i in seq_len(min(3, nrow(d$scores)))) tested(d$scores[i, ]))
cat(toJSON(list(mix = 1000 * t1[["elapsed"]], ratios = 1000 * t2[["elapsed"]], tests = 1000 * t3[["elapsed"]] / min(3, nrow(d$scores)) * nrow(d$scores),
  logLik = a, logLikRatios = b), auto_unbox = TRUE, digits = 10))
