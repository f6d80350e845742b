# Puts a Node that is new enough for web/ first in PATH, with npm. To be read by other scripts, from
# the project's folder: . tools/find_node.sh
new_enough() {
  command -v node >/dev/null && command -v npm >/dev/null &&
    node -e 'const [a, b] = process.versions.node.split(".").map(Number);
             process.exit((a === 20 && b >= 19) || (a === 22 && b >= 12) || a > 22 ? 0 : 1)'
}
if ! new_enough; then
  command -v npm >/dev/null || tools/install_packages.sh node
  if ! new_enough; then
    [ -x .tools/node_modules/.bin/node ] ||
      npm install --no-fund --no-audit --loglevel=error --prefix .tools node@22 npm@11
    PATH="$PWD/.tools/node_modules/.bin:$PATH"
    export PATH
  fi
fi
