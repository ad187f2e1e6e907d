# Times lme4 on the models of mixed.ts: Rscript mixed.R DATA.json, one time in milliseconds a fit and the log
# restricted likelihoods as JSON on standard output. Start-up and reading are not counted.
suppressPackageStartupMessages({ library(lme4); library(jsonlite) })
d <- fromJSON(commandArgs(TRUE)[1])
f <- data.frame(lapply(d$factors, factor))
random <- setdiff(names(f), "mix")
form <- as.formula(paste("y ~ mix +", paste0("(1|", random, ")", collapse = "+")))
control <- lmerControl(calc.derivs = FALSE, check.conv.singular = "ignore")
f$y <- d$scores[1, ]
invisible(lmer(form, f, control = control))
time <- system.time(fits <- apply(d$scores, 1, function(y) { f$y <- y; as.numeric(logLik(lmer(form, f, control = control))) }))
cat(toJSON(list(milliseconds = 1000 * time[["elapsed"]] / nrow(d$scores), logLik = fits), auto_unbox = TRUE, digits = 10))
