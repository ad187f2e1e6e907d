# Restricted likelihood ratio of the variance of assessor by session, on the panels of panel-readings.R as they are and with
# a shift of each assessor in each session added. Run with: Rscript session-shifts.R  (writes session-shifts.json)
suppressMessages({library(lme4); library(jsonlite)})
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                     check.conv.singular = "ignore", calc.derivs = TRUE)
read <- function(file) {
  d <- fromJSON(file); rows <- as.data.frame(d$rows, stringsAsFactors = FALSE)
  names(rows) <- d$columns; rows
}
cream <- read("cream-cheese-two.json")
loop <- read("../model/flavour-loop.json")
loop$mix <- paste0("v", loop$variant); loop$session <- loop$replicate
one <- function(data, y, add) {
  d <- if (data == "cream") cream else loop
  a <- as.integer(d$assessor); s <- as.integer(d$session)
  d$y <- as.numeric(d[[y]]) + add * (((7 * a + 5 * s + a * s) %% 5) - 2)
  for (f in c("mix", "assessor", "session")) d[[f]] <- factor(d[[f]])
  f <- y ~ mix + (1 | assessor) + (1 | assessor:mix) + (1 | session)
  l0 <- lmer(f, d, REML = TRUE, control = tight)
  l1 <- lmer(update(f, . ~ . + (1 | assessor:session)), d, REML = TRUE, control = tight)
  v <- as.data.frame(VarCorr(l1)); lr <- max(0, 2 * as.numeric(logLik(l1) - logLik(l0)))
  list(data = data, attribute = y, add = add, variance = v$vcov[v$grp == "assessor:session"],
       residual = v$vcov[v$grp == "Residual"], statistic = lr, p = if (lr > 1e-8) pchisq(lr, 1, lower.tail = FALSE) / 2 else 1)
}
cases <- list(one("cream", "creamSmell", 0), one("cream", "creaminess", 0), one("cream", "creaminess", 0.6),
  one("cream", "creamSmell", 0.4), one("loop", "citrus", 0), one("loop", "floral", 0), one("loop", "floral", 2),
  one("loop", "citrus", 4))
write(toJSON(list(r = R.version.string, lme4 = as.character(packageVersion("lme4")), cases = cases), digits = NA,
             auto_unbox = TRUE), "session-shifts.json")
