// Published values and values computed with other programs for differences, exact tests, the order of events and
// agreement; each list names its source.

/** Newcombe, Statistics in Medicine 17 (1998) 873-890, Table II, method 10, to four decimals: 56/70 with 48/80 and so on.
 * 7/34 with 1/34, to two digits: Fagerland, Lydersen and Laake, Statistical Methods in Medical Research 24 (2015)
 * 224-254. */
export const newcombeDifferences = [
  { first: [56, 70], second: [48, 80], low: 0.0524, high: 0.3339, digits: [4, 4] },
  { first: [9, 10], second: [3, 10], low: 0.1705, high: 0.809, digits: [4, 4] },
  { first: [10, 10], second: [0, 10], low: 0.6075, high: 1, digits: [4, 4] },
  { first: [7, 34], second: [1, 34], low: 0.019, high: 0.34, digits: [3, 2] },
] as const;

/** R 4.2.2; the difference agrees with Epi 2.47's ci.pd to 1e-14. */
export const differenceValues = [
  {
    first: [56, 70],
    second: [48, 80],
    limits: [0.052431472402365, 0.333872654036906],
    fisher: 0.0125211297492092,
  },
  {
    first: [6, 7],
    second: [2, 7],
    limits: [0.0582279274823124, 0.806249637524228],
    fisher: 0.102564102564103,
  },
  { first: [0, 10], second: [0, 20], limits: [-0.161125158052819, 0.277532799862889], fisher: 1 },
  { first: [0, 10], second: [0, 10], limits: [-0.277532799862889, 0.277532799862889], fisher: 1 },
  { first: [10, 10], second: [0, 20], limits: [0.679086037141915, 1], fisher: 3.32833916042312e-8 },
  { first: [10, 10], second: [0, 10], limits: [0.607509350430524, 1], fisher: 1.0825088224469e-5 },
  {
    first: [7, 34],
    second: [1, 34],
    limits: [0.018921443885773, 0.340368687032707],
    fisher: 0.0544001304950657,
  },
  { first: [1, 1], second: [0, 1], limits: [-0.122108720681942, 1], fisher: 1 },
] as const;

/** Newcombe, Statistics in Medicine 17 (1998) 2635-2650, method 10, to four decimals. */
export const pairedPublished = [
  { pairs: [36, 12, 2, 0], low: 0.0569, high: 0.3404 },
  { pairs: [18, 12, 2, 18], low: 0.0562, high: 0.329 },
  { pairs: [53, 0, 0, 1], low: -0.0729, high: 0.0729 },
  { pairs: [0, 30, 0, 0], low: 0.8395, high: 1 },
] as const;
/** The same method, computed in R 4.2.2. */
export const pairedValues = [
  { pairs: [36, 12, 2, 0], limits: [0.0569295840032387, 0.340427602974941] },
  { pairs: [18, 12, 2, 18], limits: [0.0561718439882532, 0.328975968885801] },
  { pairs: [53, 0, 0, 1], limits: [-0.0729381454785769, 0.0729381454785769] },
  { pairs: [0, 30, 0, 0], limits: [0.839467819862384, 1] },
  { pairs: [4, 3, 1, 2], limits: [-0.201654941240385, 0.526078819997556] },
  { pairs: [20, 15, 5, 60], limits: [0.0119633514403256, 0.186556697031169] },
] as const;

/** R 4.2.2, ?fisher.test: the tea tasting (Agresti, Categorical Data Analysis, 1990: p = 0.4857 for 3 of 4 with 1 of 4),
 * the convictions of twins (Fisher, Statistical Methods for Research Workers, 1970), and a table with all of one kind. */
export const fisherValues = [
  { first: [3, 4], second: [1, 4], p: 0.485714285714286 },
  { first: [4, 4], second: [0, 4], p: 0.0285714285714286 },
  { first: [2, 17], second: [10, 13], p: 0.000536724119143436 },
  { first: [7, 8], second: [27, 60], p: 0.0544001304950657 },
] as const;

/** Exact two-sided McNemar test, which is a sign test: R 4.2.2 binom.test. */
export const mcnemarValues = [
  { b: 70, c: 59, p: 0.37868766269312 },
  { b: 30, c: 60, p: 0.00206026568096307 },
  { b: 10, c: 30, p: 0.00222143377322937 },
  { b: 10, c: 10, p: 1 },
  { b: 25, c: 4, p: 0.000103715807199478 },
  { b: 150, c: 86, p: 3.71593613957143e-5 },
  { b: 8, c: 2, p: 0.109375 },
  { b: 3, c: 3, p: 1 },
] as const;

/** R 4.2.2 poisson.test; p as twice the smaller one-sided one. 11/800 with 21/3011: ?poisson.test. */
export const ratioValues = [
  {
    first: [11, 800],
    second: [21, 3011],
    value: 1.9714880952381,
    limits: [0.858426403391639, 4.27726594365407],
    p: 0.112017319575399,
  },
  { first: [5, 10], second: [2, 10], value: 2.5, limits: [0.409286080854892, 26.2534767724083], p: 0.453125 },
  { first: [3, 1], second: [0, 1], value: Infinity, limits: [0.413231355030894, Infinity], p: 0.25 },
  { first: [7, 12.5], second: [7, 12.5], value: 1, limits: [0.299309681810599, 3.34102122574435], p: 1 },
  {
    first: [12, 9],
    second: [4, 11],
    value: 3.66666666666667,
    limits: [1.11128353219268, 15.5984210133636],
    p: 0.0298787186739264,
  },
] as const;
/** Gu, Ng, Tang and Schucany, Biometrical Journal 50 (2008) 283-298, as computed by R's exactci: central limits. */
export const guRatio = {
  first: [60, 51477.5],
  second: [30, 54308.7],
  limits: [1.33973572177265, 3.388365573616252],
} as const;

/** Exact probabilities of the number of runs, R 4.2.2; Wald and Wolfowitz 1940. */
export const runsValues = [
  { first: 2, second: 2, from: 2, pmf: [1 / 3, 1 / 3, 1 / 3] },
  { first: 3, second: 3, from: 2, pmf: [0.1, 0.2, 0.4, 0.2, 0.1] },
  { first: 5, second: 5, from: 2, pmf: [1, 4, 16, 24, 36, 24, 16, 4, 1].map((orders) => orders / 126) },
  { first: 4, second: 6, from: 2, pmf: [2, 8, 30, 45, 60, 40, 20, 5].map((orders) => orders / 210) },
  { first: 2, second: 8, from: 2, pmf: [2, 8, 14, 21].map((orders) => orders / 45) },
  {
    first: 7,
    second: 9,
    from: 2,
    pmf: [2, 14, 96, 288, 840, 1400, 2240, 2240, 2100, 1260, 672, 224, 56, 8].map((orders) => orders / 11440),
  },
] as const;

/** Orders in which the longest run of the first kind has at least so many, of all orders. */
export const longestRunValues = [
  { first: 5, second: 5, atLeast: 3, p: 1 / 2 },
  { first: 8, second: 7, atLeast: 4, p: 2612 / 6435 },
  { first: 15, second: 10, atLeast: 5, p: 42439 / 74290 },
  { first: 15, second: 14, atLeast: 5, p: 5639671 / 15511752 },
  { first: 3, second: 2, atLeast: 3, p: 3 / 10 },
] as const;

/** Cohen, Educational and Psychological Measurement 20 (1960) 37-46 (kappa .492); Fleiss, Cohen and Everitt,
 * Psychological Bulletin 72 (1969) 323-327; Bortz 1990, p. 459; a printout of SAS with its standard error .1380;
 * Gwet 2014 (.7964094). Standard errors: R's vcd 1.4.11. */
export const kappaValues = [
  {
    table: [
      [88, 14, 18],
      [10, 40, 10],
      [2, 6, 12],
    ],
    kappa: 0.491525423728813,
    error: 0.0510018155760779,
  },
  {
    table: [
      [106, 10, 4],
      [22, 28, 10],
      [2, 12, 6],
    ],
    kappa: 0.428571428571429,
    error: 0.0537110048691673,
  },
  {
    table: [
      [53, 5, 2],
      [11, 14, 5],
      [1, 6, 3],
    ],
    kappa: 0.428571428571429,
    error: 0.0759588315346638,
  },
  {
    table: [
      [0, 4, 1],
      [0, 8, 0],
      [0, 1, 5],
    ],
    kappa: 0.484162895927602,
    error: 0.138013578305815,
  },
  {
    table: [
      [13, 0, 0],
      [0, 20, 7],
      [0, 4, 56],
    ],
    kappa: 0.796409402183972,
    error: 0.0589107183260814,
  },
  {
    table: [
      [20, 5],
      [10, 15],
    ],
    kappa: 0.4,
    error: 0.1269960629311,
  },
] as const;

/** Holm: Benjamini and Hochberg, Journal of the Royal Statistical Society B 57 (1995) 289-300, their fifteen
 * probabilities; adjusted in R 4.2.2. */
export const holmValues = [
  {
    p: [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ],
    adjusted: [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1],
  },
  { p: [0.01, 0.04, 0.03, 0.005], adjusted: [0.03, 0.06, 0.06, 0.02] },
  { p: [0.004, 0.02, 0.03, 0.4], adjusted: [0.016, 0.06, 0.06, 0.4] },
  { p: [0.02, 0.02, 0.02], adjusted: [0.06, 0.06, 0.06] },
] as const;
