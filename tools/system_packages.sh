#!/bin/sh
# System programs that some tests look through: present, or installed where this runs as root, or named
# with what is skipped without them. Under CI a missing one is an error.
set -eu
cd "$(dirname "$0")/.."

# program, Debian package, what goes without it
WANTED="
pdftotext poppler-utils tests that read the text of papers
pdfinfo poppler-utils tests that read the tags of papers
pdftoppm poppler-utils tests that look at papers as pictures
chromium chromium tests that look at pages through a browser
ngspice ngspice tests that compare circuits with a circuit simulator
"

missing() {
    echo "$WANTED" | while read -r program package skipped; do
        [ -n "$program" ] || continue
        command -v "$program" >/dev/null 2>&1 || echo "$program $package $skipped"
    done
}

absent=$(missing)
[ -n "$absent" ] || exit 0

tried=.cache/system-packages-tried
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 && { [ -n "${CI:-}" ] || [ ! -e "$tried" ]; }; then
    mkdir -p .cache
    : >"$tried"
    packages=$(echo "$absent" | cut -d' ' -f2 | sort -u | tr '\n' ' ')
    echo "setting up: system packages $packages" >&2
    export DEBIAN_FRONTEND=noninteractive
    # shellcheck disable=SC2086  # a list of names
    { apt-get -qq install -y --no-install-recommends $packages ||
        { apt-get -qq update && apt-get -qq install -y --no-install-recommends $packages; }; } >/dev/null 2>&1 || true
    absent=$(missing)
    [ -n "$absent" ] || exit 0
fi

echo "$absent" | while read -r program package skipped; do
    echo "setting up: $program is not here (Debian package $package): $skipped are skipped" >&2
done
[ -z "${CI:-}" ] || { echo "setting up: under CI nothing may be skipped" >&2; exit 1; }
