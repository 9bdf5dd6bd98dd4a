# Reference values of R for the intervals and tests of src/statistics, on random inputs. Base R only.
#   Rscript test/statistics/reference/reference.R > test/statistics/reference/reference.txt
# A line with # names a list, each line after it is one case; the columns stand in reference.test.ts.

set.seed(20261125)
number <- function(x) ifelse(is.infinite(x), "Inf", formatC(x, digits = 12, width = 1, format = "g"))
rows <- function(name, table) {
  c(paste("#", name), apply(table, 1, function(row) paste(number(row), collapse = " ")))
}
below <- function(n) sapply(n, function(most) sample(0:most, 1))

# Wilson and Clopper-Pearson limits at three levels.
shares <- function(count) {
  of <- sample(1:400, count, replace = TRUE)
  x <- below(of)
  level <- sample(c(0.9, 0.95, 0.99), count, replace = TRUE)
  t(mapply(function(x, n, level) {
    wilson <- suppressWarnings(prop.test(x, n, conf.level = level, correct = FALSE))$conf.int
    exact <- binom.test(x, n, conf.level = level)$conf.int
    c(x, n, level, wilson, exact)
  }, x, of, level))
}

# Fisher's exact test, two-sided.
fisher <- function(count) {
  n1 <- sample(1:80, count, replace = TRUE)
  n2 <- sample(1:80, count, replace = TRUE)
  x1 <- below(n1)
  x2 <- below(n2)
  t(mapply(function(x1, n1, x2, n2) {
    p <- fisher.test(matrix(c(x1, n1 - x1, x2, n2 - x2), 2))$p.value
    c(x1, n1, x2, n2, p)
  }, x1, n1, x2, n2))
}

# Newcombe's difference from prop.test's limits: method 10 of 1998, 17, 873-890.
difference <- function(count) {
  n1 <- sample(1:120, count, replace = TRUE)
  n2 <- sample(1:120, count, replace = TRUE)
  x1 <- below(n1)
  x2 <- below(n2)
  t(mapply(function(x1, n1, x2, n2) {
    one <- suppressWarnings(prop.test(x1, n1, correct = FALSE))$conf.int
    two <- suppressWarnings(prop.test(x2, n2, correct = FALSE))$conf.int
    d <- x1 / n1 - x2 / n2
    c(x1, n1, x2, n2,
      d - sqrt((x1 / n1 - one[1])^2 + (two[2] - x2 / n2)^2),
      d + sqrt((one[2] - x1 / n1)^2 + (x2 / n2 - two[1])^2))
  }, x1, n1, x2, n2))
}

# Ratio of two rates: poisson.test's limits; p as twice the smaller of its two one-sided ones.
rates <- function(count) {
  x1 <- rpois(count, 12)
  x2 <- rpois(count, 12) + 1
  t1 <- round(runif(count, 0.5, 20), 3)
  t2 <- round(runif(count, 0.5, 20), 3)
  t(mapply(function(x1, x2, t1, t2) {
    limits <- poisson.test(c(x1, x2), c(t1, t2))$conf.int
    less <- poisson.test(c(x1, x2), c(t1, t2), alternative = "less")$p.value
    more <- poisson.test(c(x1, x2), c(t1, t2), alternative = "greater")$p.value
    c(x1, x2, t1, t2, limits, min(1, 2 * min(less, more)))
  }, x1, x2, t1, t2))
}

# Poisson counts and the sign test.
counts <- function(count) {
  x <- rpois(count, runif(count, 0, 40))
  y <- rpois(count, runif(count, 0, 40)) + 1
  t(mapply(function(x, y) c(x, y, poisson.test(x)$conf.int, binom.test(x, x + y)$p.value), x, y))
}

# Runs: how often one kind follows the other, and how often itself, as tails of dhyper's distribution.
orders <- function(count) {
  n1 <- sample(1:60, count, replace = TRUE)
  n2 <- sample(1:60, count, replace = TRUE)
  x <- mapply(function(a, b) sample(0:min(a, b), 1), n1, n2)
  t(mapply(function(x, n1, n2) c(x, n1, n2, phyper(x, n1, n2, n2), phyper(x - 1, n1, n2, n2, lower.tail = FALSE)), x, n1, n2))
}

# t limits of a mean, and a median with the ranks of qbinom.
means <- function(count) {
  t(sapply(1:count, function(i) {
    values <- round(rnorm(12, 3, 2), 4)
    below <- qbinom(0.025, 12, 0.5)
    if (pbinom(below - 1, 12, 0.5) > 0.025) below <- below - 1
    sorted <- sort(values)
    c(values, t.test(values)$conf.int, median(values), sorted[below], sorted[13 - below])
  }))
}

# Holm over eight.
holm <- function(count) {
  t(sapply(1:count, function(i) {
    p <- signif(runif(8)^3, 10)
    c(p, p.adjust(p, "holm"))
  }))
}

writeLines(c(
  rows("shares", shares(1000)),
  rows("fisher", fisher(1000)),
  rows("difference", difference(1000)),
  rows("rates", rates(1000)),
  rows("counts", counts(1000)),
  rows("orders", orders(1000)),
  rows("means", means(200)),
  rows("holm", holm(200))))
