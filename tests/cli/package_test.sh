#!/usr/bin/env bash
# What is installed can be used by another project: package_test.sh BUILD-FOLDER SOURCE-FOLDER-OF-THIS-TEST
set -euo pipefail
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cmake --install "$1" --prefix "$folder/installed" >/dev/null
cmake -S "$2/package" -B "$folder/build" -DCMAKE_PREFIX_PATH="$folder/installed" >/dev/null
cmake --build "$folder/build" >/dev/null
"$folder/build/consumer"
"$folder/installed/bin/lanyard" --version
