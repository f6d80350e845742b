#!/bin/sh
# Installs what is missing of packages.txt. Usage: tools/install_packages.sh build [check]
# Safe to run again; asks the package lists only when something is missing.
set -eu
list="$(dirname "$0")/../packages.txt"

missing=""
for purpose in "$@"; do
  for package in $(sed -n "s/^$purpose //p" "$list"); do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q '^install ok installed$' ||
      missing="$missing $package"
  done
done

if [ -z "$missing" ]; then
  echo "packages: all there"
  exit 0
fi

if ! command -v apt-get >/dev/null; then
  echo "This needs Debian 12, or these packages by other means:$missing" >&2
  exit 3
fi
as_root=""
[ "$(id -u)" = 0 ] || as_root="sudo"
echo "packages: installing$missing"
$as_root apt-get update -qq
# shellcheck disable=SC2086 -- a list of words on purpose
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends $missing
