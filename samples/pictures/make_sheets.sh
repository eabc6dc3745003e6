#!/bin/sh
# SPDX-License-Identifier: MIT
# Makes the pictures of what leaves the program anew: pages of the sample jar, side by side, its
# painting laid flat, and the page for the museum.
#
#   samples/pictures/make_sheets.sh BUILD
#
# BUILD holds bin/potshadow. Needs Poppler's tools and ImageMagick.
set -eu
[ $# -eq 1 ] || { echo 'make_sheets.sh: give the folder of the build, as build-release.' >&2; exit 2; }
here=$(cd "$(dirname "$0")" && pwd)
program=$(cd "$1" && pwd)/bin/potshadow
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export SOURCE_DATE_EPOCH=1795996800 XDG_CONFIG_HOME="$work" XDG_DATA_HOME="$work"
pages=
for kind in bench stick rings section; do
  "$program" sheet "$here/../shelf-jar.potshadow" --output "$work/$kind.pdf" --kind $kind >/dev/null
  pdftoppm -r 40 -png -singlefile "$work/$kind.pdf" "$work/$kind"
  pages="$pages $work/$kind.png"
done
# shellcheck disable=SC2086  # no name has a space in it but the folder of mktemp, which has none
montage $pages -tile 4x1 -geometry +6+6 -background '#b9b2a6' -strip "$work/sheets.png"
convert "$work/sheets.png" +dither -colors 48 "$here/sheets.png"
"$program" unroll "$here/../shelf-jar.potshadow" --output "$work/unrolled.png" --pixels 4 >/dev/null
convert "$work/unrolled.png" -background white -flatten -resize 900x -quality 82 -strip "$here/unrolled.jpg"
"$program" visit --output "$work/museum.pdf" >/dev/null
pdftoppm -r 75 -png -singlefile "$work/museum.pdf" "$work/museum"
convert "$work/museum.png" +dither -colors 16 -strip "$here/museum.png"
