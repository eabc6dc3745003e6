#!/bin/sh
# SPDX-License-Identifier: MIT
# The sample potter's jar by commands: clay, plan, the wet pot, the corrected pot, the fired pot, and
# what it tells the clay. samples/walk-through.md says the same in words.
#
#   samples/bench.sh PROGRAM FOLDER
#
# PROGRAM is the built potshadow. FOLDER gets a copy of the project and a book of clays of its own,
# so that yours stays as it is.
set -eu

if [ $# != 2 ]; then
  echo "bench.sh: give the program and a folder, as in: samples/bench.sh build-release/bin/potshadow jar" >&2
  exit 2
fi
samples=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd)
mkdir -p "$2"
program=$(CDPATH= cd -- "$(dirname -- "$1")" && pwd)/$(basename -- "$1")
cd "$2"
XDG_DATA_HOME=$PWD/data
export XDG_DATA_HOME
rm -rf "$XDG_DATA_HOME"

cp "$samples/shelf-jar.jpg" .
# The project names the clay's record in the book, in place of a shrinkage of its own.
sed 's/"clay": {.*}/"clay": { "record": "buff-mix", "firing_c": 950 }/' \
  "$samples/shelf-jar.potshadow" >shelf-jar.potshadow

say() {
  echo
  echo "\$ potshadow $*"
  "$program" "$@"
}

say clay import "$samples/clays.json" --replace
say clay show buff-mix
say plan shelf-jar.potshadow --wall 8 --coil 14
# The wet pot has grown too wide.
say check shelf-jar.potshadow --stage wet height=266±1 girth:max=895 rim=184 rim=186
# Its wall is pressed in and its sizes are kept.
say check shelf-jar.potshadow --stage wet height=267±1 girth:max=853 rim=184 rim=186 --keep
# Dried and fired.
say check shelf-jar.potshadow --stage fired height=236±1 girth:max=754 rim=163 rim=164 --evidence
say clay list
