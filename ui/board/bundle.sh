#!/bin/sh
# Make the scripts anew from the sources, and write their SHA-256 above each: see DEVELOPERS.md.
set -e
cd "$(dirname "$0")"
told=$(cat source/*.js | sha256sum | cut -d" " -f1)
bundle() {
  "${ESBUILD:-esbuild}" "source/$1" --bundle --minify --format=esm --charset=ascii \
    --banner:js="// $told" --outfile="$2"
}
bundle main.js board.js
bundle carrier.js carrier.js
