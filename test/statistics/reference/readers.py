# Makes readers.txt: agreement of random classes by other programs, to compare ours with.
#   python3 readers.py > readers.txt     (Debian packages python3-nltk 3.8, python3-statsmodels 0.13.5)
#
# A line with # names a list. Each line after it is one case: for "alpha" and "fleiss" cases, readers, then the answers case
# by case (-1: missing), then the value; for "cohen" the size, the table row by row, kappa, its standard error.
import random

import numpy as np
from nltk.metrics.agreement import AnnotationTask
from statsmodels.stats.inter_rater import cohens_kappa, fleiss_kappa

random.seed(20261127)


def classes(missing):
    cases, readers, words = random.randint(4, 20), random.randint(2, 12), random.randint(2, 6)
    right = random.uniform(0.4, 0.95)
    rows = []
    for _ in range(cases):
        word = random.randrange(words)
        rows.append([
            -1 if random.random() < missing else word if random.random() < right else random.randrange(words)
            for _ in range(readers)
        ])
    return rows


def line(*values):
    print(" ".join(format(value, ".12g") for value in values))


print("# alpha")
done = 0
while done < 150:
    rows = classes(0.2)
    # The other program counts a case with one answer in the expected disagreement, against its source.
    kept = [row for row in rows if sum(word >= 0 for word in row) > 1]
    if len({word for row in kept for word in row if word >= 0}) < 2:
        continue
    data = [(f"r{reader}", f"c{case}", word) for case, row in enumerate(kept) for reader, word in enumerate(row) if word >= 0]
    line(len(rows), len(rows[0]), *[word for row in rows for word in row], AnnotationTask(data).alpha())
    done += 1

print("# fleiss")
done = 0
while done < 150:
    rows = classes(0)
    words = sorted({word for row in rows for word in row})
    if len(words) < 2:
        continue
    counts = [[row.count(word) for word in words] for row in rows]
    line(len(rows), len(rows[0]), *[word for row in rows for word in row], fleiss_kappa(np.array(counts)))
    done += 1

print("# cohen")
done = 0
while done < 150:
    size = random.randint(2, 5)
    table = np.array([[random.choice([0, 1, 2, 5]) + (random.randint(3, 9) if row == column else 0) for column in range(size)] for row in range(size)])
    # Where all agree its error is 0, and ours takes another limit.
    if np.trace(table) == table.sum():
        continue
    found = cohens_kappa(table)
    line(size, *table.flatten(), found.kappa, found.std_kappa)
    done += 1
