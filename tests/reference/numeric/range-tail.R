# Writes range-tail.json: upper tails of the studentized range by R's ptukey. Run with: Rscript range-tail.R
suppressPackageStartupMessages(library(jsonlite))
g <- expand.grid(q = c(0.5, 1, 2, 3, 4, 5, 7), k = c(2, 3, 5, 12, 15, 30), df = c(3, 4.5, 8, 20, 77.7, 500, 20000))
g$p <- ptukey(g$q, g$k, g$df, lower.tail = FALSE)
write(toJSON(list(about = "written by range-tail.R", r = R.version.string, q = g$q, k = g$k, df = g$df, p = g$p), digits = NA, auto_unbox = TRUE), "range-tail.json")
