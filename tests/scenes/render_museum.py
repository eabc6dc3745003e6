#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Makes the museum photographs of 12 megapixels (museum/NAME.jpg) and their truth (museum/NAME.json).

Needs povray, python3-numpy, python3-scipy, python3-pil, python3-skimage and fonts-dejavu-core.  Not part of the build.

    render_museum.py [--scale S] [--out FOLDER] [--truth-only | --photo-only] [NAME ...]

Frames as in render.py.  POV-Ray renders a little more than the picture, in linear light, as a pinhole camera
would see it, in pixels three times as wide as the photograph's: their mean and the interpolation between them
are most of the lens's blur (1 px).  The rest of that, the lens's bending, the sensor's noise, the curve of sRGB and
JPEG come after.  The truth is read off a mask that POV-Ray makes of the same scene, and bent by the same lens.
"""
import argparse
import json
import math
import os
import subprocess
import sys
import tempfile

import numpy as np
from PIL import Image
from scipy.spatial import cKDTree
from scipy.ndimage import distance_transform_edt, gaussian_filter, map_coordinates
from skimage.measure import find_contours

import museum_textures as textures
import render
from museum_scenes import SCENES, VESSELS
from render import HERE, inner_surface, join, pane_text, unit, vec, view

WIDTH, HEIGHT = 4032, 3024
COARSE = 3  # pixels of the photograph to one of the renderer, each way
MARGIN = 16  # of the renderer's pixels beyond each edge at full size, for the lens to bend in
CARD_MM = 0.4  # thickness of the cards: the face of a lying one is this far above the shelf
UP = np.array([0.0, 0.0, 1.0])
FAR_MM = 2600.0  # from the axis to the reflected wall of the gallery


# ---------------------------------------------------------------- truth of the things
def vessel_truth(name, scale=1.0):
    v = VESSELS[name]
    return {"profile": join(*[[(r * scale, z * scale) for r, z in piece] for piece in v["profile"]]), "wall_mm": v["wall"] * scale}


def card_corners(s, q):
    c = np.asarray(render.reference(dict(s, reference=q))["corners"])
    return c + (CARD_MM * UP if q["place"] == "lying" else 0.0)


def axes(t):
    """Directions out of the case, to the right and up, of the pane or of the view where there is none."""
    right, out = view(t["pane"]["normal_azimuth_deg"] if t["pane"] else t["azimuth"])
    return out, right


def scene_truth(name, s, scale):
    w, h = int(round(WIDTH * scale)), int(round(HEIGHT * scale))
    t = vessel_truth(s["vessel"])
    return dict(t, name=name, width_px=w, height_px=h, azimuth=s["azimuth"], focal_35mm=s["focal"],
                camera=dict(render.camera(s, w, h), k1=s["k1"]), pane=render.pane(s), sizes_mm=render.sizes(t["profile"]),
                corners=card_corners(s, s["reference"]))


# ---------------------------------------------------------------- projection
def through_pane(eye, points, pane):
    """Where each point seems to be from the eye: on the straight line that its light leaves the pane along."""
    if pane is None:
        return points
    a = math.radians(pane["normal_azimuth_deg"])
    out = np.array([math.cos(a), math.sin(a), 0.0])
    to = eye - points
    depth = to @ out
    level = to - depth[:, None] * out
    across = np.linalg.norm(level, axis=1)
    slant = across / depth  # tangent of the angle of incidence, by iteration
    for _ in range(60):
        sine = slant / np.sqrt(1 + slant**2)
        inside = sine / pane["index"] / np.sqrt(1 - (sine / pane["index"]) ** 2)
        slant = (across - pane["thickness_mm"] * inside) / (depth - pane["thickness_mm"])
    return eye - depth[:, None] * out - level / np.maximum(across, 1e-12)[:, None] * (slant * depth)[:, None]


def project(points, t):
    """Pinhole pixels of points in the vessel's frame."""
    c = t["camera"]
    eye = np.asarray(c["C"])
    p = (through_pane(eye, np.asarray(points, float), t["pane"]) - eye) @ np.asarray(c["R"]).T
    return p[:, :2] / p[:, 2:] * c["f_px"] + [c["cx"], c["cy"]]


def bent(pixels, c):
    """Pinhole pixels as the lens shows them: the place from the middle times 1 + k1 r^2."""
    middle = np.array([c["cx"], c["cy"]])
    x = (np.asarray(pixels) - middle) / c["f_px"]
    return middle + x * (1 + c["k1"] * (x**2).sum(axis=-1, keepdims=True)) * c["f_px"]


def circle(radius, height, count=7200):
    a = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return np.column_stack([radius * np.cos(a), radius * np.sin(a), np.full(count, float(height))])


# ---------------------------------------------------------------- POV-Ray
def direction(v):
    return "<%.9f, %.9f, %.9f>" % (v[0], v[2], v[1])


def turned_text(points, around, texture):
    """The surface swept by a polyline, as triangles with smooth normals."""
    step = np.gradient(points, axis=0)
    step /= np.maximum(np.hypot(step[:, 0], step[:, 1]), 1e-12)[:, None]
    a = np.linspace(0, 2 * math.pi, around, endpoint=False)
    cosine, sine = np.cos(a)[None, :], np.sin(a)[None, :]
    places = np.stack([points[:, :1] * cosine, np.broadcast_to(points[:, 1:], (len(points), around)), points[:, :1] * sine], axis=-1)
    normals = np.stack([step[:, 1:] * cosine, np.broadcast_to(-step[:, :1], (len(points), around)), step[:, 1:] * sine], axis=-1)
    k = np.arange(len(points) - 1)[:, None] * around + np.arange(around)[None, :]
    n = np.arange(len(points) - 1)[:, None] * around + (np.arange(around)[None, :] + 1) % around
    faces = np.concatenate([np.stack([k, n, k + around], -1).reshape(-1, 3), np.stack([n, n + around, k + around], -1).reshape(-1, 3)])

    def rows(values, form):
        return ("%d, " % len(values)) + ",".join([form] * len(values)) % tuple(values.ravel())
    return "mesh2 { vertex_vectors { %s } normal_vectors { %s } face_indices { %s } %s }\n" % (
        rows(places.reshape(-1, 3), "<%.4f,%.4f,%.4f>"), rows(normals.reshape(-1, 3), "<%.4f,%.4f,%.4f>"),
        rows(faces, "<%d,%d,%d>"), texture)


def pot_text(t, outer, inner, at, spin=0.0, fine=True):
    """`fine`: chords within a hundredth of a pixel of the curve."""
    def thin(points, count):
        return points[np.unique(np.linspace(0, len(points) - 1, count).round().astype(int))]

    inside, edge = inner_surface(t["profile"], t["wall_mm"])
    inside, outside = thin(inside, 80 if fine else 40), thin(t["profile"], 301 if fine else 100)
    inside = np.vstack([inside, edge])
    place = "rotate <0, %g, 0> translate %s" % (spin, vec(at))
    around = 480 if fine else 180
    return turned_text(outside, around, outer + " " + place) + turned_text(inside, around, inner + " " + place)


def handle_text(v, azimuth, texture):
    """A bent roll of clay in the upright plane of that azimuth."""
    a = math.radians(azimuth)
    curve = render.spline(v["handle"], 60)
    rows = ", ".join("%s, %g" % (vec([r * math.cos(a), r * math.sin(a), z]), v["handle_radius"]) for r, z in curve)
    return "sphere_sweep { cubic_spline %d, %s tolerance 0.02 %s }\n" % (len(curve), rows, texture)


def card_text(corners, radius, texture):
    """A card, its corners rounded; the texture's unit square is its face."""
    c = np.asarray(corners)
    w, h = np.linalg.norm(c[1] - c[0]), np.linalg.norm(c[3] - c[0])
    along, high = (c[1] - c[0]) / w, (c[3] - c[0]) / h
    r, t = radius, CARD_MM
    if r > 0:
        body = "union { box { <%g, 0, %g>, <%g, %g, 0> } box { <0, %g, %g>, <%g, %g, 0> }" % (r, -t, w - r, h, r, -t, w, h - r)
        for x, y in ((r, r), (w - r, r), (w - r, h - r), (r, h - r)):
            body += " cylinder { <%g, %g, %g>, <%g, %g, 0>, %g }" % (x, y, -t, x, y, r)
    else:
        body = "union { box { <0, 0, %g>, <%g, %g, 0> }" % (-t, w, h)
    return "object { %s } texture { %s scale <%g, %g, 1> } matrix <%s, %s, %s, %s> }\n" % (
        body, texture, w, h, *(direction(v).strip("<>") for v in (along, high, np.cross(along, high), c[0])))


def prop_text(corners):
    """The wire stand behind a leaning or standing card."""
    c = np.asarray(corners)
    back = np.cross(UP, unit(c[1] - c[0]))
    top = (c[0] + c[1]) / 2 + 0.6 * (c[3] - c[0]) + 2.0 * back
    foot = np.array([top[0], top[1], 0.0]) + 14 * back
    return "cylinder { %s, %s, 1.4 pigment { rgb 0.2 } finish { ambient 0 diffuse 0.6 specular 0.3 } }\n" % (vec(top), vec(foot))


def image(path, extra=""):
    return 'pigment { image_map { png "%s" interpolate 2 %s } }' % (path, extra)


def draw(folder, name, s, rng):
    """Draws every texture of the scene into the folder; returns a function from a key to its file."""
    def path(key):
        return os.path.join(folder, key + ".png")
    for i, q in enumerate([dict(vessel=s["vessel"])] + s["others"]):
        v = VESSELS[q["vessel"]]
        textures.bands(path("pot%d" % i), 2400 if not i or q["front"] else 1200, rng, v["clay"], v["ink"], v["rows"], v["profile"][-1][-1][1])
    for key in ("wall", "shelf"):
        q = s[key]
        kind = "plaster" if q["kind"] == "panel" else q["kind"]
        getattr(textures, kind)(path(key), rng, q["colour"])
    if s["wall"]["kind"] == "panel":
        textures.panel(path("panel"), rng)
    for i, q in enumerate([s["reference"]] + s["cards"]):
        if q["face"] == "scale":
            textures.scale_card(path("card%d" % i))
        else:
            textures.label(path("card%d" % i), q["lines"])
    textures.gallery(path("gallery"), rng, s["windows"], s["people"])
    return path


def gallery_text(t, path, gain, wide):
    """The wall of the gallery behind the viewer, so large that its reflection fills the picture; people and
    windows stand where the picture's shares say."""
    out, right = axes(t)
    c = t["camera"]
    eye, r = np.asarray(c["C"]), np.asarray(c["R"])
    ends = []
    for u, v in ((0, 0), (1, 0), (1, 1), (0, 1)):
        px = np.array([u * wide["width_px"], v * wide["height_px"]])
        ray = np.append((px - [wide["cx"], wide["cy"]]) / c["f_px"], 1.0) @ r
        face = t["pane"]["outer_face_to_axis_mm"]
        hit = eye + ray * (face - eye @ out) / (ray @ out)
        back = ray - 2 * (ray @ out) * out
        ends.append(hit + back * (FAR_MM - face) / (back @ out))
    e = np.array([[p @ right, p[2]] for p in ends])
    low, high = e.min(axis=0), e.max(axis=0)
    corners = [FAR_MM * out + x * right + z * UP for x, z in ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))]
    along, up = corners[1] - corners[0], corners[3] - corners[0]
    return """polygon { 5, <0,0>, <1,0>, <1,1>, <0,1>, <0,0> texture { %s finish { ambient 0 diffuse 0 emission %g } }
  matrix <%s, %s, %s, %s> no_shadow no_image }
""" % (image(path("gallery")), 3.2 * gain, *(direction(v).strip("<>") for v in (along, up, np.cross(unit(along), unit(up)), corners[0])))


def view_scene(t, s, path, wide):
    out, right = axes(t)
    azimuth = math.degrees(math.atan2(out[1], out[0]))
    turned = "rotate <0, %.9f, 0>" % -azimuth
    inner_face = t["pane"]["outer_face_to_axis_mm"] - t["pane"]["thickness_mm"] if t["pane"] else 330.0

    def at(o, r, z):
        return vec(o * out + r * right + z * UP)

    case, room = s["light"]
    text = """#version 3.7;
global_settings { assumed_gamma 1.0 max_trace_level 7 adc_bailout 1/80
  radiosity { pretrace_start 0.08 pretrace_end 0.04 count 20 nearest_count 5 error_bound 1.0 recursion_limit 1
    low_error_factor 0.6 gray_threshold 0.2 minimum_reuse 0.025 brightness 1.0 always_sample off } }
background { rgb <0.030, 0.031, 0.034> }
"""
    text += render.camera_text(wide)
    # The case's own light is a long panel above the shelf; daylight comes weakly from one side of the room.
    text += "light_source { %s rgb <1.0, 0.94, 0.84>*%g area_light %s, %s, 5, 5 adaptive 0 }\n" % (
        at(120, -60, 560), 1.15 * case, direction(430 * right), direction(120 * out))
    side = s["light_side"] if "light_side" in s else 1.0
    text += "light_source { %s rgb <0.84, 0.92, 1.0>*%g area_light %s, %s, 3, 3 adaptive 0 }\n" % (
        at(1500, 1300 * side, 1150), 1.5 * room, direction(700 * right), direction(600 * UP))
    for key, box, mapped in (
            ("shelf", (-s["wall"]["behind"], -22, -1500, inner_face - 3, 0, 1500), "rotate x*90 scale %g" % 460),
            ("wall", (-s["wall"]["behind"] - 20, -900, -1500, -s["wall"]["behind"], 1500, 1500),
             "scale %g rotate y*90 translate y*137" % s["wall"]["tile"])):
        text += "box { <%.4f, %g, %g>, <%.4f, %g, %g> texture { %s %s finish { ambient 0 diffuse 0.8 } } %s }\n" % (
            *box, image(path(key)), mapped, turned)
    # A metal strip along the shelf's front, and the dark below it.
    text += """box { <%.4f, -22, -1500>, <%.4f, 1.2, 1500> %s pigment { rgb <0.42, 0.41, 0.39> }
  finish { ambient 0 diffuse 0.5 specular 0.5 roughness 0.03 } }
""" % (inner_face - 3, inner_face - 1.2, turned)
    text += "box { <%.4f, -900, -1500>, <%.4f, -23, 1500> %s pigment { rgb 0.05 } finish { ambient 0 diffuse 0.7 } }\n" % (
        -s["wall"]["behind"], inner_face - 12, turned)
    if s["wall"]["kind"] == "panel":
        text += """box { <0, 0, 0>, <1, 1, 1> texture { %s finish { ambient 0 diffuse 0.8 } } scale <%g, %g, 4> rotate y*-90
  translate <%.4f, %g, %g> %s }
""" % (image(path("panel")), 480, 320, -s["wall"]["behind"] + 4.2, 60, -190, turned)
    right0, towards = view(s["azimuth"])
    for i, q in enumerate([dict(s, at=(0, 0))] + s["others"]):
        v, k = VESSELS[q["vessel"]], q.get("scale", 1.0)
        if not i:
            k = 1.0
        p = vessel_truth(q["vessel"], k)
        clay = "texture { pigment { rgb <%g, %g, %g> } %s %s }" % (*((np.array(v["clay"]) / 255) ** 2.2 * 0.72), q["bump"], q["finish"])
        paint = "texture { %s scale <1, %.4f, 1> %s %s }" % (image(path("pot%d" % i), "map_type 2"), p["profile"][-1, 1], q["bump"], q["finish"])
        where = q["at"][0] * right0 + q["at"][1] * towards
        text += pot_text(p, paint, clay, where, q["spin"], not i or q["front"])
        if not i and "handle" in v:
            text += handle_text(v, s["azimuth"] + 90 - s["handle_turn"], clay.replace("*0.72", ""))
    for i, q in enumerate([s["reference"]] + s["cards"]):
        c = card_corners(s, q)
        text += card_text(c, q.get("radius", 0.0), "%s finish { ambient 0 diffuse 0.82 }" % image(path("card%d" % i)))
        if q["place"] in ("leaning", "standing"):
            text += prop_text(c)
    if t["pane"]:
        text += gallery_text(t, path, s["gain"], wide)
        text += pane_text(t["pane"], """texture { pigment { rgbt <0.982, 1.0, 0.990, 1> }
  finish { ambient 0 diffuse 0 reflection { 0.0, 1.0 fresnel on } conserve_energy } }""").replace("interior", "no_shadow interior")
    return text


def mask_scene(t, s, wide):
    """Outer face red, inside and lip green, what hides the vessel blue."""
    flat = "texture { pigment { rgb <%d, %d, %d> } finish { ambient 0 diffuse 0 emission 1 } }"
    text = "#version 3.7;\nglobal_settings { assumed_gamma 1.0 max_trace_level 12 }\nbackground { rgb 0 }\n"
    text += render.camera_text(wide)
    text += pot_text(t, flat % (1, 0, 0), flat % (0, 1, 0), [0, 0, 0])
    blue = flat % (0, 0, 1)
    right, towards = view(s["azimuth"])
    for q in s["others"]:
        if q["front"]:
            text += pot_text(vessel_truth(q["vessel"], q.get("scale", 1.0)), blue, blue, q["at"][0] * right + q["at"][1] * towards)
    v = VESSELS[s["vessel"]]
    if "handle" in v:
        text += handle_text(v, s["azimuth"] + 90 - s["handle_turn"], blue)
    for q in [s["reference"]] + s["cards"]:
        if q["place"] in ("leaning", "standing"):
            text += card_text(card_corners(s, q), q.get("radius", 0.0), blue[len("texture { "):-1].rstrip())
    if t["pane"]:
        text += pane_text(t["pane"], "pigment { rgbt <1, 1, 1, 1> } finish { ambient 0 diffuse 0 }")
    return text


def trace(text, wide, options):
    """Renders to linear light, 0 to 1 for 16 bits."""
    with tempfile.TemporaryDirectory() as folder:
        pov, ppm = os.path.join(folder, "scene.pov"), os.path.join(folder, "scene.ppm")
        with open(pov, "w", encoding="ascii") as f:
            f.write(text)
        run = subprocess.run(["povray", "+I" + pov, "+O" + ppm, "+W%d" % wide["width_px"], "+H%d" % wide["height_px"], "+FP16",
                              "-D", "-GA", "+WT1", "File_Gamma=1.0"] + options, capture_output=True, text=True, check=False)
        if run.returncode:
            sys.exit(run.stderr[-3000:])
        with open(ppm, "rb") as f:
            data = f.read()
    pixels = np.frombuffer(data, ">u2", offset=len(data) - wide["width_px"] * wide["height_px"] * 6)
    return (pixels.astype(np.float32) / 65535).reshape(wide["height_px"], wide["width_px"], 3)


def widened(c, margin):
    return dict(c, width_px=c["width_px"] + 2 * margin, height_px=c["height_px"] + 2 * margin, cx=c["cx"] + margin, cy=c["cy"] + margin)


# ---------------------------------------------------------------- from render to photograph
def through_lens(linear, c, margin):
    """The photograph's pixels, of a camera c, out of the renderer's wider ones."""
    v, u = np.mgrid[0:c["height_px"], 0:c["width_px"]].astype(np.float32)
    x, y = (u - c["cx"]) / c["f_px"], (v - c["cy"]) / c["f_px"]
    seen = np.hypot(x, y)
    true = seen.copy()
    for _ in range(4):
        true = seen / (1 + c["k1"] * true**2)
    grow = np.where(seen > 0, true / np.maximum(seen, 1e-9), 1)
    at = np.array([y * grow * c["f_px"] + c["cy"], x * grow * c["f_px"] + c["cx"]], np.float32)
    at = (at + 0.5) / COARSE - 0.5 + margin
    return np.stack([map_coordinates(linear[..., k], at, output=np.float32, order=3, mode="nearest") for k in range(3)], axis=-1)


RENDERED_BLUR_PX = 0.95  # a square of three pixels, and cubic interpolation


def photograph(linear, s, rng):
    """Blur by the lens; shot and read noise; a phone's smoothing of it, stronger in colour than in brightness;
    then the curve of sRGB."""
    rest = math.sqrt(max(0.0, s["blur"] ** 2 - RENDERED_BLUR_PX**2))
    linear = gaussian_filter(linear * s["exposure"], (rest, rest, 0)).clip(0, None)
    linear = linear / (1 + 0.18 * linear)  # bright places roll off
    sd = 0.030 * s["iso"] * np.sqrt(0.0025 + linear)  # ISO 800: 3 % on white, more of the signal in the dark
    grain = gaussian_filter(rng.standard_normal(linear.shape[:2], dtype=np.float32), 0.75)[..., None] * 1.05
    half = tuple((n + 1) // 2 for n in linear.shape[:2])
    colour = np.stack([gaussian_filter(rng.standard_normal(half, dtype=np.float32), 1.1) for _ in range(3)], axis=-1) * 1.2
    colour = colour.repeat(2, axis=0).repeat(2, axis=1)[:linear.shape[0], :linear.shape[1]]
    linear = (linear + sd * (grain + colour) * 0.62).clip(0, 1)
    srgb = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    return (255 * srgb + rng.random(srgb.shape, dtype=np.float32) - 0.5).round().clip(0, 255).astype(np.uint8)


# ---------------------------------------------------------------- visible outline
# In the renderer's pixels.
STEP_PX = 1.3  # between points of a polyline
NEAR_PX = 0.45  # a level line this near a projected circle is that circle
CLEAR_PX = 2.2  # from a thing that hides the vessel
JOINT_PX = 3.0  # to both sides of a place where edges meet, where any kind of mark may lie


def runs(flags, closed):
    """Index runs where the flags hold, going round where closed."""
    n = len(flags)
    if flags.all():
        return [np.arange(n)]
    start = int(np.argmin(flags)) if closed else 0
    order = (np.arange(n) + start) % n
    out, now = [], []
    for i in order:
        if flags[i]:
            now.append(i)
        elif now:
            out.append(np.array(now))
            now = []
    return out + ([np.array(now)] if now else [])


def thinned(points):
    s = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    n = max(2, int(round(s[-1] / STEP_PX)) + 1)
    at = np.linspace(0, s[-1], n)
    return np.column_stack([np.interp(at, s, points[:, k]) for k in (0, 1)])


def outline(mask, t, camera, margin):
    """The visible outer edge as polylines (edge, points in pixels of the photograph that `camera` takes);
    t is the renderer's scene, in its own pixels."""

    def seen_at(p):
        return bent((np.asarray(p) - margin + 0.5) * COARSE - 0.5, camera)

    vessel, hides = mask[..., 0] + mask[..., 1], mask[..., 2]
    shape = vessel.shape
    far_from_hiding = distance_transform_edt(hides < 0.02) if (hides > 0.02).any() else np.full(shape, 1e9)
    inside = mask[..., 1] > 0.5
    near_inside = distance_transform_edt(~inside)
    sizes = t["profile"]
    rim = project(circle(*sizes[-1]), t) + margin
    base = project(circle(*sizes[0]), t) + margin
    axis = project([[0, 0, z] for z in (0, t["profile"][-1, 1])], t) + margin

    def value(field, p):
        i = np.clip(np.round(p[:, ::-1]).astype(int), 0, np.array(shape) - 1)
        return field[i[:, 0], i[:, 1]]

    def in_picture(p):
        q = seen_at(p)
        return (q > 1.0).all(axis=1) & (q[:, 0] < camera["width_px"] - 2.0) & (q[:, 1] < camera["height_px"] - 2.0)

    def away(p, curve):
        return cKDTree(curve).query(p)[0]

    out = []
    # Rim: the circle itself, where lip or inside is seen beside it and nothing hides it.
    seen = (value(near_inside, rim) < 2.5) & (value(far_from_hiding, rim) > CLEAR_PX) & in_picture(rim)
    for run in runs(seen, True):
        out.append(("rim", rim[run]))
    # Level lines of the whole vessel, smoothed so that a step between pixels does no harm.
    soft = gaussian_filter(vessel, 0.5)
    for line in find_contours(soft, 0.5):
        p = line[:-1, ::-1]
        if len(p) < 40:
            continue
        rim_near, base_near = away(p, rim) < NEAR_PX, away(p, base) < NEAR_PX
        free = (value(far_from_hiding, p) > CLEAR_PX) & in_picture(p) & ~rim_near
        for run in runs(free & base_near, True):
            out.append(("base", p[run]))
        d = axis[1] - axis[0]
        side = d[0] * (p[:, 1] - axis[0, 1]) - d[1] * (p[:, 0] - axis[0, 0])
        for edge, flags in (("left", side < 0), ("right", side > 0)):
            for run in runs(free & ~base_near & flags, True):
                out.append((edge, p[run]))
    kept = [(e, p) for e, p in out if np.hypot(*np.diff(p, axis=0).T).sum() > 3 * JOINT_PX]
    # Ends of polylines that meet another edge: a stretch where any kind of mark may lie.
    result = []
    for edge, p in kept:
        others = np.vstack([q for e, q in kept if e != edge] or [np.full((1, 2), -1e9)])
        s = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(p, axis=0).T))])
        low, high = 0.0, s[-1]
        if away(p[:1], others)[0] < 2.0:
            low = JOINT_PX
        if away(p[-1:], others)[0] < 2.0:
            high -= JOINT_PX
        for kind, a, b in (("joint", 0.0, low), (edge, low, high), ("joint", high, s[-1])):
            part = p[(s >= a) & (s <= b)]
            if b - a > 1.0 and len(part) > 2:
                result.append((kind, seen_at(thinned(part))))
    return result


def rough_box(found, t, rng):
    p = np.vstack([q for _, q in found])
    low, high = p.min(axis=0), p.max(axis=0)
    size = (high - low).max()
    low, high = low - size * rng.uniform(0.02, 0.07, 2), high + size * rng.uniform(0.02, 0.07, 2)
    limit = np.array([t["width_px"], t["height_px"]]) - 1.0
    return np.round(np.clip(low, 0, limit)).tolist(), np.round(np.clip(high, 0, limit)).tolist()


def row_text(rows, digits):
    return "[" + ", ".join("[" + ", ".join("%.*f" % (digits, v) for v in row) + "]" for row in rows) + "]"


def write_truth(t, s, found, path):
    low, high = rough_box(found, t, np.random.default_rng(s["seed"] + 500))
    q = s["reference"]
    corners = bent(project(t["corners"], t), t["camera"])
    told = {k: t[k] for k in ("name", "width_px", "height_px", "focal_35mm", "camera", "pane", "sizes_mm", "wall_mm")}
    told["box_px"] = [low, high]
    told["reference"] = {"kind": "rectangle", "place": q["place"], "width_mm": q["size"][0], "height_mm": q["size"][1],
                         "corner_radius_mm": q.get("radius", 0.0), "behind_glass": t["pane"] is not None,
                         "corners_px": [[round(float(v), 3) for v in p] for p in corners]}
    text = json.dumps(told, indent=1)
    lines = ",\n".join('  {"edge": "%s", "points_px": %s}' % (e, row_text(p, 2)) for e, p in found)
    with open(path, "w", encoding="utf-8") as f:
        f.write(text[:-2] + ',\n "outline": [\n' + lines + '\n ],\n "profile": ' + row_text(t["profile"], 4) + "\n}\n")


# One block, for where two blocks meet POV-Ray does not see that neighbouring pixels differ.
MASK = ["+A0.001", "+AM1", "+R7", "+J1.0", "+BS8192"]
PHOTO = ["+A0.06", "+AM1", "+R3", "+J1.0"]


def make(name, args):
    s = SCENES[name]
    t = scene_truth(name, s, args.scale)
    margin = int(round(MARGIN * args.scale))
    coarse = scene_truth(name, s, args.scale / COARSE)
    wide = widened(coarse["camera"], margin)
    stem = os.path.join(args.out, name)
    if not args.photo_only:
        found = outline(trace(mask_scene(coarse, s, wide), wide, MASK), coarse, t["camera"], margin)
        write_truth(t, s, found, stem + ".json")
        print(name, [(e, len(p)) for e, p in found])
    if not args.truth_only:
        with tempfile.TemporaryDirectory() as folder:
            path = draw(folder, name, s, np.random.default_rng(s["seed"]))
            linear = trace(view_scene(coarse, s, path, wide), wide, PHOTO)
        rng = np.random.default_rng(s["seed"] + 1000)
        Image.fromarray(photograph(through_lens(linear, t["camera"], margin), s, rng)).save(
            stem + ".jpg", quality=s["quality"], subsampling="4:2:0", optimize=True)
        print(name, os.path.getsize(stem + ".jpg"), "bytes", flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--out", default=os.path.join(HERE, "museum"))
    parser.add_argument("--truth-only", action="store_true")
    parser.add_argument("--photo-only", action="store_true")
    args = parser.parse_args()
    for name in args.names or SCENES:
        make(name, args)


if __name__ == "__main__":
    main()
