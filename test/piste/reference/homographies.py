# Makes homographies.json: what OpenCV makes of points clicked in a picture, to compare our fit with.
# Run: python3 homographies.py > homographies.json  (Debian package python3-opencv; made with OpenCV 4.6.0)
#
# Cameras 1 to 5 m up, 5 to 12 m off, on both sides of a piste. Four points: getPerspectiveTransform. Six points with
# click noise of 0.001: findHomography(method 0), which minimises the distance in the plane of the floor; ours minimises an
# algebraic one, so the two agree only about as well as the clicks do.
import json
import math
import random

import cv2
import numpy as np

random.seed(7)
FOUR = [(-2, -1), (2, -1), (2, 1), (-2, 1)]
SIX = FOUR + [(0, -1), (0, 1)]
PROBES = [(-1.2, -0.4), (1.3, 0.35), (0, 0)]


def camera():
    at = np.array([random.uniform(-2, 2), random.uniform(5, 12) * random.choice([-1, 1]), random.uniform(1, 5)])
    ahead = np.array([random.uniform(-0.5, 0.5), 0, 0.4]) - at
    ahead /= np.linalg.norm(ahead)
    level = np.cross(ahead, [0, 0, 1])
    level /= np.linalg.norm(level)
    down = np.cross(ahead, level)
    zoom = random.uniform(0.9, 1.5)

    def picture(x, y):
        ray = np.array([x, y, 0]) - at
        scale = zoom / ray.dot(ahead)
        return [0.5 + ray.dot(level) * scale, 0.5 + ray.dot(down) * scale * 16 / 9]

    return picture


def noisy(point):
    return [c + random.gauss(0, 0.001) for c in point]


cases = []
for index in range(24):
    picture = camera()
    floor = FOUR if index < 12 else SIX
    image = [picture(*p) for p in floor] if index < 12 else [noisy(picture(*p)) for p in floor]
    source = np.array(image, dtype=np.float64)
    target = np.array(floor, dtype=np.float64)
    if index < 12:
        matrix = cv2.getPerspectiveTransform(source.astype(np.float32), target.astype(np.float32))
        # The float32 input above rounds the clicks, so write back what OpenCV really saw.
        image = source.astype(np.float32).astype(float).tolist()
    else:
        matrix, _ = cv2.findHomography(source, target, 0)
    probes = [picture(*p) for p in PROBES]
    mapped = cv2.perspectiveTransform(np.array([probes]), matrix)[0].tolist()
    cases.append({"image": image, "floor": floor, "probes": probes, "mapped": mapped})

print(json.dumps({"opencv": cv2.__version__, "cases": cases}, indent=1))
