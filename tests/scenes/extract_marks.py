#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Reads marks off the mask pictures of the test scenes: NAME.png to NAME.marks.json.

Needs python3-numpy, python3-pil and python3-skimage.  Not part of the build.

    extract_marks.py [NAME ...]

Only the picture is used: no truth, no camera.  Red, green and blue are the shares of each pixel that
show the vessel's outer face, its inner face and lip, and the reference; the rest of a pixel is
background.  Where an edge crosses a column (or row) of pixels, the sum of the shares along the
column is the edge's mean place in that column, exactly.  Each mark is the middle of a parabola
through nine neighbouring columns.  Pixels: (0, 0) is the centre of the top-left pixel.
"""
import json
import os
import sys

import numpy as np
from PIL import Image
from skimage.measure import approximate_polygon, find_contours

HERE = os.path.dirname(os.path.abspath(__file__))
REACH = 4          # columns are summed this far to both sides of the edge, and must be pure at both ends
HALF_WINDOW = 4    # columns to each side in the parabola
PURE = 0.02        # largest share of any other class at the ends of a sum
STRAY = 0.02       # largest share of a third class anywhere in a sum
KINK_PX = 0.06     # a parabola that misses by more lies across a corner or a junction: no mark there
BREAK = 4          # steps of the level line without a mark that count as a junction
MARGIN = 5          # steps (three to four pixels) kept clear of a junction
CONIC_PX = 0.05    # how near the fitted ellipse a point of the foot's edge must lie
FOOT_MARGIN = 5    # marks of the outline left out where the foot's circle ends and the body begins
ROUND_BOTTOMED = {"round-pot"}  # stands on no foot: no base marks
SHORTEST_ARC = 45  # marks to each side of the lowest one; fewer do not fix an ellipse
SHORT_PX = 60      # a shorter side of a card is fitted by a straight line
RIM_MARKS, BASE_MARKS, SIDE_MARKS = 110, 48, 100


def load(path):
    rgb = np.asarray(Image.open(path).convert("RGB"), float) / 255.0
    outer, inner, card = rgb[..., 0], rgb[..., 1], rgb[..., 2]
    return {"outer": outer, "inner": inner, "card": card, "back": np.clip(1 - rgb.sum(axis=2), 0, 1)}


def longest_contour(share):
    """The longest closed 0.5 level line as rows (x, y)."""
    found = max(find_contours(np.pad(share, 1), 0.5), key=len)[:, ::-1] - 1
    return found[:-1] if np.allclose(found[0], found[-1]) else found


class Edge:
    """Measures the edge between class a and class b near a point whose edge direction is roughly known."""

    def __init__(self, classes, a, b):
        self.a, self.b = classes[a], classes[b]
        self.rest = sum(v for k, v in classes.items() if k not in (a, b))
        self.cache = {}

    def crossing(self, across_rows, column, guess):
        """Mean place of the edge along one column (across_rows) or row; None if not clean there."""
        key = (across_rows, column, int(round(guess)))
        if key not in self.cache:
            self.cache[key] = self._crossing(*key)
        return self.cache[key]

    def _crossing(self, across_rows, column, middle):
        a, rest = (self.a, self.rest) if across_rows else (self.a.T, self.rest.T)
        lo, hi = middle - REACH, middle + REACH
        if lo < 0 or hi >= a.shape[0] or column < 0 or column >= a.shape[1]:
            return None
        run, stray = a[lo:hi + 1, column], rest[lo:hi + 1, column]
        if stray.max() > STRAY:
            return None
        if run[0] > 1 - PURE and run[-1] < PURE:
            return lo - 0.5 + run.sum()
        if run[0] < PURE and run[-1] > 1 - PURE:
            return hi + 0.5 - run.sum()
        return None

    def mark(self, point, direction):
        """The mark (x, y) nearest a rough point, or None; direction is along the edge."""
        across_rows = abs(direction[0]) >= abs(direction[1])
        i, j = (0, 1) if across_rows else (1, 0)
        slope = direction[j] / direction[i]
        middle = int(round(point[i]))
        at = np.arange(-HALF_WINDOW, HALF_WINDOW + 1)
        guesses = point[j] + slope * (middle + at - point[i])
        places = [self.crossing(across_rows, middle + int(k), g) for k, g in zip(at, guesses)]
        if any(p is None for p in places):
            return None
        fit = np.polyfit(at, places, 2)
        miss = np.polyval(fit, at) - places
        if np.abs(miss).max() > 2 * KINK_PX or np.sqrt(np.mean(miss**2)) > KINK_PX:
            return None
        out = [0.0, 0.0]
        out[i], out[j] = float(middle), float(fit[2])
        return out


def directions(contour, span=5):
    return np.roll(contour, -span, axis=0) - np.roll(contour, span, axis=0)


def marks_along(contour, edge, chosen=None):
    """Marks along a contour in its order: rows (x, y), each with its index on the contour."""
    out, index, seen = [], [], set()
    d = directions(contour)
    for k in range(len(contour)) if chosen is None else chosen:
        m = edge.mark(contour[k], d[k])
        if m is None:
            continue
        key = (round(m[0], 3), round(m[1], 3))
        if key not in seen:
            seen.add(key)
            out.append(m)
            index.append(k)
    out, index = np.array(out).reshape(-1, 2), np.array(index, int)
    # Where an edge runs into another the marks stop; the last few before that are not to be trusted.
    gaps = np.flatnonzero(np.diff(index) > BREAK)
    ends = np.concatenate([index[gaps], index[gaps + 1], index[:1], index[-1:]])
    clear = np.min(np.abs(index[:, None] - ends[None, :]), axis=1) >= MARGIN
    return out[clear], index[clear]


def thin(points, count):
    """At most count of the points, evenly spread along their order by length."""
    if len(points) <= count:
        return points
    step = np.hypot(*np.diff(points, axis=0).T)
    s = np.concatenate([[0], np.cumsum(np.minimum(step, 5.0))])  # gaps do not count
    pick = np.unique(np.searchsorted(s, np.linspace(0, s[-1], count)).clip(0, len(points) - 1))
    return points[pick]


def thin_round(points, count):
    """About count of the points of an ellipse, evenly spread in its own angle: as a hand would spread
    them round a rim seen almost edge-on, with as many at its narrow ends as along its sides."""
    centre = (points.min(axis=0) + points.max(axis=0)) / 2
    axes = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[2]
    flat = (points - centre) @ axes.T
    flat /= np.abs(flat).max(axis=0)
    angle = np.arctan2(flat[:, 1], flat[:, 0])
    wanted = np.linspace(-np.pi, np.pi, count, endpoint=False)
    gap = np.abs(np.angle(np.exp(1j * (wanted[:, None] - angle[None, :]))))
    return points[np.unique(np.argmin(gap, axis=1))]


def conic_through(points):
    """A function that gives the distance in pixels of any points from the conic that fits these best."""
    c, scale = points.mean(axis=0), points.std()

    def rows(p):
        x, y = ((p - c) / scale).T
        return x, y, np.column_stack([x * x, x * y, y * y, x, y, np.ones_like(x)])

    q = np.linalg.svd(rows(points)[2], full_matrices=False)[2][-1]

    def miss(p):
        x, y, m = rows(p)
        gx, gy = 2 * q[0] * x + q[1] * y + q[3], q[1] * x + 2 * q[2] * y + q[4]
        return (m @ q) / np.hypot(gx, gy) * scale

    return miss


def foot_run(points, up):
    """First and past-the-last place of the front of the foot's contact circle in the outline's marks:
    the longest run about the lowest mark that lies on one ellipse, then each end moved on to where
    the outline leaves that ellipse.  up is the picture's direction from foot to rim."""
    start = int(np.argmin(points @ up))
    reach = 0
    for n in range(SHORTEST_ARC, min(start, len(points) - 1 - start), 2):
        run = points[start - n:start + n + 1]
        off = conic_through(run)(run)
        if np.sqrt(np.mean(off**2)) <= 0.5 * CONIC_PX and max(abs(off[:6].mean()), abs(off[-6:].mean())) <= CONIC_PX:
            reach = n
    if reach == 0:
        return start, start + 1
    keep = round(0.85 * reach)  # the body leaves the circle gently: the ends may be body already
    off = conic_through(points[start - keep:start + keep + 1])(points)
    first, last = start - keep, start + keep
    while first >= 3 and abs(off[first - 3:first].mean()) <= CONIC_PX:
        first -= 1
    while last + 4 <= len(points) and abs(off[last + 1:last + 4].mean()) <= CONIC_PX:
        last += 1
    return first, last + 1


def sharpened(quad, edge):
    """Corners where parabolas through the marks of neighbouring sides meet, and the marks each side had."""
    for _ in range(3):  # the first corners are rough; better ones let more of each side be read
        lines = []
        for p, q in zip(quad, np.roll(quad, -1, axis=0)):
            d = q - p
            length = np.hypot(*d)
            d = d / length
            points = []
            for t in np.arange(6.0, length - 6.0, 1.0):
                m = edge.mark(p + t * d, d)
                if m is not None:
                    points.append(m)
            points = np.array(points)
            along, off = (points - p) @ d, (points - p) @ np.array([-d[1], d[0]])
            lines.append((p, d, np.polyfit(along, off, 2 if length > SHORT_PX else 1), len(points)))
        found = []
        for k in range(4):  # corner k is where side k-1 meets side k
            (p0, d0, f0, _), (p1, d1, f1, _) = lines[k - 1], lines[k]
            x = quad[k].copy()
            for _ in range(20):
                rows, right = [], []
                for p, d, f in ((p0, d0, f0), (p1, d1, f1)):
                    n = np.array([-d[1], d[0]])
                    t = (x - p) @ d
                    slope = np.polyval(np.polyder(f), t)
                    rows.append(n - slope * d)
                    right.append((x - p) @ n - np.polyval(f, t))
                x = x - np.linalg.solve(np.array(rows), np.array(right))
            found.append(x)
        quad = np.array(found)
    return quad, [n for *_, n in lines]


def corners(classes):
    contour = longest_contour(classes["card"])
    for tolerance in np.arange(1.5, 12.0, 0.5):
        quad = approximate_polygon(np.vstack([contour, contour[:1]]), tolerance)[:-1]
        # The level line may start in the middle of a side: such a point is no corner.
        before, after = quad - np.roll(quad, 1, axis=0), np.roll(quad, -1, axis=0) - quad
        turn = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
        quad = quad[turn > 0.08 * np.hypot(*before.T) * np.hypot(*after.T)]
        if len(quad) == 4:
            break
    else:
        raise ValueError("the reference is not seen as four corners")
    edge = Edge(classes, "card", "back")
    found, counts = sharpened(quad, edge)
    # Order: the lowest side's left end, its right end, and on round.
    middles = (found + np.roll(found, -1, axis=0)) / 2
    k = int(np.argmax(middles[:, 1]))
    first, second = k, (k + 1) % 4
    if found[first][0] < found[second][0]:
        order = [first, second, (second + 1) % 4, (second + 2) % 4]
    else:
        order = [second, first, (first - 1) % 4, (first - 2) % 4]
    return found[order], counts


def vessel_marks(classes, round_bottomed):
    """The marks of the one vessel in the picture."""
    inside = longest_contour(classes["inner"])
    vessel = longest_contour(classes["inner"] + classes["outer"])

    rim = []
    for other in ("outer", "back"):
        points, index = marks_along(inside, Edge(classes, "inner", other))
        rim += list(zip(index, points))
    rim = np.array([p for _, p in sorted(rim, key=lambda r: r[0])])

    up = inside.mean(axis=0) - vessel.mean(axis=0)
    up /= np.hypot(*up)
    across = np.array([-up[1], up[0]])  # to the right of the picture
    # Start the outline at its top so that the foot is in the middle of it.
    vessel = np.roll(vessel, -int(np.argmax(vessel @ up)), axis=0)
    outline, _ = marks_along(vessel, Edge(classes, "outer", "back"))
    if (outline[0] - outline[-1]) @ across > 0:
        outline = outline[::-1]  # left side first
    if round_bottomed:
        # Nothing to mark at the bottom itself, where left and right meet.
        place = (outline - vessel.mean(axis=0)) @ across
        width = place.max() - place.min()
        middle = (place.max() + place.min()) / 2
        left, right = outline[place < middle - 0.08 * width], outline[place > middle + 0.08 * width]
        base = np.empty((0, 2))
    else:
        first, last = foot_run(outline, up)
        left, right = outline[:first - FOOT_MARGIN], outline[last + FOOT_MARGIN:]
        trim = round(0.06 * (last - first))
        base = outline[first + trim:last - trim]
    return {"rim_px": thin_round(rim, RIM_MARKS), "base_px": thin(base, BASE_MARKS), "left_px": thin(left, SIDE_MARKS),
            "right_px": thin(right, SIDE_MARKS)}


def extract(path, round_bottomed):
    classes = load(path)
    marks = vessel_marks(classes, round_bottomed)
    marks["corners_px"], counts = corners(classes)
    return marks, counts


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    names = sys.argv[1:] or sorted(f[:-5] for f in os.listdir(here) if f[:-5] + ".png" in os.listdir(here))
    for name in names:
        marks, counts = extract(os.path.join(here, name + ".png"), name in ROUND_BOTTOMED)
        lines = ['  "%s": [%s]' % (key, ", ".join("[%.4f, %.4f]" % tuple(p) for p in value))
                 for key, value in marks.items()]
        with open(os.path.join(here, name + ".marks.json"), "w", encoding="utf-8") as f:
            f.write('{\n  "picture": "%s.png",\n' % name + ",\n".join(lines) + "\n}\n")
        print(name, {k: len(v) for k, v in marks.items()}, "card edge points", counts)


if __name__ == "__main__":
    main()
