#!/bin/sh
# SPDX-License-Identifier: MIT
# Checks what 'cmake --install' has put into a folder. One part at a time:
#
#   check_install.sh BUILD FOLDER make       installs BUILD there, and looks that all is there and runs
#   check_install.sh BUILD FOLDER desktop    the desktop entry and what it names
#   check_install.sh BUILD FOLDER mime       the file type, once it is in a data base
#   check_install.sh BUILD FOLDER appstream  the description for software catalogues
#   check_install.sh BUILD FOLDER icon       that the pictures are those of the drawing
#   check_install.sh BUILD FOLDER manual     the manual page
#   check_install.sh BUILD FOLDER bash|zsh|fish  what the shell offers
#   check_install.sh BUILD FOLDER package    makes the Debian package and looks into it
#
# Ends with 0, with 1 and a line that says what is wrong, or with 77 where a tool is not installed.
set -eu

build=$1 folder=$2 part=$3
root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
id=org.potshadow.Potshadow

wrong() {
  echo "$part: $*" >&2
  exit 1
}

needs() {
  for tool in "$@"; do
    command -v "$tool" >/dev/null || { echo "SKIPPED: there is no $tool here"; exit 77; }
  done
}

# is TEXT WANTED WHAT
is() { [ "$1" = "$2" ] || wrong "$3 is '$1', not '$2'"; }

# The options in the help of a command, one a line; not those of its examples, or of other commands.
options_in_help() {
  "$folder/bin/potshadow" "$1" --help | sed "/^Examples:/,\$d; s/'potshadow [^']*'//g" | grep -o -e '--[a-z][a-z-]*' | sort -u
}

make() {
  rm -rf "$folder"
  cmake --install "$build" --prefix "$folder" >/dev/null
  for name in bin/potshadow libexec/potshadow/potshadow-window \
    libexec/potshadow/potshadow-pictures share/applications/$id.desktop \
    share/metainfo/$id.metainfo.xml share/mime/packages/potshadow.xml \
    share/icons/hicolor/scalable/apps/$id.svg share/icons/hicolor/48x48/apps/$id.png \
    share/bash-completion/completions/potshadow share/zsh/vendor-completions/_potshadow \
    share/fish/vendor_completions.d/potshadow.fish share/doc/potshadow/copyright \
    share/potshadow/samples/shelf-jar.potshadow share/potshadow/samples/shelf-jar.jpg; do
    [ -s "$folder/$name" ] || wrong "there is no $name"
  done
  # From another folder, and with files that the installed program brought itself.
  cd /
  "$folder/bin/potshadow" measure "$folder/share/potshadow/samples/shelf-jar.potshadow" |
    grep -q '^ *Height ' || wrong 'the installed program does not measure the installed sample'
  "$folder/bin/potshadow" trace nothing.potshadow 2>&1 | grep -q "There is no file" ||
    wrong 'the program does not find the one that reads pictures'
}

desktop() {
  needs desktop-file-validate
  entry=$folder/share/applications/$id.desktop
  said=$(desktop-file-validate "$entry" 2>&1) || wrong "$said"
  is "$said" '' 'what desktop-file-validate says'
  for program in $(sed -n 's/^Exec=\([^ ]*\).*/\1/p' "$entry"); do
    [ -x "$folder/bin/$program" ] || wrong "Exec names $program, which is not installed"
  done
  [ -e "$folder/share/icons/hicolor/scalable/apps/$(sed -n 's/^Icon=//p' "$entry").svg" ] ||
    wrong 'its icon is not installed'
}

mime() {
  needs update-mime-database
  said=$(XDG_DATA_DIRS=$folder/share update-mime-database "$folder/share/mime" 2>&1) || wrong "$said"
  is "$said" '' 'what update-mime-database says'
  type=$(sed -n 's/^MimeType=\(.*\);/\1/p' "$folder/share/applications/$id.desktop")
  grep -qx "50:$type:\*.potshadow" "$folder/share/mime/globs2" ||
    wrong "*.potshadow is not of the type $type that the desktop entry opens"
}

appstream() {
  needs appstreamcli
  said=$(appstreamcli validate --no-net --pedantic "$folder/share/metainfo/$id.metainfo.xml" 2>&1) ||
    wrong "$said"
}

icon() {
  needs rsvg-convert compare
  for size in 16 24 32 48 64 128 256; do
    drawn=$folder/drawn.png
    rsvg-convert -w $size -h $size "$folder/share/icons/hicolor/scalable/apps/$id.svg" -o "$drawn"
    # Another version of the tool may round a pixel's edge otherwise: 2 % of full scale on average.
    off=$(compare -metric MAE "$drawn" "$folder/share/icons/hicolor/${size}x$size/apps/$id.png" \
      null: 2>&1 | sed 's/.*(\(.*\))/\1/')
    awk "BEGIN { exit !($off < 0.02) }" || wrong "the picture of $size pixels is not the drawing"
  done
}

manual() {
  needs man zcat col
  page=$folder/share/man/man1/potshadow.1
  [ -e "$page" ] || page=$page.gz
  said=$(LC_ALL=C.UTF-8 MANWIDTH=90 man --warnings -l "$page" 2>&1 >"$folder/manual.txt") || wrong "$said"
  is "$said" '' 'what man --warnings says'
  col -bx <"$folder/manual.txt" >"$folder/manual.plain"
  for command in $("$folder/bin/potshadow" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    sed -n "/^   potshadow $command\$/,/^   potshadow /p" "$folder/manual.plain" >"$folder/section.txt"
    for option in $(options_in_help "$command"); do
      grep -q -e "$option" "$folder/section.txt" || wrong "nothing is said of $option of $command"
    done
  done
}

# offered SHELL WORDS...: what the shell offers for the last word.
offered() {
  shell=$1
  shift
  case $shell in
    bash)
      bash --norc -c 'source "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _potshadow
                      printf "%s\n" "${COMPREPLY[@]}"' \
        "$folder/share/bash-completion/completions/potshadow" "$@" 2>&1
      ;;
    fish)
      fish --no-config -c 'source $argv[1]; complete -C "$argv[2..]"' \
        "$folder/share/fish/vendor_completions.d/potshadow.fish" "$@" | cut -f 1
      ;;
  esac
}

shell_offers() {
  shell=$1
  commands=$("$folder/bin/potshadow" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
  [ "$(echo "$commands" | wc -l)" -ge 11 ] || wrong 'the help names too few commands'
  for command in $commands; do
    offered "$shell" potshadow "${command%?}" | grep -qx "$command" || wrong "$command is not offered"
    # 'potshadow sheet' and the like may stand in another command's words.
    is "$(offered "$shell" potshadow "$command" -- | grep -e '^--' | sort -u)" \
      "$(options_in_help "$command")" "what is offered after $command"
  done
  is "$(offered "$shell" potshadow sheet --paper t)" tabloid 'the paper offered for t'
  is "$(offered "$shell" potshadow measure --units m)" mm 'the unit offered for m'
  is "$(offered "$shell" potshadow check --stage b)" bone-dry 'the stage offered for b'
  is "$(offered "$shell" potshadow sheet --kind cr)" cradle 'the kind offered for cr'
  is "$(offered "$shell" potshadow clay han | head -1)" handbook 'the word offered for han'
}

bash_part() {
  needs bash
  shell_offers bash
  mkdir -p "$folder/with files/a folder"
  : >"$folder/with files/my jar.potshadow"
  : >"$folder/with files/my jar.jpg"
  cd "$folder/with files"
  is "$(offered bash potshadow measure my)" 'my jar.potshadow' 'the file offered to measure'
  is "$(offered bash potshadow calibrate my | sort)" "$(printf 'my jar.jpg\nmy jar.potshadow')" \
    'the pictures offered to calibrate'
}

zsh_part() {
  needs zsh
  script=$folder/share/zsh/vendor-completions/_potshadow
  said=$(zsh -n "$script" 2>&1) || wrong "$said"
  for command in $("$folder/bin/potshadow" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    # zsh's own reader of these lines, on every command.
    is "$(sed -n "/^    $command)\$/,/;;/p" "$script" | grep -o "'\*--[a-z-]*" | cut -c 3- | sort -u)" \
      "$(options_in_help "$command")" "what stands for $command"
  done
}

package() {
  needs cpack dpkg-shlibdeps dpkg-deb file
  rm -rf "$folder/package"
  mkdir -p "$folder/package"
  cpack -G DEB --config "$build/CPackConfig.cmake" -B "$folder/package" >"$folder/cpack.txt" 2>&1 ||
    wrong "$(tail -5 "$folder/cpack.txt")"
  deb=$(ls "$folder"/package/potshadow_*.deb)
  depends=$(dpkg-deb -f "$deb" Depends)
  for name in fonts-inter fonts-dejavu-core libcholmod3 libopencv-imgcodecs406 libcairo2 libheif1 \
    libexif12 libglfw3 libfontconfig1 libc6; do
    case $depends in
      *"$name"*) ;;
      *) wrong "it does not depend on $name, but on $depends" ;;
    esac
  done
  dpkg-deb -c "$deb" >"$folder/inside.txt"
  grep -q ' ./usr/bin/potshadow$' "$folder/inside.txt" || wrong 'the program is not in it'
  grep -v '^d' "$folder/inside.txt" | grep -v ' \./usr/' && wrong 'files lie outside /usr'
  grep -v ' root/root ' "$folder/inside.txt" && wrong 'files belong to somebody else than root'
  return 0
}

case $part in
  make | desktop | mime | appstream | icon | manual | package) $part ;;
  bash | zsh) ${part}_part ;;
  fish)
    needs fish
    shell_offers fish
    ;;
  *) wrong 'is no part' ;;
esac
