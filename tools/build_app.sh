#!/bin/sh
# Builds the app from web/ into web/dist, which the program then carries in itself.
#
#   tools/build_app.sh           nothing to do where web/dist is newer than everything in web/
#   tools/build_app.sh --check   also its types, the rules' tests and the size of the first load
#
# Needs Node 20.19 or newer. Debian 12 has an older one: then its npm brings a newer Node into
# .tools, for this folder alone.
set -eu
cd "$(dirname "$0")/.."

check=no
for word in "$@"; do
  case "$word" in
    --check) check=yes ;;
    *) sed -n '2,9s/^# \{0,1\}//p' "$0"; exit 2 ;;
  esac
done

if [ "$check" = no ] && [ -f web/dist/index.html ] &&
  [ -z "$(find web docs/openapi.json docs/schema -newer web/dist/index.html -type f \
    -not -path 'web/node_modules/*' -not -path 'web/dist/*' -not -path 'web/e2e/*' \
    -not -name api_types.ts -print -quit)" ]; then
  echo "app: up to date"
  exit 0
fi

# shellcheck source=/dev/null
. tools/find_node.sh

cd web
npm ci --no-fund --no-audit --prefer-offline --loglevel=error
if [ "$check" = yes ]; then
  npm run -s check
  npm run -s test
fi
npm run -s build
[ "$check" = no ] || npm run -s budget
