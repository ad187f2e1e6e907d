# Cheapest blends from leftovers by trying every set of bottles and fresh components that could be used, each a plain
# linear program for boot::simplex (package boot), so that no integer program is solved. Writes leftovers.json.
suppressMessages({library(boot); library(jsonlite)})
set.seed(20)

cheapest <- function(case) {
  n <- length(case$leftovers); q <- length(case$wanted)
  shares <- t(sapply(case$leftovers, function(l) l$shares))
  limit <- c(pmin(sapply(case$leftovers, function(l) l$grams), sum(case$wanted)), case$wanted)
  least <- pmin(c(rep(case$leastPour, n), case$leastFresh), limit)
  A <- cbind(t(shares), diag(q)); cost <- c(rep(0, n), case$prices)
  best <- Inf
  for (pattern in 1:(2^(n + q) - 1)) {
    used <- which(bitwAnd(pattern, 2^(0:(n + q - 1))) > 0)
    rest <- case$wanted - A[, used, drop = FALSE] %*% least[used]
    if (any(rest < -1e-12)) next
    rest <- pmax(rest, 0)
    room <- limit[used] - least[used]
    B <- A[, used, drop = FALSE]
    keep <- rowSums(abs(B)) > 0
    if (any(rest[!keep] > 1e-9)) next
    found <- try(suppressWarnings(simplex(a = cost[used] + 1e-12, A1 = diag(length(used)), b1 = room,
      A3 = B[keep, , drop = FALSE], b3 = rest[keep])), silent = TRUE)
    if (inherits(found, "try-error") || found$solved != 1) next
    x <- found$soln + least[used]
    if (max(abs(A[, used, drop = FALSE] %*% x - case$wanted)) > 1e-7) next
    best <- min(best, sum(cost[used] * x) + case$weighing * length(used))
  }
  best
}

draw <- function(i) {
  q <- 3; n <- 3
  simplexPoint <- function() { e <- rexp(q); round(e / sum(e), 3) }
  close <- function(p) { p[q] <- round(1 - sum(p[-q]), 3); p }
  leftovers <- lapply(1:n, function(j) list(blend = paste0("m", j), grams = round(runif(1, 0.5, 4), 2),
    shares = close(simplexPoint())))
  list(leftovers = leftovers, wanted = round(4 * close(simplexPoint()), 3), prices = round(runif(q, 0.1, 2), 2),
    weighing = round(runif(1, 0, 0.2), 3), leastPour = 0.2, leastFresh = rep(0.05, q))
}

cases <- lapply(1:14, function(i) { case <- draw(i); case$cost <- cheapest(case); case })
out <- list(made = paste("leftovers.R,", R.version.string, "boot", as.character(packageVersion("boot"))),
  cases = Filter(function(case) is.finite(case$cost), cases))
cat(toJSON(out, digits = 12, auto_unbox = TRUE, pretty = 1), file = "leftovers.json")
cat(length(out$cases), "cases\n"); print(sapply(out$cases, function(c) c$cost))
