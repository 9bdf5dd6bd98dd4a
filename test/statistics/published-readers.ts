// Published agreement of several readers, as data for the checks.

/** Fleiss, Psychological Bulletin 76 (1971) 378-382: 30 patients, 6 psychiatrists, 5 diagnoses. Value and z as R's irr prints them. */
export const fleiss1971 = {
  kappa: 0.4302445,
  z: 17.65183,
  counts: [
    [0, 0, 0, 6, 0],
    [0, 3, 0, 0, 3],
    [0, 1, 4, 0, 1],
    [0, 0, 0, 0, 6],
    [0, 3, 0, 3, 0],
    [2, 0, 4, 0, 0],
    [0, 0, 4, 0, 2],
    [2, 0, 3, 1, 0],
    [2, 0, 0, 4, 0],
    [0, 0, 0, 0, 6],
    [1, 0, 0, 5, 0],
    [1, 1, 0, 4, 0],
    [0, 3, 3, 0, 0],
    [1, 0, 0, 5, 0],
    [0, 2, 0, 3, 1],
    [0, 0, 5, 0, 1],
    [3, 0, 0, 1, 2],
    [5, 1, 0, 0, 0],
    [0, 2, 0, 4, 0],
    [1, 0, 2, 0, 3],
    [0, 0, 0, 0, 6],
    [0, 1, 0, 5, 0],
    [0, 2, 0, 1, 3],
    [2, 0, 0, 4, 0],
    [1, 0, 0, 4, 1],
    [0, 5, 0, 1, 0],
    [4, 0, 0, 0, 2],
    [0, 2, 0, 4, 0],
    [1, 0, 5, 0, 0],
    [0, 0, 0, 0, 6],
  ],
} as const;

/** Krippendorff, Computing Krippendorff's Alpha-Reliability (2011), examples A to C; rows are readers, null is missing. */
export const krippendorff2011 = [
  {
    name: "krippendorff2011_C_4x12",
    alpha: 0.743421052631579,
    readers: [
      ["1", "2", "3", "3", "2", "1", "4", "1", "2", null, null, null],
      ["1", "2", "3", "3", "2", "2", "4", "1", "2", "5", null, "3"],
      [null, "3", "3", "3", "2", "3", "4", "2", "2", "5", "1", null],
      ["1", "2", "3", "3", "2", "4", "4", "1", "2", "5", "1", null],
    ],
  },
  {
    name: "krippendorff2011_A_2x10_binary",
    alpha: 0.09523809523809523,
    readers: [
      ["0", "1", "0", "0", "0", "0", "0", "0", "1", "0"],
      ["1", "1", "1", "0", "0", "1", "0", "0", "0", "0"],
    ],
  },
  {
    name: "krippendorff2011_B_2x12",
    alpha: 0.6919642857142857,
    readers: [
      ["a", "a", "b", "b", "d", "c", "c", "c", "e", "d", "d", "a"],
      ["b", "a", "b", "b", "b", "c", "c", "c", "e", "d", "d", "d"],
    ],
  },
] as const;
