# Reference values for src/statistics/pooled.ts, on random inputs: R 4.2.2 with metafor 3.8-1 and survey 4.1-1.
#   Rscript test/statistics/reference/pooled.R > test/statistics/reference/pooled.txt
# A line with # names a list, each line after it is one case; the columns stand in pooled.test.ts.

suppressPackageStartupMessages({ library(metafor); library(survey) })
set.seed(20261125)
number <- function(x) formatC(x, digits = 12, width = 1, format = "g")
name <- function(text) cat("#", text, "\n")
line <- function(...) cat(number(c(...)), "\n")

# Random effects: Paule-Mandel, Hartung-Knapp with its factor at least 1.
name("means")
for (i in 1:150) {
  k <- sample(2:12, 1)
  v <- round(runif(k, 0.002, 0.2), 5)
  y <- round(rnorm(k, 0.1, sqrt(v + sample(c(0, 0.02, 0.2), 1))), 5)
  fit <- rma(y, v, method = "PM", test = "adhoc", control = list(tol = 1e-13, maxiter = 10000))
  line(k, y, v, coef(fit), fit$se, sqrt(fit$tau2), fit$ci.lb, fit$ci.ub, fit$pval)
}

# Shares of clusters: survey's Korn-Graubard limits, asked for the uncapped number of observations.
name("shares")
done <- 0
while (done < 150) {
  k <- sample(2:12, 1)
  of <- sample(1:30, k, replace = TRUE)
  x <- rbinom(k, of, rbeta(k, 4, 6))
  if (sum(x) == 0 || sum(x) == sum(of)) next
  frame <- data.frame(bout = rep(1:k, of), hit = unlist(mapply(function(x, n) rep(c(1, 0), c(x, n - x)), x, of, SIMPLIFY = FALSE)))
  design <- svydesign(ids = ~bout, weights = ~1, data = frame)
  mean <- svymean(~hit, design)
  if (vcov(mean) == 0) next
  effective <- coef(mean) * (1 - coef(mean)) / vcov(mean) * (qt(0.025, nrow(frame) - 1) / qt(0.025, degf(design)))^2
  # svyciprop knows no cap, so it is asked only where the scatter leaves fewer than were counted.
  if (effective > nrow(frame)) next
  limits <- attr(svyciprop(~hit, design, method = "beta"), "ci")
  line(k, x, of, limits)
  done <- done + 1
}

# Beta-binomial by moments: mean squares from R's own analysis of variance.
name("spread")
for (i in 1:100) {
  k <- sample(2:12, 1)
  of <- sample(2:30, k, replace = TRUE)
  x <- rbinom(k, of, rbeta(k, 3, 4))
  frame <- data.frame(bout = factor(rep(1:k, of)), hit = unlist(mapply(function(x, n) rep(c(1, 0), c(x, n - x)), x, of, SIMPLIFY = FALSE)))
  squares <- suppressWarnings(anova(lm(hit ~ bout, frame)))[["Mean Sq"]]
  size <- (sum(of) - sum(of^2) / sum(of)) / (k - 1)
  rho <- (squares[1] - squares[2]) / (squares[1] + (size - 1) * squares[2])
  if (is.nan(rho)) rho <- 0
  p <- sum(x) / sum(of)
  line(k, x, of, sqrt(min(1, max(0, rho)) * p * (1 - p)))
}

# One slope, a level for each group: lm with weights.
name("slopes")
for (i in 1:100) {
  k <- sample(8:16, 1)
  g <- sample(1:3, k, replace = TRUE)
  x <- round(runif(k, 0, 3), 3)
  y <- round(0.2 * x + g + rnorm(k), 4)
  w <- sample(5:40, k, replace = TRUE)
  fit <- lm(y ~ x + factor(g), weights = w)
  line(k, x, y, w, g, coef(fit)["x"], confint(fit)["x", ], summary(fit)$coefficients["x", 4])
}
