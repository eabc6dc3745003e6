#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Makes replicas of flared-jar that are off by what is known, as another camera sees them.

Needs what render.py and extract_marks.py need.  Not part of the build.

    render_pairs.py [--threads N] [NAME ...]

pairs/NAME.json has the truth and pairs/NAME.marks.json the marks, as for the other scenes; the masks
are not kept.  The profile's control points are those of flared-jar but for what NAME says.
"""
import argparse
import json
import os
import sys

import extract_marks
import render

SEEN = dict(focal=44.0, distance=730, elevation=21, azimuth=-90, target=(-30, 0, 92), roll=-0.5)


def replica(change):
    s = dict(render.SCENES["flared-jar"], **SEEN)
    s["profile"] = [[change(i, *p) for i, p in enumerate(s["profile"][0])]]
    return s


PAIRS = {
    "same": lambda i, r, z: (r, z),
    "larger": lambda i, r, z: (1.06 * r, 1.06 * z),                           # 6 % all over
    "low-belly": lambda i, r, z: (r, z - 5.0 if i in (2, 3, 4) else z),       # belly 5 mm lower
    "wide-neck": lambda i, r, z: (r + 2.0 if i in (5, 6, 7) else r, z),       # neck 4 mm wider
    "flared-rim": lambda i, r, z: (r + {7: 2.0, 8: 6.0}.get(i, 0.0), z),      # rim 12 mm wider
}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--threads", type=int, default=1)
    args = parser.parse_args()
    for name in args.names or PAIRS:
        stem = os.path.join(render.HERE, "pairs", name)
        t = render.truth(name, replica(PAIRS[name]))
        rows = ",\n".join("    [%.6f, %.6f]" % tuple(p) for p in t.pop("profile")[::6])
        head = json.dumps(t, indent=2)
        with open(stem + ".json", "w", encoding="utf-8") as f:
            f.write(head[:-2] + ',\n  "profile": [\n' + rows + "\n  ]\n}\n")
        t["profile"] = render.truth(name, replica(PAIRS[name]))["profile"]
        render.render_mask(t, stem + ".png", args.threads)
        marks, counts = extract_marks.extract(stem + ".png", False)
        os.remove(stem + ".png")
        lines = ['  "%s": [%s]' % (key, ", ".join("[%.4f, %.4f]" % tuple(p) for p in value))
                 for key, value in marks.items()]
        with open(stem + ".marks.json", "w", encoding="utf-8") as f:
            f.write('{\n  "picture": "not kept",\n' + ",\n".join(lines) + "\n}\n")
        print(name, {k: len(v) for k, v in marks.items()}, {k: v and round(v, 2) for k, v in t["sizes_mm"].items()})


if __name__ == "__main__":
    sys.exit(main())
