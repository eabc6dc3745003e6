#!/bin/sh
# SPDX-License-Identifier: MIT
# Fuzzes for long, one target after the other, with address and undefined-behaviour checks.
#
#   tests/fuzz/run.sh [MINUTES] [TARGET...]   MINUTES for each target, 10 if not given; all targets
#
# Needs clang 14 with its run-time libraries (Debian: clang-14 libclang-rt-14-dev). Builds in
# build-fuzz/. What it finds goes to build-fuzz/found/TARGET/: crash-* is an input to mend, the
# rest new coverage. Prints a line for each target; ends with 1 where any crashed.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
build=$root/build-fuzz
minutes=${1:-10}
[ $# = 0 ] || shift
[ $# -gt 0 ] || set -- project clay_book books header exif decode typed flat_files pdf

CXX=${CXX:-clang++-14} cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo \
  -DCMAKE_CXX_FLAGS_RELWITHDEBINFO='-O1 -g1' -DPOTSHADOW_TESTS=ON -DPOTSHADOW_FUZZ=ON >/dev/null
for target in "$@"; do wanted="${wanted:-} fuzz_$target"; done
cmake --build "$build" --parallel "${JOBS:-$(nproc)}" --target $wanted

crashed=0
printf '%-12s %12s %9s %9s %9s %8s\n' target executions a_second coverage inputs crashes
for target in "$@"; do
  found=$build/found/$target
  mkdir -p "$found"
  log=$build/found/$target.log
  # A leak is not looked for at the end: the libraries that decode keep some memory for good.
  ASAN_OPTIONS=detect_leaks=0 nice -n 10 "$build/tests/fuzz/fuzz_$target" "$found" \
    "$root/tests/fuzz/corpus/$target" -max_total_time=$((minutes * 60)) -timeout=20 -rss_limit_mb=3000 \
    -print_final_stats=1 -artifact_prefix="$found/" >"$log" 2>&1 || crashed=1
  awk -v name="$target" '
    /^stat::number_of_executed_units/ { runs = $2 }
    /^stat::average_exec_per_sec/ { rate = $2 }
    / cov: / { for (i = 1; i < NF; ++i) { if ($i == "cov:") cov = $(i + 1)
                                         if ($i == "corp:") split($(i + 1), in_corpus, "/") }
               if (first == "") first = cov }
    /SUMMARY: / { crashes += 1 }
    END { printf "%-12s %12d %9d %4d+%-4d %9d %8d\n", name, runs, rate, first, cov - first, in_corpus[1], crashes }
  ' "$log"
done
exit $crashed
