# Writes mixed-models.json: linear mixed models fitted by lme4 with tightened tolerances, tests by lmerTest
# (Satterthwaite) and pbkrtest (Kenward-Roger), estimated means and Tukey pairs by emmeans, log-likelihoods of nested
# models by nlme. Run with: Rscript mixed-models.R
#
# Data: small tables that ship with the R packages lme4 (Penicillin, cake, Pastes, sleepstudy), ordinal (wine),
# nlme via MEMSS (Machines, ergoStool); each table's own help page names its first source. Only the columns used are
# copied, as numbers. The `panel-*` cases are simulated below.
suppressPackageStartupMessages({
  library(lme4); library(lmerTest); library(pbkrtest); library(emmeans); library(nlme); library(jsonlite)
})
emm_options(lmerTest.limit = 1e5, pbkrtest.limit = 1e5)
tight <- lmerControl(
  optimizer = "nloptwrap", calc.derivs = FALSE, check.conv.singular = "ignore", check.nobs.vs.rankZ = "ignore",
  optCtrl = list(algorithm = "NLOPT_LN_BOBYQA", xtol_abs = 1e-12, xtol_rel = 0, ftol_abs = 0, ftol_rel = 1e-15, maxeval = 1e5)
)
fit <- function(formula, data) suppressMessages(lmerTest::lmer(formula, data, REML = TRUE, control = tight))

# A component estimated as zero is dropped, and the reduced model is the reference.
settled <- function(fixed, random, data) {
  zero <- character(0)
  repeat {
    if (length(random) == 0) return(list(model = NULL, zero = zero, random = random))
    m <- fit(as.formula(paste(fixed, "+", paste0("(1|", random, ")", collapse = " + "))), data)
    v <- as.data.frame(VarCorr(m))
    ratio <- setNames(v$vcov / sigma(m)^2, v$grp)[random]
    if (all(ratio > 1e-8)) return(list(model = m, zero = zero, random = random))
    zero <- c(zero, names(which.min(ratio)))
    random <- setdiff(random, names(which.min(ratio)))
  }
}

tests <- function(m, ddf) {
  co <- summary(m, ddf = ddf)$coefficients
  list(estimate = co[, "Estimate"], standardError = co[, "Std. Error"], df = co[, "df"], p = co[, "Pr(>|t|)"])
}
joint <- function(m, columns, ddf) {
  L <- diag(length(fixef(m)))[columns, , drop = FALSE]
  x <- contestMD(m, L, ddf = ddf)
  list(columns = columns - 1, f = x[["F value"]], numDf = x[["NumDF"]], denDf = x[["DenDF"]], p = x[["Pr(>F)"]])
}

case <- function(name, fixed, random, data, y, sets = list(), factor = NULL, source = "simulated here") {
  data <- droplevels(data)
  for (r in random) data[[r]] <- factor(data[[r]])
  s <- settled(fixed, random, data)
  if (is.null(s$model)) stop(paste(name, 'has no variance left'))
  m <- s$model
  X <- model.matrix(m)
  out <- list(
    name = name, source = source, formula = paste(fixed, "+", paste0("(1|", random, ")", collapse = " + ")),
    y = data[[y]], names = colnames(X), fixed = unname(apply(X, 1, identity, simplify = FALSE)),
    random = lapply(random, function(r) list(name = r, count = nlevels(data[[r]]), levels = as.integer(data[[r]]) - 1)),
    zero = s$zero, sigma2 = sigma(m)^2,
    variances = as.list(setNames(as.data.frame(VarCorr(m))$vcov, as.data.frame(VarCorr(m))$grp)[s$random]),
    logRestrictedLikelihood = as.numeric(logLik(m)), covariance = unname(as.matrix(vcov(m))),
    modes = lapply(ranef(m), function(x) x[[1]]),
    satterthwaite = tests(m, "Satterthwaite"), kenwardRoger = tests(m, "Kenward-Roger"),
    joint = lapply(sets, function(cols) list(
      satterthwaite = joint(m, cols, "Satterthwaite"), kenwardRoger = joint(m, cols, "Kenward-Roger")))
  )
  if (!is.null(factor)) out$means <- lapply(c(satterthwaite = "satterthwaite", kenwardRoger = "kenward-roger"), function(mode) {
    e <- suppressMessages(emmeans(m, factor, lmer.df = mode))
    d <- summary(pairs(e, adjust = "tukey")); f <- summary(e)
    list(weights = unname(apply(e@linfct, 1, identity, simplify = FALSE)), labels = as.character(f[[1]]), mean = f$emmean, standardError = f$SE, df = f$df,
         pairs = list(contrast = as.character(d$contrast), difference = d$estimate, standardError = d$SE, df = d$df, p = d$p.value))
  })
  out
}
thin <- function(d, keep, seed) { set.seed(seed); d[sort(sample(nrow(d), round(keep * nrow(d)))), ] }

cases <- list()
add <- function(...) cases[[length(cases) + 1]] <<- case(...)
data(wine, package = "ordinal"); data(Machines, package = "nlme"); data(ergoStool, package = "nlme")
Machines <- as.data.frame(Machines); ergoStool <- as.data.frame(ergoStool)
Machines$Worker <- factor(as.character(Machines$Worker)); ergoStool$Subject <- factor(as.character(ergoStool$Subject))
Machines$cell <- interaction(Machines$Worker, Machines$Machine)
cake$mixing <- interaction(cake$recipe, cake$replicate)
cake$temperature <- factor(as.character(cake$temperature)); cake$recipe <- factor(as.character(cake$recipe))
wine$temp <- factor(as.character(wine$temp)); wine$contact <- factor(as.character(wine$contact))
Pastes$mix <- factor(as.character(Pastes$sample)); sleepstudy$Subject <- factor(as.character(sleepstudy$Subject))

for (part in c(1, 0.7)) {
  tag <- if (part == 1) "" else "-thinned"
  cut <- function(d) if (part == 1) d else thin(d, part, 11)
  add(paste0("penicillin", tag), "diameter ~ 1", c("plate", "sample"), cut(Penicillin), "diameter", source = "lme4::Penicillin")
  add(paste0("cake", tag), "angle ~ recipe*temperature", c("mixing"), cut(cake), "angle", list(2:3, 4:8, 9:18), "temperature", "lme4::cake")
  add(paste0("cake-linear", tag), "angle ~ recipe + temp", c("mixing", "replicate"), cut(cake), "angle", list(2:3, 2:4), "recipe", "lme4::cake")
  add(paste0("pastes", tag), "strength ~ 1", c("mix", "batch"), cut(Pastes), "strength", source = "lme4::Pastes")
  add(paste0("sleepstudy", tag), "Reaction ~ Days", c("Subject"), cut(sleepstudy), "Reaction", list(1:2), source = "lme4::sleepstudy")
  add(paste0("wine", tag), "response ~ temp*contact", c("judge"), cut(wine), "response", list(2:3, 2:4), "temp", "ordinal::wine")
  add(paste0("wine-bottle", tag), "response ~ temp + contact", c("judge", "bottle"), cut(wine), "response", list(2:3), "contact", "ordinal::wine")
  add(paste0("machines", tag), "score ~ Machine", c("Worker", "cell"), cut(Machines), "score", list(2:3), "Machine", "nlme::Machines")
  add(paste0("ergostool", tag), "effort ~ Type", c("Subject"), cut(ergoStool), "effort", list(2:4), "Type", "nlme::ergoStool")
}

# Panels: `sd` = assessor, assessor by mix, session, session by assessor, residual.
panel <- function(assessors, mixes, replicates, sessions, sd, seed, keep = 1) {
  set.seed(seed)
  d <- expand.grid(mix = 1:mixes, assessor = 1:assessors, replicate = 1:replicates)
  d$session <- (d$replicate - 1 + d$mix %/% 5) %% sessions + 1
  d$cell <- interaction(d$assessor, d$mix); d$sitting <- interaction(d$assessor, d$session)
  pick <- function(f, s) rnorm(nlevels(factor(f)), 0, s)[as.integer(factor(f))]
  truth <- rnorm(mixes, 50, 6)
  d$score <- round(truth[d$mix] + pick(d$assessor, sd[1]) + pick(d$cell, sd[2]) + pick(d$session, sd[3]) +
    pick(d$sitting, sd[4]) + rnorm(nrow(d), 0, sd[5]), 2)
  blend <- matrix(rexp(mixes * 3), mixes); blend <- round(blend / rowSums(blend), 3); blend[, 3] <- 1 - blend[, 1] - blend[, 2]
  d$a <- blend[d$mix, 1]; d$b <- blend[d$mix, 2]; d$c <- blend[d$mix, 3]
  d$mix <- factor(d$mix); d$blend <- factor(as.integer(d$mix))
  if (keep < 1) d <- d[sort(sample(nrow(d), round(keep * nrow(d)))), ]
  d
}
three <- c("assessor", "cell", "session")
add("panel-small", "score ~ mix", three, panel(6, 6, 2, 2, c(8, 4, 3, 0, 8), 1), "score", list(2:6), "mix")
add("panel-gaps", "score ~ mix", three, panel(8, 8, 3, 3, c(8, 5, 3, 0, 6), 2, 0.6), "score", list(2:8), "mix")
add("panel-no-cell", "score ~ mix", three, panel(6, 7, 2, 2, c(8, 0, 3, 0, 8), 3), "score", list(2:7), "mix")
add("panel-two-zero", "score ~ mix", three, panel(5, 6, 2, 3, c(8, 0, 0, 0, 8), 5, 0.85), "score", list(2:6), "mix")
add("panel-sittings", "score ~ mix", c(three, "sitting"), panel(9, 8, 3, 3, c(8, 4, 3, 3, 6), 6, 0.8), "score", list(2:8), "mix")
add("panel-few", "score ~ mix", c("assessor"), panel(4, 5, 1, 1, c(15, 0, 0, 0, 8), 7), "score", list(2:5), "mix")
add("panel-quadratic", "score ~ 0 + a + b + c + a:b + a:c + b:c", three, panel(8, 10, 2, 2, c(8, 4, 3, 0, 8), 8), "score", list(4:6))
add("panel-cubic", "score ~ 0 + a + b + c + a:b + a:c + b:c + a:b:c", c("assessor", "cell"), panel(6, 9, 2, 1, c(8, 4, 0, 0, 6), 9, 0.7), "score", list(4:7))
add("panel-blend", "score ~ 0 + a + b + c", c("assessor", "blend", "cell"), panel(7, 9, 2, 1, c(8, 4, 0, 0, 6), 10, 0.8), "score", list(1:3))
add("panel-steady", "score ~ mix", three, panel(6, 6, 3, 2, c(20, 5, 6, 0, 0.5), 12), "score", list(2:6), "mix")
add("panel-wide", "score ~ mix", three, panel(30, 8, 2, 2, c(8, 4, 3, 0, 8), 13, 0.8), "score", list(2:8), "mix")

nested <- list(
  pastes = as.numeric(logLik(lme(strength ~ 1, random = ~ 1 | batch / cask, data = as.data.frame(Pastes), control = lmeControl(tolerance = 1e-12, msTol = 1e-12)))),
  machines = as.numeric(logLik(lme(score ~ Machine, random = ~ 1 | Worker / Machine, data = Machines, control = lmeControl(tolerance = 1e-12, msTol = 1e-12)))),
  ergostool = as.numeric(logLik(lme(effort ~ Type, random = ~ 1 | Subject, data = ergoStool, control = lmeControl(tolerance = 1e-12, msTol = 1e-12)))),
  sleepstudy = as.numeric(logLik(lme(Reaction ~ Days, random = ~ 1 | Subject, data = sleepstudy, control = lmeControl(tolerance = 1e-12, msTol = 1e-12))))
)
versions <- sapply(c("lme4", "lmerTest", "pbkrtest", "emmeans", "nlme", "ordinal"), function(p) as.character(packageVersion(p)))
write(toJSON(list(about = "written by mixed-models.R", r = R.version.string, versions = as.list(versions), cases = cases, nlmeLogRestrictedLikelihood = nested),
  auto_unbox = TRUE, digits = NA, null = "null", na = "null"), "mixed-models.json")
for (c in cases) cat(c$name, length(c$y), length(c$names), "zero:", c$zero, "\n")
