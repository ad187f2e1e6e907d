# Mix as a fixed factor with random assessors, assessors by mix and sessions: variances, likelihood, tests, means and
# all pairs, on full and on gapped panels. Run with: Rscript panel-readings.R  (writes panel-readings.json)
suppressMessages({library(lmerTest); library(emmeans); library(jsonlite)})
here <- "."
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                     check.conv.singular = "ignore", calc.derivs = TRUE)
read <- function(file) {
  d <- fromJSON(file.path(here, file)); rows <- as.data.frame(d$rows, stringsAsFactors = FALSE)
  names(rows) <- d$columns; rows
}
cream <- read("cream-cheese-two.json")
for (v in c("creamSmell", "creaminess")) cream[[v]] <- as.numeric(cream[[v]])
loop <- read("../model/flavour-loop.json")
loop$mix <- paste0("v", loop$variant); loop$session <- loop$replicate
gap <- function(d, by, at) d[(seq_len(nrow(d)) - 1) %% by != at, ]
parts <- list(plain = "(1|assessor) + (1|assessor:mix)", session = "(1|assessor) + (1|assessor:mix) + (1|session)",
              alone = "(1|assessor)")
one <- function(name, data, y, random, df) {
  data$y <- as.numeric(data[[y]]); data$mix <- factor(data$mix, levels = sort(unique(data$mix)))
  for (f in c("assessor", "session")) data[[f]] <- factor(data[[f]])
  m <- lmer(as.formula(paste("y ~ mix +", parts[[random]])), data, REML = TRUE, control = tight)
  a <- anova(m, ddf = df)
  mode <- if (df == "Kenward-Roger") "kenward-roger" else "satterthwaite"
  e <- emmeans(m, "mix", lmer.df = mode, lmerTest.limit = 1e5, pbkrtest.limit = 1e5)
  s <- as.data.frame(e); p <- as.data.frame(pairs(e))
  v <- as.data.frame(VarCorr(m))
  list(name = name, data = sub(" .*", "", name), attribute = y, random = random, df = mode,
       variance = setNames(as.list(v$vcov), v$grp), logLik = as.numeric(logLik(m)),
       test = list(f = a[1, "F value"], numDf = a[1, "NumDF"], denDf = a[1, "DenDF"], p = a[1, "Pr(>F)"]),
       means = data.frame(mix = as.character(s$mix), mean = s$emmean, se = s$SE, df = s$df),
       pairs = data.frame(pair = as.character(p$contrast), difference = p$estimate, se = p$SE, df = p$df, p = p$p.value))
}
cases <- list(
  one("cream full", cream, "creamSmell", "plain", "Satterthwaite"),
  one("cream full", cream, "creaminess", "plain", "Satterthwaite"),
  one("cream session", cream, "creaminess", "session", "Satterthwaite"),
  one("cream gaps7.3", gap(cream, 7, 3), "creaminess", "session", "Satterthwaite"),
  one("cream gaps7.3", gap(cream, 7, 3), "creaminess", "session", "Kenward-Roger"),
  one("loop full", loop, "citrus", "session", "Satterthwaite"),
  one("loop gaps5.2", gap(loop, 5, 2), "floral", "session", "Satterthwaite"),
  one("loop first", subset(loop, replicate == 1), "green", "alone", "Satterthwaite")
)

own <- lapply(split(loop, loop$assessor), function(d) {
  a <- anova(lm(as.numeric(cooked) ~ mix, d))
  list(assessor = d$assessor[1], f = a[1, "F value"], p = a[1, "Pr(>F)"], rms = sqrt(a[2, "Mean Sq"]))
})
versions <- list(R = R.version.string, lme4 = as.character(packageVersion("lme4")),
  lmerTest = as.character(packageVersion("lmerTest")), emmeans = as.character(packageVersion("emmeans")),
  pbkrtest = as.character(packageVersion("pbkrtest")))
write(toJSON(list(versions = versions, cases = cases, own = unname(own)), digits = NA, auto_unbox = TRUE, dataframe = "rows"),
      file.path(here, "panel-readings.json"))
