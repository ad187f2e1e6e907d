# Writes incomplete.json: Durbin's statistic by its own formula for balanced incomplete blocks (Conover 1999, Practical
# Nonparametric Statistics, section 5.8: seven ice creams, seven tasters, three each; data from memory of the book, the
# formula is what is checked), and Prentice's statistic for unequal blocks by explicit matrices (MASS-free, by eigen).
# Run with: Rscript incomplete.R
suppressPackageStartupMessages(library(jsonlite))
blocks <- list(list(c(1, 2, 4), c(2, 3, 1)), list(c(2, 3, 5), c(3, 1, 2)), list(c(3, 4, 6), c(2, 1, 3)), list(c(4, 5, 7), c(1, 2, 3)),
  list(c(1, 5, 6), c(3, 1, 2)), list(c(2, 6, 7), c(3, 1, 2)), list(c(1, 3, 7), c(3, 1, 2)))
R <- rep(0, 7); for (b in blocks) R[b[[1]]] <- R[b[[1]]] + b[[2]]
t <- 7; k <- 3; r <- 3
durbin <- 12 * (t - 1) / (r * t * (k - 1) * (k + 1)) * sum((R - r * (k + 1) / 2)^2)
uneven <- list(list(c(1, 2, 3, 4), c(1, 2.5, 2.5, 4)), list(c(1, 3), c(1, 2)), list(c(2, 3, 4), c(1, 2, 3)), list(c(1, 2, 4), c(2, 1, 3)), list(c(1, 2, 3, 4), c(2, 1, 3, 4)))
a <- rep(0, 4); V <- matrix(0, 4, 4)
for (b in uneven) { n <- length(b[[1]]); w <- 1 / (n + 1); x <- b[[2]] - (n + 1) / 2; E <- diag(4)[, b[[1]]]
  a <- a + w * E %*% x; V <- V + w^2 * sum(x^2) / (n - 1) * E %*% (diag(n) - 1 / n) %*% t(E) }
e <- eigen(V, symmetric = TRUE); keep <- e$values > 1e-9
prentice <- sum((t(e$vectors[, keep]) %*% a)^2 / e$values[keep])
write(toJSON(list(about = "written by incomplete.R", r = R.version.string,
  balanced = list(blocks = blocks, statistic = durbin, df = t - 1, p = pchisq(durbin, t - 1, lower.tail = FALSE)),
  uneven = list(blocks = uneven, statistic = prentice, df = sum(keep), p = pchisq(prentice, sum(keep), lower.tail = FALSE))),
  digits = NA, auto_unbox = TRUE), "incomplete.json")
