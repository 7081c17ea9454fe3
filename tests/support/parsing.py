"""Tables are parsed once for the hundreds of loads in a run; each load gets tables of its own."""

import pickle
import tomllib
from functools import cache
from typing import Any

_parse = tomllib.loads


@cache
def _parsed(text: str) -> bytes:
    return pickle.dumps(_parse(text))


def parsed(text: str) -> dict[str, Any]:
    """What `tomllib.loads` gives for a text; one that was given before is not parsed again."""
    tables: dict[str, Any] = pickle.loads(_parsed(text))
    return tables
