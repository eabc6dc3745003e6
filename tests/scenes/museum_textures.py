# SPDX-License-Identifier: MIT
"""Drawn textures of the museum scenes: painted clay, cloth, wood, plaster, printed cards and panels, and the
dim gallery that panes reflect.  All are made from the random generator they are given."""
import numpy as np
from PIL import Image, ImageDraw, ImageFont
from scipy.ndimage import gaussian_filter

FONTS = "/usr/share/fonts/truetype/dejavu/"


def font(name, size):
    return ImageFont.truetype(FONTS + name + ".ttf", size)


def clouds(rng, shape, sizes):
    """Noise of unit deviation, round at all sides: blurred noise of several (down, across, share)."""
    spectrum = np.fft.rfft2(rng.standard_normal(shape, dtype=np.float32))
    down, across = np.fft.fftfreq(shape[0])[:, None], np.fft.rfftfreq(shape[1])[None, :]
    out = np.zeros(shape)
    for i, (y, x, share) in enumerate(sizes):
        # The layers are moved against each other, so that they do not follow one another.
        shift = np.exp(2j * np.pi * (0.37 * i * (down * shape[0]) + 0.41 * i * (across * shape[1])))
        field = np.fft.irfft2(spectrum * shift * np.exp(-2 * np.pi**2 * ((y * down) ** 2 + (x * across) ** 2)), shape)
        out += share * field / field.std()
    return out / np.sqrt(sum(s[2] ** 2 for s in sizes))


def save(rgb, path):
    Image.fromarray(np.clip(rgb, 0, 255).astype(np.uint8)).save(path)


def mixed(low, high, share):
    return np.asarray(low, float) * (1 - share[..., None]) + np.asarray(high, float) * share[..., None]


def bands(path, w, rng, clay, ink, rows, height_mm):
    """The outer face unrolled, w pixels round, foot at the bottom.  A row is (kind, height in mm, thickness in mm, count)."""
    h = w * 5 // 12
    image = Image.new("L", (w, h), 0)
    d = ImageDraw.Draw(image)

    def y(mm):
        return h - mm / height_mm * h

    for kind, mm, thick, count in rows:
        top, low = y(mm + thick / 2), y(mm - thick / 2)
        if kind == "ring":
            d.rectangle((0, top, w, low), fill=255)
        elif kind == "dots":
            for i in range(count):
                x = (i + 0.5) / count * w
                d.ellipse((x - (low - top) * 0.5, top, x + (low - top) * 0.5, low), fill=255)
        elif kind == "zigzag":
            d.line([(i / 2 / count * w, low if i % 2 else top) for i in range(2 * count + 1)], fill=255,
                   width=max(w // 360, int((low - top) * 0.14)), joint="curve")
        elif kind == "leaves":
            for i in range(count):
                x, r = (i + 0.5) / count * w, w / count * 0.34
                d.pieslice((x - r, top, x + r, 2 * low - top), 200, 340, fill=255)
        elif kind == "blocks":
            for i in range(count):
                d.rectangle(((i + 0.1) / count * w, top, (i + 0.6) / count * w, low), fill=255)
    # A hand's lines are not level: shift each column up and down a little.
    paint = np.asarray(image, float) / 255
    sway = clouds(rng, (1, w), [(0, 160, 1.0), (0, 40, 0.4)])[0] * 3.0
    at = (np.arange(h)[:, None] + np.round(sway)[None, :].astype(int)).clip(0, h - 1)
    paint = gaussian_filter(np.take_along_axis(paint, at, axis=0), 1.4)
    wear = clouds(rng, (h, w), [(50, 140, 0.8), (9, 14, 0.6), (2, 2, 0.4)])
    paint *= np.clip(0.86 + 0.14 * wear, 0.25, 1.0)
    shade = 1 + 0.07 * clouds(rng, (h, w), [(70, 190, 1.0), (14, 40, 0.5), (1.5, 2, 0.45)])
    soot = np.clip(clouds(rng, (h, w), [(160, 260, 1.0)]) - 0.9, 0, 1)[..., None]  # marks of the fire
    save(mixed(clay, ink, paint) * shade[..., None] * (1 - 0.45 * soot), path)


def cloth(path, rng, colour):
    h = w = 1400
    thread = 2 * np.pi * np.arange(w) / 7.0
    weave = 0.5 * (np.sin(thread)[None, :] * np.sign(np.sin(thread / 2))[:, None])
    slub = clouds(rng, (h, w), [(1.6, 60, 1.0)]) + clouds(rng, (h, w), [(60, 1.6, 1.0)])
    tone = 1 + 0.035 * weave + 0.035 * slub + 0.03 * clouds(rng, (h, w), [(150, 150, 1.0)])
    save(np.asarray(colour, float) * tone[..., None], path)


def wood(path, rng, colour):
    h, w = 1000, 2000
    rings = clouds(rng, (h, w), [(26, 700, 1.0), (5, 260, 0.25)])
    grain = 0.5 + 0.5 * np.sin(9 * rings)
    pores = np.clip(clouds(rng, (h, w), [(0.9, 26, 1.0)]) - 1.5, 0, 1)
    tone = 0.86 + 0.16 * grain - 0.35 * pores + 0.02 * clouds(rng, (h, w), [(1, 8, 1.0)])
    save(np.asarray(colour, float) * tone[..., None], path)


def plaster(path, rng, colour):
    h = w = 1400
    tone = 1 + 0.06 * clouds(rng, (h, w), [(120, 120, 1.0), (30, 34, 0.5), (5, 5, 0.4), (1.6, 1.6, 0.35)])
    stain = np.clip(clouds(rng, (h, w), [(90, 60, 1.0)]) - 1.2, 0, 1)
    save(np.asarray(colour, float) * (tone - 0.12 * stain)[..., None], path)


def label(path, lines, paper=(238, 235, 225), accent=(126, 62, 40)):
    w, h = 1200, 800
    image = Image.new("RGB", (w, h), paper)
    d = ImageDraw.Draw(image)
    if accent:
        d.rectangle((70, 84, 210, 96), fill=accent)
    sizes = (("DejaVuSerif-Bold", 104), ("DejaVuSans", 60), ("DejaVuSerif", 66), ("DejaVuSans", 52), ("DejaVuSans", 46))
    y = 140
    for line, (name, size) in zip(lines, sizes):
        d.text((70, y), line, font=font(name, size), fill=(40, 37, 34))
        y += int(size * 1.5)
    image.save(path)


def scale_card(path):
    """A photographer's card: a bar of centimetres and grey steps."""
    w, h = 1500, 1000
    image = Image.new("RGB", (w, h), (232, 232, 230))
    d = ImageDraw.Draw(image)
    for i in range(10):
        d.rectangle((150 + 120 * i, 140, 270 + 120 * i, 260), fill=(28, 28, 30) if i % 2 == 0 else (232, 232, 230),
                    outline=(28, 28, 30), width=6)
        d.text((150 + 120 * i, 280), str(i), font=font("DejaVuSans-Bold", 60), fill=(28, 28, 30))
    for i in range(6):
        g = 30 + 38 * i
        d.rectangle((150 + 200 * i, 460, 350 + 200 * i, 680), fill=(g, g, g))
    d.text((150, 780), "Larkmoor Museum   10 cm", font=font("DejaVuSans", 84), fill=(28, 28, 30))
    image.save(path)


def panel(path, rng):
    """A printed panel: a heading, a column of text, a plan of a dig and a tinted picture."""
    w, h = 1800, 1200
    image = Image.new("RGB", (w, h), (214, 206, 188))
    d = ImageDraw.Draw(image)
    d.rectangle((0, 0, w, 150), fill=(70, 84, 92))
    d.text((70, 36), "Clay and fire at Larkmoor", font=font("DejaVuSerif-Bold", 78), fill=(232, 226, 210))
    words = ("kiln coil slip ash wheel vessel hearth river clay temper rim foot shard pit smoke paint brush grain oil "
             "water store feast trade road hill").split()
    for row in range(18):
        line = " ".join(words[int(k)] for k in rng.integers(0, len(words), 7))
        d.text((70, 210 + 50 * row), line[:46], font=font("DejaVuSerif", 32), fill=(62, 56, 50))
    d.rectangle((980, 210, 1720, 690), fill=(150, 128, 96))
    for _ in range(60):
        x, y, r = rng.uniform(990, 1700), rng.uniform(260, 680), rng.uniform(8, 90)
        tone = int(rng.uniform(70, 190))
        d.ellipse((x - r, max(215, y - r * 0.6), min(1718, x + r), min(688, y + r * 0.6)), fill=(tone, int(tone * 0.86), int(tone * 0.66)))
    for k in range(7):
        pts = [(980 + 740 * i / 40, 960 + 24 * k + 40 * np.sin(i / 6 + k * 0.5) - 90) for i in range(41)]
        d.line(pts, fill=(110, 92, 70), width=4)
    save(np.asarray(image, float) * (1 + 0.01 * rng.standard_normal((h, w, 1))), path)


def gallery(path, rng, windows, people):
    """What the pane reflects: a dim room with bright windows, a doorway, lamps and visitors, not quite sharp.
    Places and sizes are shares of the picture."""
    w, h = 2000, 1500
    image = Image.new("RGB", (w, h), (30, 30, 33))
    d = ImageDraw.Draw(image)
    d.rectangle((0, 0.72 * h, w, h), fill=(44, 38, 32))
    for _ in range(9):  # frames and lit cases on the far wall
        x, y, a, b = rng.uniform(0, 1) * w, rng.uniform(0.15, 0.6) * h, rng.uniform(0.03, 0.09) * w, rng.uniform(0.05, 0.14) * h
        tone = rng.uniform(34, 86)
        d.rectangle((x, y, x + a, y + b), fill=(int(tone), int(tone * 0.92), int(tone * 0.78)))
    for x, y, a, b in windows:
        x, y, a, b = x * w, y * h, a * w, b * h
        d.rectangle((x, y, x + a, y + b), fill=(236, 244, 255))
        d.rectangle((x, y + 0.62 * b, x + a, y + b), fill=(196, 212, 206))
        bar = max(8, int(0.035 * a))
        for i in (1, 2):
            d.rectangle((x + i * a / 3 - bar / 2, y, x + i * a / 3 + bar / 2, y + b), fill=(70, 66, 62))
        d.rectangle((x, y + 0.45 * b - bar / 2, x + a, y + 0.45 * b + bar / 2), fill=(70, 66, 62))
    for x, size in people:
        x, size = x * w, size * h
        top = h * 0.95 - size
        d.ellipse((x - 0.075 * size, top, x + 0.075 * size, top + 0.17 * size), fill=(20, 17, 16))
        d.polygon([(x - 0.05 * size, top + 0.15 * size), (x + 0.05 * size, top + 0.15 * size), (x + 0.17 * size, top + 0.25 * size),
                   (x + 0.19 * size, top + 0.62 * size), (x + 0.12 * size, top + size), (x - 0.12 * size, top + size),
                   (x - 0.19 * size, top + 0.62 * size), (x - 0.17 * size, top + 0.25 * size)], fill=(17, 16, 20))
    save(gaussian_filter(np.asarray(image, float), (3.0, 3.0, 0)), path)
