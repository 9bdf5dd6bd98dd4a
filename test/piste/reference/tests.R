# Makes tests.json: exact sign, t and permutation tests of slides as a bout gives them, by base R, to compare ours with.
# Run: Rscript tests.R > tests.json  (made with R 4.2.2)
set.seed(11)
number <- function(x) formatC(x, digits = 17, format = "g")
list_of <- function(x) paste0("[", paste(number(x), collapse = ", "), "]")
cases <- character(0)
for (k in 1:12) {
  n1 <- sample(2:7, 1)
  n2 <- sample(2:7, 1)
  along <- round(c(rnorm(n1, 0.025, 0.02), rnorm(n2, 0.005, 0.02)), 4)
  phrases <- sample(1:3, n1 + n2, replace = TRUE)
  n <- n1 + n2
  rate <- function(chosen) sum(along[chosen]) / sum(phrases[chosen])
  seen <- abs(rate(1:n1) - rate((n1 + 1):n))
  every <- combn(n, n1)
  differences <- apply(every, 2, function(chosen) abs(rate(chosen) - rate(setdiff(1:n, chosen))))
  p <- mean(differences >= seen - 1e-12)
  right <- sum(along > 0)
  left <- sum(along < 0)
  sign <- binom.test(right, right + left)$p.value
  # A ratio through the origin by weighted least squares has R = sum(along) / sum(phrases) where variances grow with phrases.
  fit <- lm(along ~ 0 + phrases, weights = 1 / phrases)
  R <- unname(coef(fit))
  half <- qt(0.975, n - 1) * sqrt(n / (n - 1) * sum((along - R * phrases)^2)) / sum(phrases)
  cases <- c(cases, sprintf(
    '  { "along": %s, "phrases": %s, "first": %d, "permutation": %s, "sign": %s, "value": %s, "low": %s, "high": %s }',
    list_of(along), list_of(phrases), n1, number(p), number(sign), number(R), number(R - half), number(R + half)))
}
cat('{ "r": "', R.version.string, '", "cases": [\n', paste(cases, collapse = ",\n"), "\n] }\n", sep = "")
