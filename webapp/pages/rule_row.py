"""The form of a rule row on its way to a reader."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

Json = dict[str, Any]


def row(address: str, title: str, says: Sequence[str], grounds: Mapping[str, Any], group: str = "") -> Json:
    """One row in words, with what it rests on; `address` names it among the rows of its family."""
    return {
        "address": address,
        "group": group,
        "title": title[:1].upper() + title[1:],
        "says": [text for text in says if text],
        "basis": grounds["basis"],
        "source": grounds.get("source"),
        "why": grounds.get("why"),
    }


def table(table_id: str, title: str, rows: Sequence[Json]) -> Json:
    """One table of such rows."""
    return {"id": table_id, "title": title, "rows": list(rows)}


def by_id(rows: Sequence[Json], row_id: str) -> Json:
    """The row of that id, which must be there."""
    return next(found for found in rows if found["id"] == row_id)


def each(found: Iterable[Json], words: Callable[[Json], Json]) -> list[Json]:
    """The rows that a function puts into words."""
    return [words(one) for one in found]
