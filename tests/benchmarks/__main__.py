"""Measures the app against its targets and prints one table.

.venv/bin/python -m tests.benchmarks            all of it, about a quarter of an hour; best on an idle machine
.venv/bin/python -m tests.benchmarks tapping    one of them

The exit status is 1 when a target is missed.
"""

import argparse
import sys
import tempfile
from pathlib import Path

from tests.benchmarks import (
    cold_start,
    engines,
    first_visit,
    growing,
    labels,
    lots,
    measuring,
    notebooks,
    server_start,
    tapping,
)
from tests.benchmarks.table import Row, printed

MEASURES = {
    "first_visit": first_visit.rows,
    "cold_start": cold_start.rows,
    "tapping": tapping.rows,
    "engines": engines.rows,
    "growing": growing.rows,
    "server_start": server_start.rows,
    "labels": labels.rows,
    "measuring": measuring.rows,
    "notebooks": notebooks.rows,
    "lots": lots.rows,
}


def main() -> int:
    """Run the measures asked for, or all; gives the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Measures the app.")
    parser.add_argument("measures", nargs="*", metavar="MEASURE", help=f"any of: {', '.join(MEASURES)}")
    asked = parser.parse_args().measures or list(MEASURES)
    if unknown := set(asked) - set(MEASURES):
        parser.error(f"unknown: {', '.join(sorted(unknown))}; there are {', '.join(MEASURES)}")
    rows: list[Row] = []
    for name in asked:
        print(f"measuring: {name}", file=sys.stderr, flush=True)
        with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
            rows += MEASURES[name](Path(folder))
    print(printed(rows))
    return 1 if any(row.met is False for row in rows) else 0


if __name__ == "__main__":
    sys.exit(main())
