#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds Potshadow with its tests in build/ and runs them all. Options go to ctest:
#
#   tests/run.sh             everything
#   tests/run.sh -R Sizes    the tests whose names match
#
# Installs what is missing first (third_party/install-debian.sh, as root or with sudo). Ends with 0
# when every test has passed. With the variable CI set, a compiler's warning is an error.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/build

# 3: there is no apt here. The list of libraries has been printed; CMake says what it misses.
"$root/third_party/install-debian.sh" --tests || [ $? = 3 ] || exit 1

generator=
if [ ! -e "$build/CMakeCache.txt" ] && command -v ninja >/dev/null; then
  generator='-G Ninja'
fi
cmake -S "$root" -B "$build" $generator -DCMAKE_BUILD_TYPE=Release -DPOTSHADOW_TESTS=ON \
  -DPOTSHADOW_WERROR="${CI:+ON}"
cmake --build "$build" --parallel "$(nproc)"
cd "$build"
ctest --output-on-failure --parallel "$(nproc)" "$@"
