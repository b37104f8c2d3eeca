#!/bin/sh
# Remake requirements/run.txt and requirements/dev.txt from the .in files beside them.
# Needs uv: ./test brings it into .venv. The locks name exact versions and hashes, and no address.
set -eu
cd "$(dirname "$0")/.."
uv=.venv/bin/uv
[ -x "$uv" ] || uv=uv
lock() {
    "$uv" pip compile --quiet --universal --python-version 3.12 --generate-hashes \
        --no-emit-index-url --no-emit-find-links --no-header --no-annotate "$@"
}
lock requirements/run.in -o requirements/run.txt
lock requirements/dev.in -c requirements/run.txt -o requirements/dev.txt
wc -l requirements/*.txt
