# The age of bottles at tasting as a covariate beside mix, on panels made here from whole-number formulas (no random
# draws, so that the test makes the same ones). Run with: Rscript age-at-tasting.R  (writes age-at-tasting.json)
suppressMessages({library(lme4); library(lmerTest); library(jsonlite)})
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                     check.conv.singular = "ignore")
# hours[mix, session]; NA: not poured there; 0: does not age (the reference, mix 5).
panels <- list(
  again = rbind(c(24, 200, NA), c(24, NA, 400), c(NA, 24, 200), c(NA, 30, 60), c(0, 0, 0)),
  fresh = rbind(c(20, 100, 300), c(70, 150, 350), c(NA, 24, 224), c(NA, NA, 26), c(NA, NA, NA)))
noise <- function(a, m, s) ((17 * a + 29 * m + 13 * s + 7 * a * m + 3 * a * s + 11 * m * s) %% 23) - 11
one <- function(name, slope) {
  h <- panels[[name]]; rows <- list()
  for (a in 1:6) for (m in 1:5) for (s in 1:3) if (!is.na(h[m, s]))
    rows[[length(rows) + 1]] <- data.frame(a = a, m = m, s = s, hours = h[m, s], y = 50 + 4 * m + 2 * a + 3 * ((s * s) %% 3) +
      slope * (if (h[m, s] > 0) log2(h[m, s]) else 0) + 0.6 * noise(a, m, s))
  d <- do.call(rbind, rows)
  l <- ifelse(d$hours > 0, log2(pmax(1, d$hours)), NA); l[is.na(l)] <- mean(l, na.rm = TRUE); d$age <- l - mean(l)
  for (f in c("m", "a", "s")) d[[f]] <- factor(d[[f]])
  fit <- lmer(y ~ 0 + m + age + (1 | a) + (1 | a:m) + (1 | s), d, REML = TRUE, control = tight)
  # A variance found as zero is dropped first, as the program does.
  v <- as.data.frame(VarCorr(fit)); gone <- v$grp[v$vcov < 1e-7 * v$vcov[v$grp == "Residual"]]
  left <- setdiff(c("a", "a:m", "s"), gone)
  fit <- lmer(as.formula(paste("y ~ 0 + m + age +", paste0("(1 | ", left, ")", collapse = " + "))), d, REML = TRUE, control = tight)
  e <- coef(summary(fit))
  list(panel = name, slope = slope, estimate = e["age", "Estimate"], se = e["age", "Std. Error"], df = e["age", "df"],
       p = e["age", "Pr(>|t|)"], means = unname(e[grep("^m", rownames(e)), "Estimate"]))
}
write(toJSON(list(r = R.version.string, lme4 = as.character(packageVersion("lme4")),
                  lmerTest = as.character(packageVersion("lmerTest")),
                  cases = list(one("again", 0), one("again", 3), one("fresh", 2))), digits = NA, auto_unbox = TRUE),
      "age-at-tasting.json")
