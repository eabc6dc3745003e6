#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs the Debian package in a bare Debian 12 and runs it there. By hand, as root:
#
#   tests/install/clean_root.sh BUILD [ROOT]
#
#   BUILD   a folder in which everything is built
#   ROOT    where the bare system is, or goes; a new folder in the temporary one if not given, which
#           is deleted at the end
#
# Needs debootstrap and cpack, and the package mirror. Prints what it downloads and how long each
# step takes; ends with 0 where the program measures, prints, reads pictures and opens its window.
set -eu

build=$(CDPATH= cd -- "$1" && pwd)
root=${2:-}
delete=
if [ -z "$root" ]; then
  root=$(mktemp -d)
  delete=yes
fi
tidy() {
  umount "$root/proc" 2>/dev/null || true
  # Never into a /proc that is still there.
  [ -z "$delete" ] || mountpoint -q "$root/proc" || rm -rf "$root"
}
trap tidy EXIT

began=$(date +%s)
step() {
  now=$(date +%s)
  echo "== $* (after $((now - began)) s)"
}
inside() { chroot "$root" env DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8 HOME=/root "$@"; }

if [ ! -e "$root/etc/debian_version" ]; then
  step 'a bare Debian 12'
  debootstrap --variant=minbase bookworm "$root" >"$root.log" 2>&1
fi
mount -t proc proc "$root/proc"
step 'the package'
packed=$(mktemp -d)
cpack -G DEB --config "$build/CPackConfig.cmake" -B "$packed" >/dev/null
cp "$packed"/potshadow_*.deb "$root/potshadow.deb"
rm -rf "$packed"
ls -l "$root/potshadow.deb"

step 'installing it'
inside apt-get -q update >/dev/null
inside apt-get -q install -y --no-install-recommends /potshadow.deb >"$root/install.txt" 2>&1 || {
  tail "$root/install.txt"
  exit 1
}
grep -E '^Need to get|^After this|newly installed' "$root/install.txt"
step 'libraries'
for program in usr/bin/potshadow usr/libexec/potshadow/potshadow-window \
  usr/libexec/potshadow/potshadow-pictures; do
  inside ldd "/$program" | grep 'not found' && exit 1
done

step 'running it'
inside mkdir -p /pots
in_work() { inside sh -euc "cd /pots && $*"; }
in_work 'cp /usr/share/potshadow/samples/* .'
in_work 'potshadow --version; potshadow measure shelf-jar.potshadow' | grep -m 5 -E '^potshadow|mm|ml'
in_work 'potshadow sheet shelf-jar.potshadow --output jar.pdf --kind all' >/dev/null
in_work 'potshadow export shelf-jar.potshadow --output jar.dxf' >/dev/null
in_work 'potshadow trace shelf-jar.potshadow --box 1350,520,3070,2390' >/dev/null
in_work 'potshadow unroll shelf-jar.potshadow --output jar.png' >/dev/null
ls -l "$root"/pots/jar.*

step 'its window, on a screen in memory'
inside apt-get -q install -y --no-install-recommends xvfb xauth libgl1-mesa-dri >/dev/null 2>&1
inside sh -c 'cd /pots && POTSHADOW_DESCRIBE=/pots/seen.json timeout 40 xvfb-run -a \
  -s "-screen 0 1280x800x24" potshadow shelf-jar.potshadow' || [ $? = 124 ]
grep -q '"figures":"current"' "$root/pots/seen.json"
step 'all is well'
