#!/bin/sh
# SPDX-License-Identifier: MIT
# Prints how many lines of src/ the tests run, folder by folder; the window is left out.
#
#   tests/coverage.sh                 builds in build-coverage/, runs all tests, prints the table
#   tests/coverage.sh --checked       the same with address and undefined-behaviour checks, in
#                                     build-checked/: finds memory errors and gives the table in one
#   tests/coverage.sh -R Profile      other options go to ctest
#   tests/coverage.sh --table BUILD   only the table, of what has run in BUILD so far
#
# Every file is listed with its missed lines in BUILD/coverage.txt. With CXX=clang++-14 the checked
# build takes less than half the time that g++ needs for it. Ends as ctest does.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)

# table BUILD
table() {
  gcov=gcov
  case $(sed -n 's/^CMAKE_CXX_COMPILER:[^=]*=//p' "$1/CMakeCache.txt") in
    *clang++-*) gcov="llvm-cov-14 gcov" ;;
  esac
  gcovr --root "$root" --object-directory "$1" --gcov-executable "$gcov" --filter "$root/src/" \
    --exclude "$root/src/desktop/window/" --exclude '.*main\.cc$' --exclude-unreachable-branches \
    --csv "$1/coverage.csv" --txt "$1/coverage.txt" >/dev/null
  # filename, lines, lines run, ...
  awk -F, 'NR > 1 {
      split($1, at, "/")
      folder = at[2] == "desktop" ? at[2] "/" at[3] : at[2]
      lines[folder] += $2; run[folder] += $3; all += $2; all_run += $3
    }
    END {
      for (folder in lines) printf "%-18s %7d %7d %6.1f %%\n", folder, lines[folder], run[folder],
                                   100 * run[folder] / lines[folder] | "sort"
      close("sort")
      printf "%-18s %7d %7d %6.1f %%\n", "all", all, all_run, 100 * all_run / all
    }' "$1/coverage.csv"
}

checked=OFF build=$root/build-coverage
case ${1:-} in
  --table) table "$(CDPATH= cd -- "$2" && pwd)"; exit ;;
  --checked) checked=ON build=$root/build-checked; shift ;;
esac

"$root/third_party/install-debian.sh" --tests --coverage || [ $? = 3 ] || exit 1

# Without optimising, the estimates would take hours.
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS_DEBUG='-O2 -g1' \
  -DCMAKE_CXX_FLAGS=--coverage -DPOTSHADOW_TESTS=ON -DPOTSHADOW_SANITIZE=$checked
cmake --build "$build" --parallel "$(nproc)"
failed=0
(cd "$build" && ctest --output-on-failure --parallel "$(nproc)" "$@") || failed=$?
table "$build"
exit $failed
