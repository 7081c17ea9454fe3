#!/bin/sh
# Installs what the tests need and runs them. Options of pytest may follow; --long runs the sweeps in full.
set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd -P)
. "$root/webapp/setup.sh"

prepare dev
cd "$root"
exec "$venv/bin/python" -m pytest "$@"
