#!/usr/bin/env bash
# Draws the two pictures of the README from the example site's papers (needs poppler-utils): make pictures
set -euo pipefail
cd "$(dirname "$0")/.."
papers=$(mktemp -d)
trap 'rm -rf "$papers"' EXIT
.venv/bin/sillwright study examples/ferry-yard.yaml --out "$papers" > /dev/null
mkdir -p docs/pictures
pdftoppm -q -gray -r 80 -f 1 -l 1 -singlefile -png "$papers/lanternfield-ferry-yard.pdf" docs/pictures/page
# The page of the second opening, wherever the pages before it end.
page=3
until pdftotext -q -f "$page" -l "$page" "$papers/lanternfield-ferry-yard.pdf" - | grep -q "^B2 · "; do page=$((page + 1)); done
pdftoppm -q -gray -r 110 -f "$page" -l "$page" -x 60 -y 322 -W 820 -H 500 -singlefile -png "$papers/lanternfield-ferry-yard.pdf" docs/pictures/drawing
