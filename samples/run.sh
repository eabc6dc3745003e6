#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds Potshadow in build-release/ and measures the two vessels of the sample case with it. The
# sizes and the templates go to build-release/sample-output/. Where there is a display, the window
# then opens on a copy of the first vessel.
#
#   samples/run.sh              all of this
#   samples/run.sh --no-window  without the window
#
# Installs what is missing first (third_party/install-debian.sh, as root or with sudo).
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/build-release
output=$build/sample-output

window=no
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then window=yes; fi
case ${1:-} in
  '') ;;
  --no-window) window=no ;;
  *)
    echo "run.sh: '$1' is no option of this script. Give --no-window, or nothing." >&2
    exit 2
    ;;
esac

# 3: there is no apt here. The list of libraries has been printed; CMake says what it misses.
"$root/third_party/install-debian.sh" || [ $? = 3 ] || exit 1

generator=
if [ ! -e "$build/CMakeCache.txt" ] && command -v ninja >/dev/null; then
  generator='-G Ninja'
fi
cmake -S "$root" -B "$build" $generator -DCMAKE_BUILD_TYPE=Release -DPOTSHADOW_TESTS=OFF
cmake --build "$build" --parallel "$(nproc)" --target potshadow potshadow-window potshadow-pictures

potshadow=$build/bin/potshadow
mkdir -p "$output"
cd "$root/samples"
"$potshadow" measure shelf-jar.potshadow low-bowl.potshadow \
  --json "$output/sizes.json" --csv "$output/sizes.csv" >"$output/sizes.txt"
echo
cat "$output/sizes.txt"
for vessel in shelf-jar low-bowl; do
  "$potshadow" sheet "$vessel.potshadow" --output "$output/$vessel.pdf"
done
"$potshadow" unroll shelf-jar.potshadow --output "$output/painting.png" >/dev/null

cat <<END

Done. In $output:
  sizes.txt, sizes.json, sizes.csv   the sizes above
  shelf-jar.pdf, low-bowl.pdf        the templates: print at 100 % and check the bars with a ruler
  painting.png                       the jar's painting, laid flat at the size to make
END

if [ $window = yes ]; then
  # A copy, so that trying things out does not change the sample.
  if [ ! -e "$output/shelf-jar.potshadow" ]; then
    cp shelf-jar.jpg shelf-jar.potshadow "$output/"
  fi
  echo '  shelf-jar.potshadow                the project that the window now opens'
  exec "$potshadow" "$output/shelf-jar.potshadow"
fi
