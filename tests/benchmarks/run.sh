#!/bin/sh
# SPDX-License-Identifier: MIT
# Measures every speed and writes it as a table and a plot: each with the least that it takes beside
# it, and at four sizes or more.
#
#   tests/benchmarks/run.sh [OUT] [FILTER]   OUT: a folder, build-benchmarks/report if not given;
#                                            FILTER: only benchmarks whose name it is found in
#
# Builds in build-benchmarks/ with optimisation, or in the folder that the variable BUILD names.
# Some ten minutes on an idle machine, where alone the figures mean something. The window is measured
# where Xvfb is there. Needs install-debian.sh --tests --benchmarks.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
build=${BUILD:-$root/build-benchmarks}
out=${1:-$build/report}
filter=${2:-.}

cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DPOTSHADOW_TESTS=ON \
  -DPOTSHADOW_BENCHMARKS=ON >/dev/null
cmake --build "$build" --parallel "${JOBS:-$(nproc)}" \
  --target benchmarks picture_benchmarks window_benchmark
mkdir -p "$out"
# Each by itself: what one leaves in memory must not speed up or slow down the next.
for program in benchmarks picture_benchmarks; do
  "$build/tests/benchmarks/$program" --benchmark_filter="$filter" \
    --benchmark_out_format=json --benchmark_out="$out/$program.json"
done
window=
if [ "$filter" = . ] && command -v Xvfb >/dev/null; then
  window=$out/window.txt
  "$build/tests/desktop/window/window_benchmark" | tee "$window"
fi
python3 "$root/tests/benchmarks/report.py" "$out" "$out/benchmarks.json" \
  "$out/picture_benchmarks.json" $window
