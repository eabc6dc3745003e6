#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Paints squares of azimuth and height on vessels of render.py, and tells which of the wall is seen.

Needs what render.py needs.  Not part of the build.

    render_painted.py [--threads N] [NAME ...]

NAME-painted.png: the vessel seen as in NAME.json (same camera and pane, so NAME.marks.json holds for
it), its outer face black and white in squares STEP_DEG wide and STEP_MM high that meet at azimuth 0
and height 0, its inside grey.  NAME-seen.png: one
pixel for each CELL_DEG of azimuth (from 0 on) and CELL_MM of height (bottom row first), white where the
renderer's own camera sees the middle of it.
"""
import argparse
import json
import math
import os
import subprocess
import tempfile

import numpy as np
from PIL import Image

import render

NAMES = ["flared-jar", "everted-jar", "bottle"]
STEP_DEG, STEP_MM = 10.0, 12.0
CELL_DEG, CELL_MM = 3.0, 3.0


def scene(t, pigment):
    text = render.mask_scene(t)
    flat = "pigment { rgb <1, 0, 0> } finish { ambient 0 diffuse 0 emission 1 }"
    assert text.count(flat) == 1
    text = text.replace(flat, pigment + " finish { ambient 0 diffuse 0 emission 1 }")
    return text.replace("rgb <0, 1, 0>", "rgb <0.45, 0.45, 0.45>").replace("rgb <0, 0, 1>", "rgb <0.25, 0.25, 0.25>")


def squares():
    return ("pigment { function { abs(mod(floor(atan2(z, x) / %.12f) + floor(y / %.6f) + 1000, 2)) } "
            "color_map { [0.5 rgb 0] [0.5 rgb 1] } }" % (math.radians(STEP_DEG), STEP_MM))


def run(text, width, height, threads, smooth):
    with tempfile.TemporaryDirectory() as folder:
        pov, out = os.path.join(folder, "s.pov"), os.path.join(folder, "s.png")
        with open(pov, "w", encoding="ascii") as f:
            f.write(text)
        args = ["povray", "+I" + pov, "+O" + out, "+W%d" % width, "+H%d" % height, "+FN8", "-D", "-GA",
                "+WT%d" % threads, "File_Gamma=1.0"] + (["+A0.001", "+AM1", "+R5", "+J0.0"] if smooth else ["-A"])
        subprocess.run(args, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        return np.asarray(Image.open(out).convert("RGB")).copy()


def pixel(t, point):
    """Where the camera sees a point, by Snell's law through the pane: the place on the pane's outer face
    by bisection, so that nothing of the program's own formula is used."""
    c = t["camera"]
    r, eye = np.asarray(c["R"]), np.asarray(c["C"])
    aim = np.asarray(point, float)
    p = t["pane"]
    if p:
        a = math.radians(p["normal_azimuth_deg"])
        n = np.array([math.cos(a), math.sin(a), 0.0])
        outer = p["outer_face_to_axis_mm"]
        before, behind = eye @ n - outer, outer - p["thickness_mm"] - point @ n
        along = (point - eye) - ((point - eye) @ n) * n
        far = np.linalg.norm(along)
        low, high = 0.0, math.pi / 2 - 1e-9
        for _ in range(80):
            angle = (low + high) / 2
            inside = math.asin(math.sin(angle) / p["index"])
            reach = (before + behind) * math.tan(angle) + p["thickness_mm"] * math.tan(inside)
            low, high = (angle, high) if reach < far else (low, angle)
        aim = eye - n * before + along / far * before * math.tan(low)
    q = r @ (aim - eye)
    return c["f_px"] * q[0] / q[2] + c["cx"], c["f_px"] * q[1] / q[2] + c["cy"]


def seen(t, threads):
    """Renders azimuth and height as colours and asks, for each cell's middle, whether the picture shows
    that place where the camera would see it."""
    coarse = dict(t)
    by_azimuth = run(scene(coarse, "pigment { function { atan2(z, x) / 6.283185307 + 0.5 } color_map { [0 rgb 0.02] [1 rgb 1] } }"),
                     t["camera"]["width_px"], t["camera"]["height_px"], threads, False)[:, :, 0] / 255.0
    by_height = run(scene(coarse, "pigment { function { y / 512 } color_map { [0 rgb 0.02] [1 rgb 1] } }"),
                    t["camera"]["width_px"], t["camera"]["height_px"], threads, False)[:, :, 0] / 255.0
    outer = run(render.mask_scene(t), t["camera"]["width_px"], t["camera"]["height_px"], threads, False)[:, :, 0] > 127
    profile = np.asarray(t["profile"])
    rows = int(profile[-1, 1] // CELL_MM)
    columns = int(360 / CELL_DEG)
    out = np.zeros((rows, columns), np.uint8)
    for j in range(rows):
        z = (j + 0.5) * CELL_MM
        crossings = np.nonzero((profile[:-1, 1] - z) * (profile[1:, 1] - z) <= 0)[0]
        radius = max(np.interp(z, *(sorted([profile[k, 1], profile[k + 1, 1]]),
                                    [profile[k, 0], profile[k + 1, 0]] if profile[k, 1] <= profile[k + 1, 1]
                                    else [profile[k + 1, 0], profile[k, 0]])) for k in crossings)
        for i in range(columns):
            a = math.radians((i + 0.5) * CELL_DEG)
            x, y = pixel(t, np.array([radius * math.cos(a), radius * math.sin(a), z]))
            x, y = round(x), round(y)
            if not (0 <= x < outer.shape[1] and 0 <= y < outer.shape[0]) or not outer[y, x]:
                continue
            turn = ((by_azimuth[y, x] - 0.02) / 0.98 - 0.5) * 2 * math.pi - a
            off = abs(math.remainder(turn, 2 * math.pi)) * radius
            out[j, i] = 255 if off < 6.0 and abs((by_height[y, x] - 0.02) / 0.98 * 512 - z) < 6.0 else 0
    return out


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--threads", type=int, default=1)
    args = parser.parse_args()
    for name in args.names or NAMES:
        with open(os.path.join(render.HERE, name + ".json"), encoding="utf-8") as f:
            t = json.load(f)
        c = t["camera"]
        grey = run(scene(t, squares()), c["width_px"], c["height_px"], args.threads, True)[:, :, 0]
        Image.fromarray(grey).save(os.path.join(render.HERE, name + "-painted.png"), optimize=True)
        Image.fromarray(seen(t, args.threads)).save(os.path.join(render.HERE, name + "-seen.png"), optimize=True)
        print(name)


if __name__ == "__main__":
    main()
