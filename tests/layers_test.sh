#!/bin/sh
# layers.sh must find each kind of breach in a small tree made for it, and nothing in a right one.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
tree=$(mktemp -d)
trap 'rm -rf "$tree"' EXIT
passed=0

expect() { # STATUS FILE LINE
    rm -rf "$tree/src"
    mkdir -p "$tree/src/base" "$tree/src/$(dirname "$2")"
    echo '#include <math.h>' >"$tree/src/base/number.h"
    printf '%s\n' "$3" >"$tree/src/$2"
    status=0
    "$here/layers.sh" "$tree" >"$tree/said" || status=$?
    if [ "$status" -ne "$1" ]; then
        echo "FAIL: '$3' in $2 gave $status, not $1:"
        cat "$tree/said"
        exit 1
    fi
    passed=$((passed + 1))
}

expect 0 boat/a.c '#include "base/number.h"'
expect 0 boat/a.c '#include "catalog/catalog.h"'
expect 0 boat/a.c '#include <libfyaml.h>'
expect 0 checks/afloat/a.c '#include "physics/afloat/body.h"'
expect 1 boat/a.c '#include "checks/solve.h"'
expect 1 base/a.c '#include "boat/boat.h"'
expect 1 app/a.c '#include "physics/afloat/body.h"'
expect 1 draw/a.c '#  include "boat/boat.h"'
expect 1 physics/a.c '#include <glib.h>'
expect 1 app/a.c '#include <sqlite3.h>'
expect 1 boat/a.c '#include <udunits2.h>'
expect 1 draw/a.c '#include <librsvg/rsvg.h>'
expect 1 attic/a.c '#include "base/number.h"'
expect 1 base/a.c '#include "number.h"
#include "attic/a.h"'
echo "$passed passed"
