#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what Potshadow needs on Debian 12 (or a system made from it) and is not there yet.
#
#   third_party/install-debian.sh [--tests] [--benchmarks] [--coverage] [--scenes] [--list]
#
#   (nothing)     what building and running the program needs
#   --tests       also what its tests need
#   --benchmarks  also what its benchmarks need
#   --coverage    also what counts the lines that the tests run
#   --scenes      also what renders the test scenes and the samples anew
#   --list        installs nothing; prints the names of the packages, one a line
#
# As root, or with sudo. Running it again changes nothing. Ends with 0 when everything is there, 1
# when something could not be installed, 2 for a wrong option and 3 where there is no apt.
set -eu

compilers='g++ cmake ninja-build pkg-config'
libraries='libeigen3-dev nlohmann-json3-dev libceres-dev libcairo2-dev libfontconfig-dev
           libexif-dev libheif-dev libcli11-dev nettle-dev
           libimgui-dev libglfw3-dev libgl-dev libfreetype-dev
           libopencv-core-dev libopencv-imgproc-dev libopencv-imgcodecs-dev libopencv-calib3d-dev'
fonts='fonts-inter fonts-dejavu-core'
tests='libgtest-dev libgmock-dev librapidcheck-dev clang-format-14 poppler-utils
       admesh librsvg2-bin python3-ezdxf python3-pil python3-scipy xvfb xauth xdotool xclip imagemagick libgl1-mesa-dri opencv-doc
       desktop-file-utils shared-mime-info appstream man-db bsdextrautils bash zsh fish dpkg-dev file'
benchmarks='libbenchmark-dev'
coverage='gcovr'
scenes='povray python3-numpy python3-scipy python3-pil python3-skimage libimage-exiftool-perl'

wanted="$compilers $libraries $fonts"
list=no
for option in "$@"; do
  case $option in
    --tests) wanted="$wanted $tests" ;;
    --benchmarks) wanted="$wanted $benchmarks" ;;
    --coverage) wanted="$wanted $coverage" ;;
    --scenes) wanted="$wanted $scenes" ;;
    --list) list=yes ;;
    *)
      echo "install-debian.sh: '$option' is no option of this script." >&2
      echo "Give any of --tests, --benchmarks, --coverage, --scenes and --list." >&2
      exit 2
      ;;
  esac
done
wanted=$(printf '%s\n' $wanted | awk '!seen[$0]++')

if [ $list = yes ]; then
  printf '%s\n' "$wanted"
  exit 0
fi

if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
  {
    echo 'There is no apt here, so nothing was installed.'
    echo 'Install these with your own package manager (the names are those of Debian 12):'
    printf '  %s\n' $wanted
  } >&2
  exit 3
fi

is_installed() {
  [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null || true)" = installed ]
}

missing_of() {
  for package in "$@"; do
    is_installed "$package" || printf '%s\n' "$package"
  done
}

missing=$(missing_of $wanted)
[ -n "$missing" ] || exit 0

if [ "$(id -u)" = 0 ]; then
  as_root='env'
elif command -v sudo >/dev/null; then
  as_root='sudo env'
else
  {
    echo 'Packages are missing, and installing them needs root or sudo. Ask an administrator to run:'
    echo "  apt-get install --no-install-recommends" $missing
  } >&2
  exit 1
fi

apt="$as_root DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300"
echo 'Installing:' $missing
# A source that cannot be reached matters only if a package is then not found.
$apt update || echo 'apt-get update was not clean; going on with the lists that are here.' >&2
if ! $apt install -y --no-install-recommends $missing; then
  echo 'The packages above could not all be installed; what apt says of it stands above.' >&2
  exit 1
fi
