#!/bin/sh
# Make board.js anew from the sources, and write their SHA-256 above it: see DEVELOPERS.md.
set -e
cd "$(dirname "$0")"
told=$(cat source/*.js | sha256sum | cut -d" " -f1)
"${ESBUILD:-esbuild}" source/main.js --bundle --minify --format=esm --charset=ascii \
  --banner:js="// $told" --outfile=board.js
