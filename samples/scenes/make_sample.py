#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Makes the sample photographs, two of the Larkmoor Museum's case 3 and one of a replica: NAME.jpg and the exact truth.

Needs povray, exiftool, python3-numpy, python3-scipy and python3-pil.  Not part of the build.

    make_sample.py [--scale S] [--out FOLDER] [--threads N] [--truth-only] [NAME ...]

The frames, the vessels' curves, the camera and the pane are those of tests/scenes/render.py.
POV-Ray renders a little more than the picture, as a perfect pinhole camera would see it; the lens
distortion, the blur and the sensor's noise are added afterwards.
"""
import argparse
import hashlib
import json
import os
import subprocess
import sys
import tempfile

import numpy as np
from PIL import Image, ImageDraw, ImageFont
from scipy.ndimage import gaussian_filter, map_coordinates

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "..", "tests", "scenes"))
import render as scenes  # noqa: E402

K1 = -0.010
MARGIN = 64  # pixels rendered beyond each edge at full size, for the lens to bend in
CARD_MM = 0.3  # thickness of the cards: the face of a lying one is this far above the shelf
FONTS = "/usr/share/fonts/truetype/dejavu/"

SAMPLES = {
    "shelf-jar": dict(
        size=(4032, 3024), orientation=1, exif_focal_35mm=52, exif_focal_mm=13.0, seed=31,
        profile=[[(52, 0), (68, 16), (112, 58), (124, 112), (106, 160), (64, 174), (57, 196), (60, 214), (70, 227),
                  (81, 235)]],
        wall=6.5, focal=51.7, distance=900, elevation=17, azimuth=-90, target=(-28, 0, 108), roll=0.7,
        pane=dict(thickness=8.4, turn=5.0, face=255.0), wall_behind=210.0,
        reference=dict(place="leaning", size=(120.0, 80.0), at=(-196, 62), yaw=9.0, lean=22.0),
        label=["Larkmoor Museum", "Case 3", "Shelf jar", "Painted earthenware"],
        catalogue=dict(size=(105.0, 74.0), at=(188, 86), yaw=-13.0)),
    # A replica of the jar on the bench. True against the original: height 223.5 mm for 235.0, widest 228.7 for
    # 238.3 at 94.4 for 106.2, neck 112.1 for 116.9 at 189.2 for 199.0, rim 164 for 162, base 100 for 104. So it is
    # some 4 % smaller, its belly lower than that, and its rim flared more.
    "my-jar": dict(
        size=(2016, 1512), orientation=1, exif_focal_35mm=52, exif_focal_mm=13.0, seed=33, painted_as="shelf-jar",
        profile=[[(50, 0), (65, 14), (109, 51), (118.5, 101), (101.5, 151), (61, 166), (54.5, 187), (58, 204),
                  (70, 216), (82, 223.5)]],
        wall=6.5, focal=51.7, distance=820, elevation=19, azimuth=-84, target=(-26, 0, 100), roll=-0.5, glass=False,
        pane=dict(thickness=0.0001, turn=0.0, face=300.0), wall_behind=330.0,
        reference=dict(place="leaning", size=(120.0, 80.0), at=(-192, 66), yaw=6.0, lean=20.0),
        label=["From the bench", "Fired to 940 °C", "My jar", "Card 120 × 80 mm"], catalogue=None),
    "low-bowl": dict(
        size=(3024, 4032), orientation=6, exif_focal_35mm=26, exif_focal_mm=6.5, seed=32,
        profile=[[(52, 0), (60, 9), (89, 38), (112, 64)], [(112, 64), (102, 76), (97, 90), (105, 106)]],
        wall=6.0, focal=26.3, distance=445, elevation=30, azimuth=-80, target=(4, 36, 44), roll=-1.1,
        pane=dict(thickness=8.4, turn=-4.0, face=245.0), wall_behind=200.0,
        reference=dict(place="lying", size=(120.0, 80.0), at=(-22, 172), yaw=-8.0),
        label=["Larkmoor Museum", "Case 3", "Low bowl", "Burnished earthenware"], catalogue=None),
}


# ---------------------------------------------------------------- drawn textures
def font(name, size):
    return ImageFont.truetype(FONTS + name, size)


def draw_label(path, lines):
    w, h = 1800, 1200  # 15 px to the millimetre
    image = Image.new("RGB", (w, h), (239, 236, 226))
    d = ImageDraw.Draw(image)
    d.rectangle((0, 0, w, 22), fill=(126, 62, 40))
    d.text((110, 110), lines[0], font=font("DejaVuSerif-Bold.ttf", 150), fill=(38, 34, 30))
    d.text((110, 330), lines[1], font=font("DejaVuSans.ttf", 108), fill=(92, 84, 74))
    d.line((110, 520, w - 110, 520), fill=(150, 140, 126), width=6)
    d.text((110, 590), lines[2], font=font("DejaVuSerif-Bold.ttf", 190), fill=(38, 34, 30))
    d.text((110, 880), lines[3], font=font("DejaVuSans.ttf", 104), fill=(60, 54, 48))
    image.save(path, optimize=True)


def draw_catalogue(path):
    image = Image.new("RGB", (1575, 1110), (226, 214, 184))
    d = ImageDraw.Draw(image)
    for y in range(300, 1050, 105):
        d.line((70, y, 1505, y), fill=(150, 168, 176), width=4)
    d.line((70, 190, 1505, 190), fill=(176, 90, 80), width=6)
    d.text((80, 60), "LM 3/14", font=font("DejaVuSansMono.ttf", 110), fill=(46, 44, 60))
    for i, text in enumerate(["Jar, painted, flared rim", "Coil-built. Buff body, red paint",
                              "Rim worn, one chip", "Case 3, middle shelf", "See also LM 3/15 (bowl)"]):
        d.text((90, 214 + 105 * i), text, font=font("DejaVuSerif-Italic.ttf", 68), fill=(52, 48, 70))
    image.save(path, optimize=True)


def speckle(rng, shape):
    """Uneven clay: wide clouds, drawn out sideways, and fine grit."""
    h, w = shape
    out = np.zeros(shape)
    for sy, sx, share in ((60, 160, 0.5), (12, 40, 0.35), (2.0, 3.0, 0.3)):
        field = gaussian_filter(rng.standard_normal(shape), (sy, sx), mode=("nearest", "wrap"))
        out += share * field / field.std()
    return out


def draw_bands(path, name, height_mm, rng):
    """The outer face unrolled: all round from left to right, foot at the bottom, rim at the top."""
    w, h = 5400, 1800
    image = Image.new("L", (w, h), 0)
    d = ImageDraw.Draw(image)

    def y(mm):
        return h - mm / height_mm * h

    def ring(mm, thick):
        d.rectangle((0, y(mm + thick / 2), w, y(mm - thick / 2)), fill=255)

    def steps(low, high, count):
        """A running row of leaning stair blocks between two heights."""
        for i in range(count):
            for k in range(4):
                a, b = (i + 0.12 + 0.17 * k) / count * w, (i + 0.12 + 0.17 * (k + 1)) / count * w
                d.rectangle((a, y(low + (high - low) * (k + 1) / 4), b, y(low + (high - low) * k / 4)), fill=255)

    def zigzag(low, high, count, thick):
        points = [((i / 2) / count * w, y(high if i % 2 else low)) for i in range(2 * count + 1)]
        d.line(points, fill=255, width=thick, joint="curve")

    def dots(mm, count, rx, ry):
        for i in range(count):
            x = (i + 0.5) / count * w
            d.ellipse((x - rx, y(mm) - ry, x + rx, y(mm) + ry), fill=255)

    if name == "shelf-jar":
        ring(228, 7)
        ring(208, 2.4)
        dots(194, 26, 44, 22)
        ring(180, 2.4)
        ring(171, 4)
        steps(140, 164, 16)
        ring(133, 3)
        ring(126, 3)
        zigzag(82, 117, 12, 46)
        zigzag(82, 117, 24, 12)
        dots(74, 48, 20, 14)
        ring(64, 5)
    else:
        ring(100, 5)
        dots(87, 40, 34, 34)
        ring(75, 3)
        ring(57, 4)
    paint = gaussian_filter(np.asarray(image, float) / 255, 1.6)
    wear = speckle(rng, (h, w))
    paint *= np.clip(0.90 + 0.07 * wear, 0.45, 1.0)
    clay = np.array([186, 128, 88.0]) if name == "shelf-jar" else np.array([166, 98, 66.0])
    ink = np.array([86, 44, 34.0]) if name == "shelf-jar" else np.array([222, 198, 160.0])
    shade = (1 + 0.045 * speckle(rng, (h, w)))[..., None]
    rgb = (clay * (1 - paint[..., None]) + ink * paint[..., None]) * shade
    Image.fromarray(np.clip(rgb, 0, 255).astype(np.uint8)).save(path, quality=88)


def textures(name, s):
    folder = os.path.join(HERE, "textures")
    os.makedirs(folder, exist_ok=True)
    paths = {k: os.path.join(folder, "%s-%s" % (name, k)) for k in ("label.png", "catalogue.png", "bands.jpg")}
    draw_label(paths["label.png"], s["label"])
    if s["catalogue"]:
        draw_catalogue(paths["catalogue.png"])
    draw_bands(paths["bands.jpg"], s.get("painted_as", name), s["profile"][-1][-1][1], np.random.default_rng(s["seed"]))
    return paths


# ---------------------------------------------------------------- the scene
def direction(v):
    return "%.9f, %.9f, %.9f" % (v[0], v[2], v[1])


def card_text(corners, picture, thickness=CARD_MM):
    """A card with a picture on its face, from its four corners; its back is a hair behind its face."""
    c = np.asarray(corners)
    along, high = c[1] - c[0], c[3] - c[0]
    out = scenes.unit(np.cross(along, high)) * thickness
    kind = "png" if picture.endswith("png") else "jpeg"
    return """object {
  union {
    polygon { 5, <0,0>, <1,0>, <1,1>, <0,1>, <0,0>
      pigment { image_map { %s "%s" interpolate 2 } } finish { ambient 0.0 diffuse 0.82 } }
    box { <0,0,-1>, <1,1,-0.02> pigment { rgb 0.78 } finish { ambient 0 diffuse 0.8 } }
  }
  matrix <%s, %s, %s, %s>
}
""" % (kind, picture, direction(along), direction(high), direction(out), direction(c[0]))


def raised(corners):
    return [[x, y, z + CARD_MM] for x, y, z in corners]


def prop_text(corners):
    """A little block behind a leaning card that holds it up."""
    c = np.asarray(corners)
    mid, high = (c[0] + c[1]) / 2, c[3] - c[0]
    along = scenes.unit(c[1] - c[0])
    back = np.cross([0, 0, 1.0], along)
    top = mid + 0.6 * high + 1.5 * back
    foot = top.copy()
    foot[2] = 0
    return "cylinder { %s, %s, 1.4 pigment { rgb 0.25 } finish { ambient 0 diffuse 0.7 specular 0.2 } }\n" % (
        scenes.vec(top), scenes.vec(foot + 14 * back))


def scene_text(t, s, paths, wide):
    pane = t["pane"]
    a = np.radians(pane["normal_azimuth_deg"])
    out, side, up = np.array([np.cos(a), np.sin(a), 0]), np.array([-np.sin(a), np.cos(a), 0]), np.array([0, 0, 1.0])
    inner_face = pane["outer_face_to_axis_mm"] - pane["thickness_mm"]

    def at(o, r, z):
        return scenes.vec(o * out + r * side + z * up)

    turned = "rotate <0, %.9f, 0>" % -pane["normal_azimuth_deg"]
    profile = np.asarray(t["profile"])
    inside, edge = scenes.inner_surface(profile, t["wall_mm"])
    inside = inside[np.unique(np.linspace(0, len(inside) - 1, 300).round().astype(int))]
    matt = "finish { ambient 0 diffuse 0.78 brilliance 0.9 specular 0.03 roughness 0.15 }"
    grit = "normal { granite 0.06 scale 9 }"
    lip = "rgb <0.44, 0.25, 0.14>" if t["name"] == "shelf-jar" or s.get("painted_as") == "shelf-jar" else "rgb <0.36, 0.15, 0.075>"
    text = """#version 3.7;
global_settings { assumed_gamma 1.0 max_trace_level 6 adc_bailout 1/40 }
background { rgb <0.020, 0.021, 0.024> }
"""
    text += scenes.camera_text(wide)
    # The case's own light: a long panel above the shelf, inside the glass.  The room adds a weak fill.
    text += "light_source { %s rgb <0.98, 0.93, 0.84>*1.02 area_light %s, %s, 9, 5 adaptive 0 jitter }\n" % (
        at(130, -70, 620), "<" + direction(420 * side) + ">", "<" + direction(130 * out) + ">")
    text += "light_source { %s rgb <0.86, 0.92, 1.0>*0.22 shadowless }\n" % at(1900, 1100, 1500)
    text += "light_source { %s rgb <1.0, 0.95, 0.88>*0.17 shadowless }\n" % at(240, -500, 40)
    text += "light_source { %s rgb <1.0, 0.95, 0.88>*0.14 shadowless }\n" % at(200, 600, 300)
    # What the glass reflects: a window and a doorway in the dim room behind the viewer.
    glow = "pigment { rgb %s } finish { ambient 0 diffuse 0 emission 1 } no_shadow"
    for o, r, z, w, h, colour in ((2600, -1150, -330, 520, 620, "<0.60, 0.70, 0.82>"),
                                  (2800, 640, -700, 330, 900, "<0.46, 0.40, 0.32>")):
        p = [at(o, r + i * w, z + j * h) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1), (0, 0))]
        text += "polygon { 5, %s %s }\n" % (", ".join(p), glow % colour)
    # Shelf, wall behind, the plinth under the shelf.
    text += """box { <%.4f, -18, -1500>, <%.4f, 0, 1500> %s
  texture { pigment { bozo turbulence 0.5 color_map { [0 rgb <0.50,0.49,0.46>] [1 rgb <0.54,0.53,0.50>] } scale 60 }
  normal { granite 0.015 scale 6 } finish { ambient 0 diffuse 0.8 } } }\n""" % (
        -s["wall_behind"], inner_face - 4, turned)
    text += """box { <%.4f, -900, -1500>, <%.4f, 1500, 1500> %s
  texture { pigment { rgb <0.37, 0.40, 0.41> } normal { granite 0.02 scale 8 }
  finish { ambient 0 diffuse 0.8 } } }\n""" % (
        -s["wall_behind"] - 20, -s["wall_behind"], turned)
    text += """box { <%.4f, -900, -1500>, <%.4f, -18, 1500> %s
  pigment { rgb 0.06 } finish { ambient 0 diffuse 0.7 } }\n""" % (
        -s["wall_behind"], inner_face - 12, turned)
    # The vessel.
    text += scenes.lathe_text(profile, """texture { pigment { image_map { jpeg "%s" map_type 2 interpolate 2 }
  scale <1, %.4f, 1> rotate <0, 37, 0> } %s %s }""" % (paths["bands.jpg"], profile[-1, 1], grit, matt))
    text += scenes.lathe_text(np.vstack([inside, edge]), "texture { pigment { %s } %s %s }" % (lip, grit, matt))
    # Cards.
    text += card_text(t["reference"]["corners"], paths["label.png"])
    if t["reference"]["place"] == "leaning":
        text += prop_text(t["reference"]["corners"])
    if s["catalogue"]:
        card = dict(s, reference=dict(s["catalogue"], place="lying"))
        text += card_text(raised(scenes.reference(card)["corners"]), paths["catalogue.png"])
    if not s.get("glass", True):
        return text
    text += scenes.pane_text(pane, """texture { pigment { rgbt <0.985, 1.0, 0.992, 1> }
  finish { ambient 0 diffuse 0 reflection { 0.0, 1.0 fresnel on } conserve_energy } }""")
    return text


def truth(name, s, scale):
    w, h = (int(round(v * scale)) for v in s["size"])
    t = scenes.truth(name, s, w, h)
    t["camera"]["k1"] = K1
    if t["reference"]["place"] == "lying":
        t["reference"]["corners"] = raised(t["reference"]["corners"])
    t["exif_focal_35mm"] = s["exif_focal_35mm"]
    return t


# ---------------------------------------------------------------- from render to photograph
def through_lens(image, c, margin):
    """Bends the picture as the lens does: the seen place is the true place times 1 + k1 r^2."""
    v, u = np.mgrid[0:c["height_px"], 0:c["width_px"]].astype(np.float32)
    x, y = (u - c["cx"]) / c["f_px"], (v - c["cy"]) / c["f_px"]
    seen = np.hypot(x, y)
    true = seen.copy()
    for _ in range(6):
        true = seen / (1 + c["k1"] * true**2)
    grow = np.where(seen > 0, true / np.maximum(seen, 1e-9), 1)
    at = np.array([y * grow * c["f_px"] + c["cy"] + margin, x * grow * c["f_px"] + c["cx"] + margin])
    return np.stack([map_coordinates(image[..., k], at, order=3, mode="nearest") for k in range(3)], axis=-1)


def photograph(image, rng, scale):
    image = gaussian_filter(image, (0.95 * scale, 0.95 * scale, 0))
    for k in range(3):  # light and read noise; the phone's own smoothing has already spread it a little
        noise = gaussian_filter(rng.standard_normal(image.shape[:2]).astype(np.float32), 0.7)
        image[..., k] += noise / noise.std() * np.sqrt(1.1**2 + 2.2 * np.clip(image[..., k], 0, 255) / 255)
    return np.clip(image + rng.random(image.shape, dtype=np.float32) - 0.5, 0, 255).round().astype(np.uint8)


def make(name, args):
    s = SAMPLES[name]
    t = truth(name, s, args.scale)
    rows = ",\n".join("    [%.6f, %.6f]" % tuple(p) for p in t["profile"])
    head = json.dumps({k: v for k, v in t.items() if k != "profile"}, indent=2)
    if args.scale == 1:
        with open(os.path.join(HERE, "truth-%s.json" % name), "w", encoding="utf-8") as f:
            f.write(head[:-2] + ',\n  "profile": [\n' + rows + "\n  ]\n}\n")
    print(name, {k: v and round(v, 2) for k, v in t["sizes_mm"].items()}, round(t["capacity_ml"], 1))
    if args.truth_only:
        return
    paths = textures(name, s)
    margin = int(round(MARGIN * args.scale))
    c = t["camera"]
    wide = dict(c, width_px=c["width_px"] + 2 * margin, height_px=c["height_px"] + 2 * margin,
                cx=c["cx"] + margin, cy=c["cy"] + margin)
    with tempfile.TemporaryDirectory() as folder:
        pov, png = os.path.join(folder, "scene.pov"), os.path.join(folder, "scene.png")
        with open(pov, "w", encoding="ascii") as f:
            f.write(scene_text(t, s, paths, wide))
        run = subprocess.run(["povray", "+I" + pov, "+O" + png, "+W%d" % wide["width_px"],
                              "+H%d" % wide["height_px"], "+FN8", "-D", "-GA", "+WT%d" % args.threads, "+A0.15", "+AM2",
                              "+R2", "+J0.6", "File_Gamma=sRGB"], capture_output=True, text=True, check=False)
        if run.returncode:
            sys.exit(run.stderr[-3000:])
        image = np.asarray(Image.open(png).convert("RGB"), np.float32)
    image = photograph(through_lens(image, c, margin), np.random.default_rng(s["seed"] + 100), args.scale)
    if s["orientation"] == 6:  # held upright, stored as the sensor lies
        image = np.rot90(image, 1)
    out = os.path.join(args.out, name + ".jpg")
    Image.fromarray(image).save(out, quality=args.quality, subsampling="4:2:0", optimize=True)
    h, w = image.shape[:2]
    subprocess.run(["exiftool", "-q", "-overwrite_original", "-n", "-Make=Sample", "-Model=Sample phone",
                    "-Orientation=%d" % s["orientation"], "-FocalLengthIn35mmFormat=%d" % s["exif_focal_35mm"],
                    "-FocalLength=%.2f" % s["exif_focal_mm"], "-FNumber=1.9", "-ISO=320", "-ExposureTime=0.02",
                    "-ExifImageWidth=%d" % w, "-ExifImageHeight=%d" % h, "-ColorSpace=1",
                    "-DateTimeOriginal=2025:03:08 14:2%d:11" % s["orientation"],
                    "-ImageDescription=Rendered picture of an invented vessel"
                    + (", Larkmoor Museum, case 3" if s.get("glass", True) else ", on the bench"), out],
                   check=True)
    with open(out, "rb") as f:
        data = f.read()
    print(out, len(data), "bytes", hashlib.sha256(data).hexdigest())


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--out", default=os.path.join(HERE, ".."))
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--quality", type=int, default=84)
    parser.add_argument("--truth-only", action="store_true")
    args = parser.parse_args()
    for name in args.names or SAMPLES:
        make(name, args)


if __name__ == "__main__":
    main()
