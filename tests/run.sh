#!/bin/sh
# Installs what the tests need and runs them. Options of pytest may follow; --long runs the sweeps in full.
set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd -P)
. "$root/webapp/setup.sh"

prepare dev
cd "$root"
# A file at a time on each core: most of the time goes into browsers, and more than four get in each other's way.
exec "$venv/bin/python" -m pytest -n auto --maxprocesses 4 --dist loadfile "$@"
