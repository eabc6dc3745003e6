#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Level lines of some masks by scikit-image: level-lines.json, to compare tracing with.

Needs python3-numpy, python3-pil and python3-skimage.  Not part of the build.

The share of each pixel that shows the vessel (red and green together) is taken as a field; its longest
level line at one half is the vessel's silhouette.  Every SPACING-th point is kept.  Pixels: (0, 0) is
the centre of the top-left pixel.
"""
import json
import os

import numpy as np
from PIL import Image
from skimage.measure import find_contours

HERE = os.path.dirname(os.path.abspath(__file__))
SCENES = ["barrel", "flared-jar", "open-bowl"]
SPACING = 6


def main():
    lines = {}
    for name in SCENES:
        rgb = np.asarray(Image.open(os.path.join(HERE, name + ".png")).convert("RGB"), float) / 255
        share = np.clip(rgb[..., 0] + rgb[..., 1], 0, 1)
        line = max(find_contours(share, 0.5), key=len)[:-1:SPACING, ::-1]
        lines[name] = [[round(float(x), 3), round(float(y), 3)] for x, y in line]
    rows = ",\n".join('  "%s": %s' % (name, json.dumps(line, separators=(",", ":"))) for name, line in lines.items())
    with open(os.path.join(HERE, "level-lines.json"), "w", encoding="utf-8") as f:
        f.write('{ "level": 0.5, "lines": {\n' + rows + "\n} }\n")


if __name__ == "__main__":
    main()
