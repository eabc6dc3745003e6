#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Makes the two furnished test scenes: truth (NAME.json), masks (NAME-things.png, NAME-floor.png) and a
small picture for the eye (NAME-view.png).

Needs python3-numpy, python3-scipy, python3-pil and povray.  Not part of the build.

    render_places.py [--truth-only] [--only view|things|floor] [--threads N] [NAME ...]

Frames and vessels as in render.py.  Level places are given as seen from the camera's side of the
vessel: (to the right, towards the viewer).
"""
import argparse
import json
import math
import os
import re
import subprocess
import tempfile

import numpy as np
from PIL import Image

import render
from render import HERE, HEIGHT, WIDTH, inner_surface, join, lathe_text, pane_text, unit, vec, view

UP = np.array([0.0, 0.0, 1.0])
HAIR = 0.01  # what lies on the pane's inner face is this far from its stated plane, so that it is not inside the glass
STRIP_MM = 20.0  # width of the strips whose one edge is a known length

# Things: kind (rectangle, disc, length), place, size, where, and how turned.  `riser` is how far their
# shelf is below the vessel's; `depth` is of things beside the vessel.
SCENES = {
    "open-table": dict(
        vessel="flared-jar", focal=34.0, distance=900, elevation=25, azimuth=-75, target=(12, 15, 62), roll=0.7,
        pane=None, riser=0.0, boxes=[dict(at=(250, -150), yaw=-8.0, size=(190, 110), height=40.0, base=0.0)],
        neighbour=dict(vessel="keeled-bowl", at=(-285, -175)),
        floor=dict(pitch=60.0, yaw=11.0, at=(7, 13), half_width=540.0, back=330.0),
        things={
            "card-lying": dict(kind="rectangle", place="lying", size=(120.0, 80.0), at=(-280, 150), yaw=12.0),
            "card-standing": dict(kind="rectangle", place="standing", size=(85.6, 53.98), at=(-330, 10), yaw=14.0),
            "label-leaning": dict(kind="rectangle", place="leaning", size=(120.0, 80.0), at=(205, 130), yaw=-12.0, lean=21.0),
            "card-on-step": dict(kind="rectangle", place="lying", size=(120.0, 80.0), at=(250, -150), yaw=-15.0, riser=-40.0),
            "card-beside": dict(kind="rectangle", place="beside", size=(85.6, 53.98), beside=185.0, height=205.0, yaw=13.0,
                                turn=4.0, depth=-18.0),
            "disc-lying": dict(kind="disc", place="lying", size=80.0, at=(-140, 210)),
            "disc-standing": dict(kind="disc", place="standing", size=70.0, at=(345, 135), yaw=16.0),
            "disc-leaning": dict(kind="disc", place="leaning", size=80.0, at=(90, 195), yaw=17.0, lean=32.0),
            "rule-lying": dict(kind="length", place="lying", size=180.0, at=(30, 240), yaw=-9.0),
            "rule-standing": dict(kind="length", place="standing", size=150.0, at=(372, -30), yaw=-8.0),
            "rule-leaning": dict(kind="length", place="leaning", size=150.0, at=(450, -30), yaw=-6.0, lean=24.0),
            "rule-beside": dict(kind="length", place="beside", size=140.0, beside=330.0, height=195.0, turn=24.0, depth=22.0),
        }),
    "glass-case": dict(
        vessel="everted-jar", focal=34.0, distance=860, elevation=22, azimuth=-110, target=(-10, 20, 45), roll=-0.6,
        pane=dict(thickness=10.0, turn=6.0, face=250.0), riser=40.0,
        boxes=[dict(at=(-30, 0), yaw=0.0, size=(330, 270), height=40.0, base=-40.0)],
        neighbour=dict(vessel="barrel", at=(-290, -165)),
        floor=dict(pitch=60.0, yaw=6.0 - 9.0, at=(11, 5), half_width=540.0, back=330.0),
        things={
            "card-lying-below": dict(kind="rectangle", place="lying", size=(120.0, 80.0), at=(228, 100), yaw=-13.0, riser=40.0),
            "card-standing-below": dict(kind="rectangle", place="standing", size=(85.6, 53.98), at=(240, -10), yaw=-12.0, riser=40.0),
            "label-leaning-below": dict(kind="rectangle", place="leaning", size=(120.0, 80.0), at=(215, -190), yaw=-15.0,
                                        lean=19.0, riser=40.0),
            "card-inside-pane": dict(kind="rectangle", place="on-glass", size=(85.6, 53.98), at=(-215, 20), turn=2.0),
            "card-outside-pane": dict(kind="rectangle", place="on-glass", size=(85.6, 53.98), at=(-262, 84), turn=-3.0,
                                      outer=True),
            "disc-inside-pane": dict(kind="disc", place="on-glass", size=60.0, at=(66, -3)),
            "rule-inside-pane": dict(kind="length", place="on-glass", size=150.0, at=(-62, 3), turn=7.0),
            "card-beside": dict(kind="rectangle", place="beside", size=(85.6, 53.98), beside=195.0, height=165.0, yaw=-11.0,
                                turn=-3.0, depth=25.0),
            "disc-lying-below": dict(kind="disc", place="lying", size=80.0, at=(353, 90), riser=40.0),
            "disc-lying": dict(kind="disc", place="lying", size=70.0, at=(-150, 78)),
            "rule-standing-below": dict(kind="length", place="standing", size=150.0, at=(345, -60), yaw=-5.0, riser=40.0),
        }),
}


# ---------------------------------------------------------------- truth
def rectangle(low, along, high, w, h):
    return [low + a * w * along + b * h * high for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))]


def thing(q, s, eye, pane):
    """The truth of one thing: its given figures, and the corners of its face or the centre, normal and
    radius of its disc."""
    right, towards = view(s["azimuth"])
    out = {"kind": q["kind"], "place": q["place"], "behind_glass": pane is not None and not q.get("outer", False),
           "riser_mm": q.get("riser", 0.0)}
    ground = -out["riser_mm"] * UP
    kind, size = q["kind"], q["size"]
    # A strip of a known length lies along its lower edge, or stands along its left edge.
    upright = kind == "length" and q["place"] in ("standing", "leaning")
    w, h = (STRIP_MM, size) if upright else (size, STRIP_MM) if kind == "length" else size if kind == "rectangle" else (size, size)
    if q["place"] == "on-glass":
        face = pane["outer_face_to_axis_mm"] - (0.0 if q.get("outer") else pane["thickness_mm"])
        along, normal = view(pane["normal_azimuth_deg"])
        t = math.radians(q.get("turn", 0.0))
        along, high = math.cos(t) * along + math.sin(t) * UP, -math.sin(t) * along + math.cos(t) * UP
        middle = face * normal + q["at"][0] * view(pane["normal_azimuth_deg"])[0] + q["at"][1] * UP
        middle = middle - (0.0 if q.get("outer") else HAIR) * normal
        out["glass_to_axis_mm"] = face
        low = middle - along * w / 2 - high * h / 2
    elif q["place"] == "beside":
        # Depth is level, along the line from the eye to the axis.
        inwards = unit([-eye[0], -eye[1], 0.0])
        across = np.cross(inwards, UP)
        y, t = math.radians(q.get("yaw", 0.0)), math.radians(q["turn"])
        level = math.cos(y) * across + math.sin(y) * inwards
        along, high = math.cos(t) * level + math.sin(t) * UP, -math.sin(t) * level + math.cos(t) * UP
        out["depth_offset_mm"] = q["depth"]
        low = q["beside"] * across + q["depth"] * inwards + q["height"] * UP - along * w / 2 - (0 if kind == "length" else h / 2) * high
    else:
        along, near = view(s["azimuth"] + q.get("yaw", 0.0))
        lean = math.radians(90.0 if q["place"] == "lying" else q.get("lean", 0.0))
        high = math.cos(lean) * UP - math.sin(lean) * near
        low = ground + q["at"][0] * right + q["at"][1] * towards - along * w / 2
        if q["place"] == "lying":
            low = low - high * h / 2
    if kind == "disc":
        out["diameter_mm"] = size
        out["centre"] = (low + along * w / 2 + high * h / 2).tolist()
        out["normal"] = np.cross(along, high).tolist()
        return out
    out["corners"] = [p.tolist() for p in rectangle(low, along, high, w, h)]
    if kind == "length":
        out["length_mm"] = size
        out["ends"] = [0, 3] if upright else [0, 1]  # which corners are its ends
    else:
        out["width_mm"], out["height_mm"] = size
    return out


def vessel_truth(name):
    s = render.SCENES[name]
    profile = join(*s["profile"])
    return {"sizes_mm": render.sizes(profile), "wall_mm": s["wall"],
            "profile": [[round(float(r), 6), round(float(z), 6)] for r, z in profile]}


def truth(name, s):
    camera = render.camera(s, WIDTH, HEIGHT)
    eye = np.array(camera["C"])
    pane = render.pane(s)
    right, towards = view(s["azimuth"])
    vessel = vessel_truth(s["vessel"])
    neighbour = vessel_truth(s["neighbour"]["vessel"])
    at = s["neighbour"]["at"]
    neighbour["at"] = (at[0] * right + at[1] * towards - s["riser"] * UP).tolist()
    neighbour["riser_mm"] = s["riser"]
    half = np.array([0, 0, vessel["sizes_mm"]["height"] / 2])
    return {"name": name, "width_px": WIDTH, "height_px": HEIGHT, "focal_35mm": s["focal"], "camera": camera,
            "pane": pane, "shelf_riser_mm": s["riser"], "distance_mm": float(np.linalg.norm(eye - half)),
            "floor": {"pitch_mm": s["floor"]["pitch"]},
            "things": {k: thing(q, s, eye, pane) for k, q in s["things"].items()},
            "neighbour": neighbour, **vessel}


# ---------------------------------------------------------------- POV-Ray
def flat(r, g, b):
    return "pigment { rgb <%g, %g, %g> } finish { ambient 0 diffuse 0 emission 1 }" % (r, g, b)


def shaded(r, g, b):
    return "pigment { rgb <%g, %g, %g> } finish { ambient 0.25 diffuse 0.7 }" % (r, g, b)


def pot_text(t, outer, inner_texture, at):
    profile = np.asarray(t["profile"])
    inner, edge = inner_surface(profile, t["wall_mm"])
    inner = inner[np.unique(np.linspace(0, len(inner) - 1, 500).round().astype(int))]
    move = "translate %s" % vec(at)
    return (lathe_text(profile, outer + " " + move) +
            lathe_text(np.vstack([inner, edge]), inner_texture + " " + move))


def thing_text(t, texture):
    if t["kind"] == "disc":
        return "disc { %s, %s, %.9f %s }\n" % (vec(t["centre"]), vec(t["normal"]), t["diameter_mm"] / 2, texture)
    c = t["corners"]
    return "mesh { %s %s }\n" % (" ".join("triangle { %s }" % ", ".join(vec(c[i]) for i in k)
                                          for k in ((0, 1, 2), (0, 2, 3))), texture)


def box_text(b, s, texture):
    """A box with its top `height` above `base`."""
    right, towards = view(s["azimuth"])
    along, near = view(s["azimuth"] + b["yaw"])
    middle = b["at"][0] * right + b["at"][1] * towards
    # The box is made along POV-Ray's x and z, then turned: its x onto `along`.
    turn = -math.degrees(math.atan2(along[1], along[0]))
    w, d = b["size"]
    sink = 0.1  # so that what lies on it, at the stated height, hides it
    return "box { <%g, %g, %g>, <%g, %g, %g> rotate <0, %.9f, 0> translate %s %s }\n" % (
        -w / 2, b["base"], -d / 2, w / 2, b["base"] + b["height"] - sink, d / 2, turn, vec(middle), texture)


def floor_text(t, s, one, other, finish, sink=0.0):
    """A tiled floor up to the pane's inner face (or far to the front where there is none)."""
    f = s["floor"]
    right, towards = view(s["azimuth"])
    along, near = view(t["pane"]["normal_azimuth_deg"] if t["pane"] else s["azimuth"])
    front = t["pane"]["outer_face_to_axis_mm"] - t["pane"]["thickness_mm"] - HAIR if t["pane"] else 420.0
    low = -(s["riser"] + sink) * UP
    w, b = f["half_width"], -f["back"]
    corner = [low + x * along + y * near for x, y in ((-w, front), (w, front), (w, b), (-w, b))]
    tile, _ = view(s["azimuth"] + f["yaw"])
    turn = -math.degrees(math.atan2(tile[1], tile[0]))
    at = f["at"][0] * right + f["at"][1] * towards
    return ("mesh { triangle { %s, %s, %s } triangle { %s, %s, %s }\n" % tuple(vec(corner[i]) for i in (0, 1, 2, 0, 2, 3)) +
            "  pigment { checker %s %s translate <0, 0.5, 0> scale %g rotate <0, %.9f, 0> translate %s } %s }\n" % (
                one, other, f["pitch"], turn, vec([at[0], at[1], -s["riser"] - sink]), finish))


HEAD = "#version 3.7;\nglobal_settings { assumed_gamma 1.0 max_trace_level 12 }\nbackground { rgb %s }\n"
CLEAR = "pigment { rgbt <1, 1, 1, 1> } finish { ambient 0 diffuse 0 }"
GLOW = "finish { ambient 0 diffuse 0 emission 1 }"


def things_scene(t, s):
    """Outer faces red, inner faces and lips green, things blue; floor and boxes black."""
    n = t["neighbour"]
    text = HEAD % "0" + render.camera_text(t["camera"])
    text += pot_text(t, flat(1, 0, 0), flat(0, 1, 0), [0, 0, 0]) + pot_text(n, flat(1, 0, 0), flat(0, 1, 0), n["at"])
    text += "".join(thing_text(q, flat(0, 0, 1)) for q in t["things"].values())
    text += "".join(box_text(b, s, flat(0, 0, 0)) for b in s["boxes"])
    return text + (pane_text(t["pane"], CLEAR) if t["pane"] else "")


def floor_scene(t, s):
    """Tiles red and green, all that stands or lies on them blue; below the floor's front edge black."""
    blue, n = flat(0, 0, 1), t["neighbour"]
    text = HEAD % "0" + render.camera_text(t["camera"])
    text += pot_text(t, blue, blue, [0, 0, 0]) + pot_text(n, blue, blue, n["at"])
    lifted = blue + " translate <0, 0.05, 0>"  # what lies on the floor hides it
    text += "".join(thing_text(q, lifted) for q in t["things"].values())
    text += "".join(box_text(b, s, blue) for b in s["boxes"])
    text += floor_text(t, s, "rgb <1, 0, 0>", "rgb <0, 1, 0>", GLOW)
    return text + (pane_text(t["pane"], CLEAR) if t["pane"] else "")


def view_scene(t, s):
    n = t["neighbour"]
    right, towards = view(s["azimuth"])
    text = HEAD % "<0.55, 0.54, 0.52>" + render.camera_text(t["camera"])
    text += "light_source { %s rgb 0.9 area_light <300, 0, 0>, <0, 0, 300>, 4, 4 }\n" % vec(900 * UP + 500 * towards - 500 * right)
    text += "light_source { %s rgb 0.35 shadowless }\n" % vec(t["camera"]["C"])
    clay, dark = shaded(0.72, 0.40, 0.26), shaded(0.45, 0.24, 0.16)
    text += pot_text(t, clay, dark, [0, 0, 0]) + pot_text(n, shaded(0.62, 0.5, 0.36), dark, n["at"])
    text += "".join(thing_text(q, shaded(0.92, 0.9, 0.82) if q["kind"] != "disc" else shaded(0.85, 0.7, 0.3))
                    for q in t["things"].values())
    text += "".join(box_text(b, s, shaded(0.5, 0.5, 0.55)) for b in s["boxes"])
    text += floor_text(t, s, "rgb <0.75, 0.72, 0.66>", "rgb <0.42, 0.44, 0.46>", "finish { ambient 0.25 diffuse 0.6 }", 0.3)
    clear = "pigment { rgbt <0.97, 1, 0.98, 0.97> } finish { ambient 0 diffuse 0 }"
    return text + (pane_text(t["pane"], clear) if t["pane"] else "")


def trace(text, width, height, threads, antialias):
    with tempfile.TemporaryDirectory() as folder:
        pov, out = os.path.join(folder, "scene.pov"), os.path.join(folder, "scene.png")
        with open(pov, "w", encoding="ascii") as f:
            f.write(text)
        subprocess.run(["povray", "+I" + pov, "+O" + out, "+W%d" % width, "+H%d" % height, "+FN8", "-D", "-GA",
                        "+WT%d" % threads, "File_Gamma=1.0"] + antialias,
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        return Image.open(out).convert("RGB").copy()


# Each pixel's value is the share of it that is covered.  One block, for where two blocks meet POV-Ray does not
# see that neighbouring pixels differ and takes one sample instead of 81.
MASK = ["+A0.001", "+AM1", "+R9", "+J1.0", "+BS2048"]
EYE = ["+A0.1", "+AM2", "+R2", "-J"]


def save_view(t, s, path, threads):
    picture = np.asarray(trace(view_scene(t, s), 672, 504, threads, EYE), float) / 255.0
    Image.fromarray((255 * picture.clip(0, 1) ** (1 / 2.2)).round().astype(np.uint8)).quantize(160, dither=Image.Dither.NONE).save(path, optimize=True)


def write_truth(t, path):
    """All but the neighbour's profile, with short lists on one line."""
    told = dict(t, neighbour={k: v for k, v in t["neighbour"].items() if k != "profile"})
    profile = told.pop("profile")
    text = re.sub(r"\[\s+([^][{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s+", " ", m.group(1)) + "]", json.dumps(told, indent=1))
    rows = ",\n".join("  [%.6f, %.6f]" % tuple(p) for p in profile)
    with open(path, "w", encoding="utf-8") as f:
        f.write(text[:-2] + ',\n "profile": [\n' + rows + "\n ]\n}\n")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--truth-only", action="store_true")
    parser.add_argument("--only", choices=["view", "things", "floor"], help="one picture alone")
    parser.add_argument("--threads", type=int, default=1)
    args = parser.parse_args()
    for name in args.names or SCENES:
        s = SCENES[name]
        t = truth(name, s)
        path = os.path.join(HERE, name)
        write_truth(t, path + ".json")
        if args.truth_only:
            continue
        if args.only in (None, "view"):
            save_view(t, s, path + "-view.png", args.threads)
        for part, text in (("things", things_scene(t, s)), ("floor", floor_scene(t, s))):
            if args.only in (None, part):
                trace(text, WIDTH, HEIGHT, args.threads, MASK).save("%s-%s.png" % (path, part), optimize=True)
        print(name, {k: v and round(v, 2) for k, v in t["sizes_mm"].items()})


if __name__ == "__main__":
    main()
