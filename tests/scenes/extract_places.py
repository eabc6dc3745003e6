#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Reads marks off the masks of the furnished scenes: NAME-things.png and NAME-floor.png to NAME.marks.json.

Needs python3-numpy, python3-scipy, python3-pil and python3-skimage.  Not part of the build.

    extract_places.py [--list] [NAME ...]

Only the pictures are used: no truth, no camera.  What is what was pointed at by eye: PLACES holds a rough
pixel of each thing, and of the floor's corners.  With --list the things' middles are printed instead.
"""
import json
import os
import sys

import numpy as np
from scipy import ndimage

from extract_marks import (HERE, Edge, corners, load, longest_contour, marks_along, thin, thin_round, vessel_marks)

DISC_MARKS = 60
SHELF_MARKS = 24
ARM_PX = (7.0, 45.0)  # how far from a crossing its tile edges are read, at most
ARM_PART = 0.55       # and at most this part of the way to the next crossing
ARM_MARKS = 6         # fewest marks on each arm
ROUND = 4             # crossings looked for round the block
LINE_PX = 0.05        # how well they lie on one straight line, root mean square

# Rough pixels, pointed at by eye.  `floor` gives four crossings with their column and row, counted to the
# right and away from the camera; `shelf` two pixels on the line where the shelf meets the pane.
PLACES = {
    "open-table": dict(
        vessel=(979, 644), neighbour=(450, 594),
        things={"card-lying": (288, 1047), "card-standing": (270, 828), "label-leaning": (1486, 907),
                "card-on-step": (1453, 658), "card-beside": (1411, 444), "disc-lying": (609, 1130),
                "disc-standing": (1831, 930), "disc-leaning": (1195, 994), "rule-lying": (1068, 1170),
                "rule-standing": (1770, 674), "rule-leaning": (1911, 667), "rule-beside": (1713, 415)},
        floor=[(229, 1429, 0, 0), (1669, 1220, 8, 0), (1522, 1037, 8, 2), (280, 1191, 0, 2)]),
    "glass-case": dict(
        vessel=(1033, 684), neighbour=(464, 581),
        things={"card-lying-below": (1588, 1033), "card-standing-below": (1555, 857),
                "label-leaning-below": (1430, 690), "card-inside-pane": (453, 1103), "card-outside-pane": (273, 941),
                "card-beside": (1490, 467), "disc-inside-pane": (1299, 1124), "disc-lying-below": (1881, 1024),
                "disc-lying": (668, 910), "rule-inside-pane": (924, 1127), "rule-standing-below": (1762, 717)},
        floor=[(90, 1102, 0, 0), (1527, 1159, 9, 0), (1434, 877, 9, 4), (327, 840, 0, 4)],
        shelf=[(20, 1283), (2000, 1180)]),
}


def blobs(share):
    """Each connected piece of a class by itself, largest first."""
    label, count = ndimage.label(share > 0, np.ones((3, 3)))
    order = np.argsort(-ndimage.sum(share, label, range(1, count + 1))) + 1
    return label, [int(k) for k in order]


def at(label, pixel):
    found = label[int(round(pixel[1])), int(round(pixel[0]))]
    if found == 0:
        raise ValueError("nothing at %s" % (pixel,))
    return found


def only(classes, label, number):
    """Classes of one thing: its own share as "card", that of all other things apart."""
    own = np.where(label == number, classes["card"], 0.0)
    return {"card": own, "back": classes["back"], "other": classes["card"] - own + classes["outer"] + classes["inner"]}


def disc_edge(classes):
    points, _ = marks_along(longest_contour(classes["card"]), Edge(classes, "card", "back"))
    return thin_round(points, DISC_MARKS)


def strip_ends(found, upright):
    """The ends of a strip's lower long edge, left first; or of its left long edge, foot first."""
    sides = [(found[k], found[(k + 1) % 4]) for k in range(4)]
    sides = sorted(sides, key=lambda side: -np.hypot(*(side[1] - side[0])))[:2]
    if upright:
        return sorted(min(sides, key=lambda side: side[0][0] + side[1][0]), key=lambda p: -p[1])
    return sorted(max(sides, key=lambda side: side[0][1] + side[1][1]), key=lambda p: p[0])


# ---------------------------------------------------------------- the tiled floor
def homography(grid, pixels):
    centre, scale = pixels.mean(axis=0), pixels.std()
    rows = []
    for (u, v), (x, y) in zip(grid, (pixels - centre) / scale):
        rows += [[u, v, 1, 0, 0, 0, -x * u, -x * v, -x], [0, 0, 0, u, v, 1, -y * u, -y * v, -y]]
    h = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    return np.array([[scale, 0, centre[0]], [0, scale, centre[1]], [0, 0, 1]]) @ h


def through(h, grid):
    p = np.column_stack([grid, np.ones(len(grid))]) @ h.T
    return p[:, :2] / p[:, 2:]


def crossing(edge, rough, neighbours):
    """Where two lines between tiles cross, from the four arms; None where one of them is hidden.
    neighbours: rough pixels of the crossings to the left, right, near and far."""
    lines = []
    for pair in (neighbours[:2], neighbours[2:]):
        points = []
        for end in pair:
            d = end - rough
            length = np.hypot(*d)
            d = d / length
            arm = [edge.mark(rough + t * d, d) for t in np.arange(ARM_PX[0], min(ARM_PX[1], ARM_PART * length), 1.0)]
            arm = {tuple(m) for m in arm if m is not None}
            if len(arm) < ARM_MARKS:
                return None
            points += arm
        points = np.array(points)
        middle = points.mean(axis=0)
        normal = np.linalg.svd(points - middle, full_matrices=False)[2][1]
        if np.sqrt(np.mean(((points - middle) @ normal) ** 2)) > LINE_PX:
            return None
        lines.append((normal, normal @ middle))
    return np.linalg.solve(np.array([n for n, _ in lines]), np.array([c for _, c in lines]))


def crossings(classes, hints):
    """Rows (x, y, column, row) of the floor's crossings; the hints' four first."""
    edge = Edge(classes, "outer", "inner")
    grid = np.array([[c, r] for _, _, c, r in hints], float)
    pixels = np.array([[x, y] for x, y, _, _ in hints], float)
    columns = range(int(grid[:, 0].min()) - ROUND, int(grid[:, 0].max()) + ROUND + 1)
    rows = range(int(grid[:, 1].min()) - ROUND, int(grid[:, 1].max()) + ROUND + 1)
    for _ in range(4):  # each pass knows better where to look
        h = homography(grid, pixels)
        found = {}
        for c in columns:
            for r in rows:
                p = through(h, np.array([[c, r], [c - 1, r], [c + 1, r], [c, r - 1], [c, r + 1]], float))
                x = crossing(edge, p[0], p[1:])
                if x is not None and np.hypot(*(x - p[0])) < 6.0:
                    found[(c, r)] = x
        if len(found) < 4:
            break
        grid, pixels = np.array(list(found), float), np.array(list(found.values()))
    first = [(c, r) for _, _, c, r in hints]
    missing = [k for k in first if k not in found]
    if missing:
        raise ValueError("corners of the floor's block are hidden: %s; seen: %s" % (missing, sorted(found)))
    return [[*found[k], *k] for k in first + sorted(k for k in found if k not in first)]


def shelf_line(classes, hints):
    """Marks along the floor's front edge."""
    classes = {"floor": classes["outer"] + classes["inner"], "back": classes["back"], "things": classes["card"]}
    edge = Edge(classes, "floor", "back")
    (x0, y0), (x1, y1) = hints
    fit = np.polyfit([x0, x1], [y0, y1], 1)
    for _ in range(3):
        found = []
        for x in np.arange(x0, x1 + 1, 4.0):
            m = edge.mark((x, np.polyval(fit, x)), (1.0, np.polyval(np.polyder(fit), x)))
            if m is not None:
                found.append(m)
        found = np.array(found)
        fit = np.polyfit(found[:, 0], found[:, 1], 2)
    return thin(found, SHELF_MARKS)


# ----------------------------------------------------------------
def extract(name):
    where = PLACES[name]
    classes = load(os.path.join(HERE, name + "-things.png"))
    marks = {}
    pots, _ = blobs(classes["outer"] + classes["inner"])
    for key in ("vessel", "neighbour"):
        mine = pots == at(pots, where[key])
        own = {k: np.where(mine, classes[k], 0.0) for k in ("outer", "inner")}
        own["card"] = classes["card"] + np.where(mine, 0.0, classes["outer"] + classes["inner"])
        own["back"] = classes["back"]
        for k, v in vessel_marks(own, False).items():
            marks[key + "_" + k] = v
    label, _ = blobs(classes["card"])
    for key, pixel in where["things"].items():
        own = only(classes, label, at(label, pixel))
        if key.startswith("disc"):
            marks[key] = disc_edge(own)
        else:
            found, _ = corners(own)
            marks[key] = strip_ends(found, "standing" in key or "leaning" in key) if key.startswith("rule") else found
    floor = load(os.path.join(HERE, name + "-floor.png"))
    marks["floor"] = crossings(floor, where["floor"])
    if "shelf" in where:
        marks["shelf"] = shelf_line(floor, where["shelf"])
    return marks


def row_text(row):
    return "[%.4f, %.4f%s]" % (row[0], row[1], "".join(", %d" % v for v in row[2:]))


def main():
    listing = "--list" in sys.argv
    for name in [a for a in sys.argv[1:] if not a.startswith("-")] or sorted(PLACES):
        if listing:
            classes = load(os.path.join(HERE, name + "-things.png"))
            for kind, share in (("pot", classes["outer"] + classes["inner"]), ("thing", classes["card"])):
                label, order = blobs(share)
                for k in order:
                    y, x = ndimage.center_of_mass(share, label, k)
                    print(name, kind, round(x), round(y), "pixels", round(float(share[label == k].sum())))
            continue
        marks = extract(name)
        text = ",\n".join('  "%s": [%s]' % (k, ", ".join(map(row_text, v))) for k, v in marks.items())
        with open(os.path.join(HERE, name + ".marks.json"), "w", encoding="utf-8") as f:
            f.write('{\n  "pictures": ["%s-things.png", "%s-floor.png"],\n%s\n}\n' % (name, name, text))
        print(name, {k: len(v) for k, v in marks.items()})


if __name__ == "__main__":
    main()
