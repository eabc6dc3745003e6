#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes tiled.heic the way phones write HEIC: a grid of tiles, cropped, turned by `irot`.

The tiles are encoded by heif-enc (libheif); the boxes around them are put together here after
ISO/IEC 23008-12 (grid, irot), 14496-12 (boxes) and 14496-15 (hvcC). Needs ImageMagick, exiftool.
"""
import pathlib
import struct
import subprocess
import sys
import tempfile

TILE, WIDTH, HEIGHT = 64, 112, 80  # two by two tiles, the picture cropped out of 128 x 128


def box(kind, *parts):
    body = b"".join(parts)
    return struct.pack(">I4s", 8 + len(body), kind) + body


def full_box(kind, version, flags, *parts):
    return box(kind, struct.pack(">I", version << 24 | flags), *parts)


def boxes(data, start, end):
    while start < end:
        size, kind = struct.unpack(">I4s", data[start:start + 8])
        yield kind, start + 8, start + size
        start += size


def child(data, start, end, kind):
    return next((a, b) for found, a, b in boxes(data, start, end) if found == kind)


def tile(folder, picture, column, row):
    """Returns (hvcC box content, coded bytes) of one tile."""
    crop = folder / "tile.png"
    subprocess.run(["convert", picture, "-crop", f"{TILE}x{TILE}+{column * TILE}+{row * TILE}",
                    "+repage", f"PNG24:{crop}"], check=True)
    heic = folder / "tile.heic"
    subprocess.run(["heif-enc", "-q", "80", crop, "-o", heic], check=True)
    data = heic.read_bytes()
    meta = child(data, 0, len(data), b"meta")
    iprp = child(data, meta[0] + 4, meta[1], b"iprp")
    ipco = child(data, *iprp, b"ipco")
    settings = child(data, *ipco, b"hvcC")
    coded = child(data, 0, len(data), b"mdat")
    return data[slice(*settings)], data[slice(*coded)]


def exif_block(folder, picture):
    jpeg = folder / "exif.jpg"
    subprocess.run(["convert", picture, jpeg], check=True)
    subprocess.run(["exiftool", "-q", "-overwrite_original", "-Make=Larkmoor", "-Model=Case 3",
                    "-LensModel=Larkmoor back camera", "-DateTimeOriginal=2024:05:31 14:05:09",
                    "-Orientation#=6", "-FocalLength=6.86", "-FocalLengthIn35mmFormat=26",
                    jpeg], check=True)
    exif = subprocess.run(["exiftool", "-b", "-Exif", jpeg], check=True, capture_output=True)
    return exif.stdout


def main(target):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        picture = folder / "picture.png"
        half = (WIDTH // 2, HEIGHT // 2)
        subprocess.run(
            ["convert", "-size", f"{2 * TILE}x{2 * TILE}", "xc:rgb(120,120,120)",
             "-fill", "rgb(200,20,20)", "-draw", f"rectangle 0,0 {half[0] - 1},{half[1] - 1}",
             "-fill", "rgb(20,160,20)", "-draw", f"rectangle {half[0]},0 {2 * TILE},{half[1] - 1}",
             "-fill", "rgb(30,30,200)", "-draw", f"rectangle 0,{half[1]} {half[0] - 1},{2 * TILE}",
             picture], check=True)
        tiles = [tile(folder, picture, column, row) for row in (0, 1) for column in (0, 1)]
        exif = struct.pack(">I", 0) + exif_block(folder, picture)

    settings = tiles[0][0]
    assert all(other == settings for other, _ in tiles)
    grid_item, exif_item = 5, 6
    grid = struct.pack(">BBBBHH", 0, 0, 1, 1, WIDTH, HEIGHT)
    properties = [
        box(b"hvcC", settings),
        full_box(b"ispe", 0, 0, struct.pack(">II", TILE, TILE)),
        full_box(b"ispe", 0, 0, struct.pack(">II", WIDTH, HEIGHT)),
        box(b"irot", b"\3"),  # 270 degrees against the clock
        box(b"colr", b"nclx", struct.pack(">HHHB", 12, 13, 6, 0x80)),  # Display P3
        full_box(b"pixi", 0, 0, b"\3\x08\x08\x08"),
    ]
    links = {number: [0x81, 0x02, 0x05] for number in (1, 2, 3, 4)}
    links[grid_item] = [0x03, 0x84, 0x05, 0x06]
    ipma = full_box(b"ipma", 0, 0, struct.pack(">I", len(links)),
                    *(struct.pack(">HB", number, len(ids)) + bytes(ids)
                      for number, ids in links.items()))

    def item(number, kind, hidden):
        return full_box(b"infe", 2, int(hidden), struct.pack(">HH", number, 0), kind, b"\0")

    infos = [item(number, b"hvc1", True) for number in (1, 2, 3, 4)]
    infos += [item(grid_item, b"grid", False), item(exif_item, b"Exif", True)]
    references = [box(b"dimg", struct.pack(">HH4H", grid_item, 4, 1, 2, 3, 4)),
                  box(b"cdsc", struct.pack(">HHH", exif_item, 1, grid_item))]
    stored = [coded for _, coded in tiles] + [exif]

    def meta(at):
        places = []
        for number, data in zip((1, 2, 3, 4, exif_item), stored):
            places.append(struct.pack(">HHHHII", number, 0, 0, 1, at, len(data)))
            at += len(data)
        places.append(struct.pack(">HHHHII", grid_item, 1, 0, 1, 0, len(grid)))  # in idat
        return full_box(
            b"meta", 0, 0,
            full_box(b"hdlr", 0, 0, struct.pack(">I4s", 0, b"pict"), bytes(13)),
            full_box(b"pitm", 0, 0, struct.pack(">H", grid_item)),
            full_box(b"iinf", 0, 0, struct.pack(">H", len(infos)), *infos),
            full_box(b"iref", 0, 0, *references),
            box(b"iprp", box(b"ipco", *properties), ipma),
            box(b"idat", grid),
            full_box(b"iloc", 1, 0, struct.pack(">HH", 0x4400, len(places)), *places))

    head = box(b"ftyp", b"heic", struct.pack(">I", 0), b"mif1heic")
    mdat = box(b"mdat", *stored)
    pathlib.Path(target).write_bytes(head + meta(len(head) + len(meta(0)) + 8) + mdat)


if __name__ == "__main__":
    main(sys.argv[1])
