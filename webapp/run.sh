#!/bin/sh
# Installs what is missing and opens Underchassis with its demo notebook on http://localhost:8000.
# Options of `underchassis serve` may follow: --port, --host, --data. The variable PORT sets the port, too.
set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd -P)
. "$root/webapp/setup.sh"

prepare ""
exec "$venv/bin/underchassis" serve --demo "$@"
