#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Makes the ray-traced test scenes: the truth (NAME.json) and the mask picture (NAME.png) of each.

Needs python3-numpy, python3-scipy, python3-pil and povray.  Not part of the build.

    render.py [--truth-only] [--threads N] [NAME ...]

Frames: the vessel frame has its origin at the centre of the base on the shelf, z up, millimetres.
The camera frame is x right, y down, z forward.  Pixel (0, 0) is the centre of the top-left pixel.
POV-Ray is given the points as <x, z, y>; its lathe turns about its own y, which is then our z.
"""
import argparse
import json
import math
import os
import subprocess
import tempfile

import numpy as np
from PIL import Image
from scipy.interpolate import BSpline
from scipy.spatial import cKDTree

HERE = os.path.dirname(os.path.abspath(__file__))
WIDTH, HEIGHT = 2016, 1512
FILM_DIAGONAL_MM = math.hypot(36.0, 24.0)
PROFILE_POINTS = 601  # rows of the true profile; the renderer's lathe has the same corners
INDEX = 1.52


# ---------------------------------------------------------------- vessels
def spline(points, n):
    """Clamped cubic B-spline of the control points, n rows, evenly spaced along its length."""
    c = np.asarray(points, float)
    k = min(3, len(c) - 1)
    knots = np.concatenate([np.zeros(k), np.linspace(0, 1, len(c) - k + 1), np.ones(k)])
    curve = BSpline(knots, c, k)
    t = np.linspace(0, 1, 20001)
    dense = curve(t)
    s = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(dense, axis=0).T))])
    return curve(np.interp(np.linspace(0, s[-1], n), s, t))


def join(*pieces):
    """Joins curves that share end points into one; the rows are shared out by length."""
    lengths = []
    for p in pieces:
        d = spline(p, 2001)
        lengths.append(np.hypot(*np.diff(d, axis=0).T).sum())
    total = sum(lengths)
    rows = []
    left = PROFILE_POINTS - 1
    for i, p in enumerate(pieces):
        n = left if i == len(pieces) - 1 else max(12, round((PROFILE_POINTS - 1) * lengths[i] / total))
        left -= n
        rows.append(spline(p, n + 1)[(1 if i else 0):])
    return np.vstack(rows)


# Each piece is a list of control points (radius, height); a new piece starts a sharp corner.
SCENES = {
    "flared-jar": dict(
        profile=[[(47, 0), (63, 20), (101, 60), (113, 112), (94, 158), (55, 166), (47, 186), (57, 199), (71, 212)]],
        wall=6.0, focal=50.0, distance=800, elevation=18, azimuth=-90, target=(-38, 0, 96), roll=0.6,
        pane=dict(thickness=8.0, turn=6.0, face=240.0),
        reference=dict(place="lying", size=(120.0, 80.0), at=(-165, 45), yaw=12.0)),
    "seed-jar": dict(
        profile=[[(52, 0), (66, 20), (100, 50), (118, 100), (114, 150), (84, 172), (66, 182), (50, 192)]],
        wall=7.0, focal=26.0, distance=455, elevation=21, azimuth=35, target=(45, 10, 88), roll=-0.8,
        pane=dict(thickness=6.0, turn=-5.0, face=200.0),
        reference=dict(place="standing", size=(85.6, 53.98), at=(160, 60), yaw=-18.0)),
    "open-bowl": dict(
        profile=[[(44, 0), (44.5, 4), (46, 9)], [(46, 9), (62, 15), (92, 34), (110, 64), (117, 96)]],
        wall=5.0, focal=35.0, distance=470, elevation=23, azimuth=160, target=(-62, 10, 44), roll=0.4,
        pane=dict(thickness=10.0, turn=4.0, face=190.0),
        reference=dict(place="leaning", size=(120.0, 80.0), at=(-185, 40), yaw=14.0, lean=20.0)),
    "bottle": dict(
        profile=[[(46, 0), (60, 24), (88, 66), (92, 126), (66, 184), (24, 205), (15, 240), (17, 296), (17, 312),
                  (20, 320), (27, 330)]],
        wall=4.0, focal=35.0, distance=640, elevation=22, azimuth=-70, target=(-65, 0, 150), roll=-0.5,
        pane=dict(thickness=10.0, turn=-7.0, face=165.0),
        reference=dict(place="on-glass", size=(85.6, 53.98), at=(-168, 96), turn=2.0)),
    "keeled-bowl": dict(
        profile=[[(46, 0), (62, 14), (84, 42), (96, 72)], [(96, 72), (84, 86), (76, 100), (79, 113), (88, 126)]],
        wall=5.5, focal=60.0, distance=960, elevation=32, azimuth=10, target=(95, 40, 30), roll=4.0,
        pane=dict(thickness=8.0, turn=8.0, face=300.0),
        reference=dict(place="lying", size=(148.0, 210.0), at=(205, -10), yaw=-11.0)),
    "everted-jar": dict(
        profile=[[(55, 0), (74, 16), (108, 36), (121, 66), (109, 94), (86, 100), (84, 108), (92, 113), (104, 118.5)],
                 [(104, 118.5), (107.5, 120.0), (108.0, 122.5), (108.0, 126.0)]],
        wall=6.0, focal=40.0, distance=600, elevation=16, azimuth=-120, target=(48, 0, 56), roll=0.3,
        pane=dict(thickness=12.0, turn=-6.0, face=230.0),
        reference=dict(place="standing", size=(85.6, 53.98), at=(178, 30), yaw=-15.0)),
    "barrel": dict(
        profile=[[(55, 0), (61, 25), (76, 70), (77, 130), (66, 180), (59, 205)]],
        wall=5.0, focal=26.0, distance=455, elevation=24, azimuth=75, target=(62, 0, 100), roll=-3.5,
        pane=None,
        reference=dict(place="leaning", size=(120.0, 80.0), at=(150, 10), yaw=-12.0, lean=17.0)),
    "round-pot": dict(
        profile=[[(0, 0), (32, 0), (80, 14), (112, 62), (104, 120), (68, 138), (66, 156), (72, 168), (84, 180)]],
        wall=6.5, focal=52.0, distance=930, elevation=28, azimuth=-15, target=(-70, 0, 70), roll=-0.4,
        pane=dict(thickness=6.0, turn=5.0, face=260.0),
        reference=dict(place="lying", size=(120.0, 80.0), at=(-200, 30), yaw=17.0)),
}


def resample(points, step):
    """The same polyline with extra points on its segments, none further apart than step."""
    out = [points[:1]]
    for a, b in zip(points[:-1], points[1:]):
        n = max(1, int(math.ceil(np.hypot(*(b - a)) / step)))
        out.append(a + (b - a) * (np.arange(1, n + 1) / n)[:, None])
    return np.vstack(out)


def inner_surface(profile, wall):
    """Inner face from the axis up to the lip, then to the lip's outer edge: the outer face with its
    base moved inwards by the wall along its normal, cut off at the rim's height."""
    skin = profile if profile[0, 0] == 0 else np.vstack([[0.0, 0.0], profile])
    top = profile[-1, 1]
    # Go on past the rim in a straight line so that a flared wall is cut by the plane of the rim,
    # and stop square to an inturned wall.
    t = profile[-1] - profile[-2]
    t /= np.hypot(*t)
    flared = t[0] > 0
    fine = resample(np.vstack([skin, profile[-1] + 40.0 * t]) if flared else skin, 0.02)
    seg = np.diff(fine, axis=0)
    seg /= np.hypot(seg[:, 0], seg[:, 1])[:, None]
    normal = np.column_stack([-seg[:, 1], seg[:, 0]])  # to the left of the way up: inwards
    moved = np.vstack([fine[:-1] + wall * normal, fine[1:] + wall * normal])
    order = np.argsort(np.concatenate([np.arange(len(seg)), np.arange(len(seg)) + 0.5]), kind="stable")
    moved = moved[order]
    near, _ = cKDTree(fine).query(moved)
    keep = (near > wall - 1e-4) & (moved[:, 0] >= 0) & (moved[:, 1] <= top)
    inner = moved[keep]
    inner = np.vstack([[0.0, inner[0, 1]], inner])
    if flared:  # the last piece up to the plane of the rim
        inner = np.vstack([inner, [inner[-1, 0] + (top - inner[-1, 1]) * t[0] / t[1], top]])
    return inner, profile[-1]


def revolved_ml(points):
    """Volume inside the surface swept by a polyline, closed by flat discs: frustums, exactly."""
    r, z = points[:, 0], points[:, 1]
    return float(np.sum(math.pi / 3 * (r[:-1]**2 + r[:-1] * r[1:] + r[1:]**2) * np.diff(z)) / 1000.0)


def sizes(profile):
    r, z = profile[:, 0], profile[:, 1]
    i = int(np.argmax(r))
    above = r[i:]
    dips = [k for k in range(1, len(above) - 1) if above[k] <= above[k - 1] and above[k] < above[k + 1]]
    neck = i + min(dips, key=lambda k: above[k]) if dips else None
    return {
        "height": float(z[-1]), "max_diameter": float(2 * r[i]), "height_of_max": float(z[i]),
        "neck_diameter": None if neck is None else float(2 * r[neck]),
        "height_of_neck": None if neck is None else float(z[neck]),
        "rim_diameter": float(2 * r[-1]), "base_diameter": float(2 * r[0]) if r[0] > 0 else None,
    }


# ---------------------------------------------------------------- camera, pane, reference
def unit(v):
    v = np.asarray(v, float)
    return v / np.linalg.norm(v)


def view(azimuth_deg):
    """Level directions as the viewer sees them: to the right, and towards the viewer."""
    a = math.radians(azimuth_deg)
    towards = np.array([math.cos(a), math.sin(a), 0.0])
    return np.array([-math.sin(a), math.cos(a), 0.0]), towards


def camera(s, width, height):
    right, towards = view(s["azimuth"])
    aim = s["target"][0] * right + s["target"][1] * towards + np.array([0, 0, s["target"][2]])
    e = math.radians(s["elevation"])
    out = towards * math.cos(e) + np.array([0, 0, math.sin(e)])
    centre = aim + s["distance"] * out
    forward = -out
    x = unit(np.cross(forward, [0, 0, 1]))
    y = np.cross(forward, x)
    roll = math.radians(s["roll"])
    xr, yr = math.cos(roll) * x + math.sin(roll) * y, -math.sin(roll) * x + math.cos(roll) * y
    return {
        "width_px": width, "height_px": height,
        "f_px": s["focal"] * math.hypot(width, height) / FILM_DIAGONAL_MM,
        "cx": (width - 1) / 2, "cy": (height - 1) / 2,
        "R": np.vstack([xr, yr, forward]).tolist(), "C": centre.tolist(),
    }


def pane(s):
    if s["pane"] is None:
        return None
    p = s["pane"]
    azimuth = s["azimuth"] + p["turn"]
    return {"thickness_mm": p["thickness"], "index": INDEX, "normal_azimuth_deg": azimuth,
            "turn_from_camera_deg": p["turn"], "outer_face_to_axis_mm": p["face"]}


def reference(s):
    q = s["reference"]
    w, h = q["size"]
    out = {"kind": "rectangle", "width_mm": w, "height_mm": h, "place": q["place"],
           "behind_glass": s["pane"] is not None and q["place"] != "on-glass", "glass_to_axis_mm": None}
    if q["place"] == "on-glass":
        right, towards = view(s["azimuth"] + s["pane"]["turn"])
        t = math.radians(q["turn"])
        up = np.array([0, 0, 1.0])
        along, high = math.cos(t) * right + math.sin(t) * up, -math.sin(t) * right + math.cos(t) * up
        centre = s["pane"]["face"] * towards + q["at"][0] * right + q["at"][1] * up
        low = centre - along * w / 2 - high * h / 2
        out["glass_to_axis_mm"] = s["pane"]["face"]
    else:
        right, towards = view(s["azimuth"])
        along, near = view(s["azimuth"] + q["yaw"])
        at = q["at"][0] * right + q["at"][1] * towards
        if q["place"] == "lying":
            high = -near
            low = at - along * w / 2 - high * h / 2
        else:
            lean = math.radians(q.get("lean", 0.0))
            high = math.cos(lean) * np.array([0, 0, 1.0]) - math.sin(lean) * near
            low = at - along * w / 2
            out["lean_deg"] = q.get("lean", 0.0)
    out["corners"] = [(low + a * w * along + b * h * high).tolist() for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))]
    return out


def truth(name, s, width=WIDTH, height=HEIGHT):
    profile = join(*s["profile"])
    inner, edge = inner_surface(profile, s["wall"])
    return {
        "name": name, "width_px": width, "height_px": height, "focal_35mm": s["focal"],
        "camera": camera(s, width, height), "elevation_deg": s["elevation"],
        "pane": pane(s), "reference": reference(s), "sizes_mm": sizes(profile),
        "base": "flat" if profile[0, 0] > 0 else "round", "wall_mm": s["wall"],
        "capacity_ml": revolved_ml(np.vstack([inner, edge])), "outer_volume_ml": revolved_ml(profile),
        "profile": [[round(float(r), 6), round(float(z), 6)] for r, z in profile],
    }


# ---------------------------------------------------------------- POV-Ray
def vec(p):
    return "<%.15f, %.15f, %.15f>" % (p[0], p[2], p[1])


def camera_text(c):
    r = np.asarray(c["R"])
    w, h = c["width_px"], c["height_px"]
    forward = c["f_px"] * r[2] + ((w - 1) / 2 - c["cx"]) * r[0] + ((h - 1) / 2 - c["cy"]) * r[1]
    return "camera { perspective location %s direction %s right %s up %s }\n" % (
        vec(c["C"]), vec(forward / w), vec(r[0]), vec(-h / w * r[1]))


def lathe_text(points, texture):
    rows = ",\n".join("<%.6f, %.6f>" % (p[0], p[1]) for p in points)
    return "lathe { linear_spline %d,\n%s\n%s }\n" % (len(points), rows, texture)


def pane_text(p, texture):
    """A slab much wider than the view.  Its outer face is a hair behind the stated plane so that a
    reference lying on that plane is not inside the glass."""
    hair = 0.005
    face = p["outer_face_to_axis_mm"] - hair
    return "box { <%.6f, -4000, -4000>, <%.6f, 4000, 4000> rotate <0, %.9f, 0> %s interior { ior %.6f } }\n" % (
        face - p["thickness_mm"], face, -p["normal_azimuth_deg"], texture, p["index"])


def mask_scene(t):
    """Flat colours: outer face red, inner face and lip green, reference blue, all else black."""
    flat = "pigment { rgb <%d, %d, %d> } finish { ambient 0 diffuse 0 emission 1 }"
    profile = np.asarray(t["profile"])
    inner, edge = inner_surface(profile, t["wall_mm"])
    inner = inner[np.unique(np.concatenate([np.linspace(0, len(inner) - 1, 500).round().astype(int)]))]
    corners = t["reference"]["corners"]
    text = "#version 3.7;\nglobal_settings { assumed_gamma 1.0 max_trace_level 12 }\nbackground { rgb 0 }\n"
    text += camera_text(t["camera"])
    text += lathe_text(profile, flat % (1, 0, 0))
    text += lathe_text(np.vstack([inner, edge]), flat % (0, 1, 0))
    text += "mesh { %s %s }\n" % (" ".join("triangle { %s }" % ", ".join(vec(corners[i]) for i in c)
                                            for c in ((0, 1, 2), (0, 2, 3))), flat % (0, 0, 1))
    if t["pane"]:
        text += pane_text(t["pane"], "pigment { rgbt <1, 1, 1, 1> } finish { ambient 0 diffuse 0 }")
    return text


def render_mask(t, png, threads):
    with tempfile.TemporaryDirectory() as folder:
        pov = os.path.join(folder, "scene.pov")
        out = os.path.join(folder, "scene.png")
        with open(pov, "w", encoding="ascii") as f:
            f.write(mask_scene(t))
        c = t["camera"]
        subprocess.run(["povray", "+I" + pov, "+O" + out, "+W%d" % c["width_px"], "+H%d" % c["height_px"], "+FN8",
                        "-D", "-GA", "+WT%d" % threads, "+A0.001", "+AM1", "+R9", "+J1.0", "File_Gamma=1.0"],
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        image = Image.open(out).convert("RGB")
        image.save(png, optimize=True)  # without a gamma note: the numbers are plain coverage


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--truth-only", action="store_true")
    parser.add_argument("--threads", type=int, default=1)
    args = parser.parse_args()
    for name in args.names or SCENES:
        t = truth(name, SCENES[name])
        with open(os.path.join(HERE, name + ".json"), "w", encoding="utf-8") as f:
            rows = ",\n".join("    [%.6f, %.6f]" % tuple(p) for p in t.pop("profile"))
            head = json.dumps(t, indent=2)
            f.write(head[:-2] + ',\n  "profile": [\n' + rows + "\n  ]\n}\n")
        if not args.truth_only:
            with open(os.path.join(HERE, name + ".json"), encoding="utf-8") as f:
                render_mask(json.load(f), os.path.join(HERE, name + ".png"), args.threads)
        print(name, {k: v and round(v, 2) for k, v in t["sizes_mm"].items()}, round(t["capacity_ml"], 1),
              round(t["outer_volume_ml"], 1))


if __name__ == "__main__":
    main()
