#!/bin/sh
# Code that must not compile, does not. Usage: run.sh COMPILER INCLUDE_DIR
# Each *.fail.cpp must be refused as it stands and accepted with -DCONTROL, which swaps only the
# forbidden line: so it is that line that is refused. One line per file; exit 1 if any is wrong.
set -u
if [ $# -ne 2 ]; then
  echo "usage: $0 COMPILER INCLUDE_DIR" >&2
  exit 2
fi
compiler=$1
include=$2
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
bad=0

compiles() { "$compiler" -std=c++20 -fsyntax-only -Werror=unused-result -I"$include" "$@" 2>/dev/null; }

if compiles "$here/control.cpp"; then
  echo "ok    control.cpp compiles"
else
  echo "WRONG control.cpp does not compile"
  bad=1
fi
for file in "$here"/*.fail.cpp; do
  name=$(basename "$file")
  if ! compiles -DCONTROL "$file"; then
    echo "WRONG $name does not compile even without the forbidden line"
    bad=1
  elif compiles "$file"; then
    echo "WRONG $name compiles"
    bad=1
  else
    echo "ok    $name is refused"
  fi
done
exit $bad
