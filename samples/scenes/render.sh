#!/bin/sh
# SPDX-License-Identifier: MIT
# Renders all sample photographs and writes their truth; takes some minutes. Not part of the build.
# Needs: povray exiftool python3-numpy python3-scipy python3-pil fonts-dejavu-core
set -eu
exec /usr/bin/python3 "$(dirname "$0")/make_sample.py" "$@"
