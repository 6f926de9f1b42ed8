#!/bin/sh
# Every #include of src/ held against the layers of the house: which folder may include which, and which outside library
# has its one door where. Prints each breach; the status is 1 when there is one.
#
#     layers.sh [SOURCE_FOLDER]
set -u
cd "${1:-$(dirname "$0")/..}/src" || exit 3

# Beside itself and base, a folder may include:
may_include() {
    case $1 in
    base | physics | catalog) echo "" ;;
    boat) echo "catalog" ;;
    calc) echo "physics catalog" ;;
    result) echo "boat" ;;
    checks) echo "physics catalog boat result" ;;
    study) echo "checks physics catalog result boat" ;;
    draw) echo "result" ;;
    report) echo "draw result boat" ;;
    store) echo "boat" ;;
    app) echo "store report draw study checks result calc boat catalog" ;;
    *) return 1 ;;
    esac
}

# An outside header and the folders that are its door.
doors() {
    case $1 in
    libfyaml.h) echo "boat" ;;
    udunits2.h | udunits.h) echo "base" ;;
    sqlite3.h) echo "store" ;;
    libsoup/* | qrencode.h) echo "app" ;;
    librsvg/* | cairo*.h | pango/* | json-glib/* | xlsxwriter.h | libical/*) echo "report" ;;
    gsl/gsl_errno.h) echo "base physics app" ;; # main turns its handler off
    gsl/* | lapack*.h | suitesparse/* | klu.h) echo "base physics" ;;
    *) return 1 ;;
    esac
}

has_word() { # WORD LIST
    for word in $2; do
        [ "$word" = "$1" ] && return 0
    done
    return 1
}

breaches=0
looked=0
breach() {
    echo "$1"
    breaches=$((breaches + 1))
}

list=$(mktemp) || exit 3
trap 'rm -f "$list"' EXIT
grep -rnE '^[[:space:]]*#[[:space:]]*include' --include='*.[ch]' --include='*.def' . >"$list"
while IFS= read -r line; do
    file=${line%%:*}
    file=${file#./}
    rest=${line#*:}
    number=${rest%%:*}
    folder=${file%%/*}
    header=$(printf '%s\n' "$rest" | sed -n 's/^[^<"]*[<"]\([^>"]*\)[>"].*/\1/p')
    looked=$((looked + 1))
    allowed=$(may_include "$folder") || {
        breach "src/$file:$number: the folder $folder is in no layer; write it down in tests/layers.sh"
        continue
    }
    case $rest in
    *'<'*)
        if [ "$folder" = physics ]; then
            case $header in
            glib* | gio/* | gobject/*) breach "src/$file:$number: physics knows no GLib ($header)" ;;
            esac
        fi
        if door=$(doors "$header") && ! has_word "$folder" "$door"; then
            breach "src/$file:$number: $header belongs to $door alone"
        fi
        ;;
    *)
        target=${header%%/*}
        if [ "$target" = "$header" ]; then
            # what the build writes, such as a resource header, has no folder
            [ -e "$header" ] && breach "src/$file:$number: $header needs its folder: \"folder/$header\""
        elif ! may_include "$target" >/dev/null; then
            breach "src/$file:$number: $header is in no layer"
        elif [ "$target" != "$folder" ] && [ "$target" != base ] && ! has_word "$target" "$allowed"; then
            breach "src/$file:$number: $folder may not include $target ($header)"
        fi
        ;;
    esac
done <"$list"

if [ "$looked" -eq 0 ]; then
    echo "no #include found under $(pwd)"
    exit 3
fi
echo "$looked includes looked at, $breaches breaches"
[ "$breaches" -eq 0 ]
