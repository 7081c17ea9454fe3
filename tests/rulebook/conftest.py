"""The shipped tables are parsed once for the hundreds of loads here; each load gets tables of its own."""

import pickle
import tomllib
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

_parse = tomllib.loads


@cache
def _parsed(text: str) -> bytes:
    return pickle.dumps(_parse(text))


@pytest.fixture(autouse=True, scope="module")
def parsed_once() -> Iterator[None]:
    """Parse a text that was parsed before no second time: that is half of what a load takes."""
    with pytest.MonkeyPatch.context() as patch:

        def loads(text: str) -> dict[str, Any]:
            tables: dict[str, Any] = pickle.loads(_parsed(text))
            return tables

        patch.setattr(tomllib, "loads", loads)
        yield
