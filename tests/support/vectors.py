"""The hand-worked vectors in tests/vectors: reading them, and running one through the engine.

A vector is a JSON file: `name`; `why` it is there; `pack`, a file in `packs/` (one that is `based_on` another
changes some of its tables); `pack_changes`, dotted keys of the pack with other values; `findings`;
`expected`, a part of the appraisal document (lists whole, objects only the keys given, numbers to 1e-9
relative) or `expected_error`, words of the refusal (the twin sets aside where the engine refuses);
`workings`, how to get there with a calculator; `must_fail`, true where the expectation is wrong on purpose.
The file rounding.json holds a table in place of findings.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.support.comparing import differences
from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare

Json = dict[str, Any]

FOLDER = Path(__file__).resolve().parents[1] / "vectors"
MINOR_DIGITS = 2


@dataclass(frozen=True)
class Vector:
    """One hand-worked case, its pack complete."""

    name: str
    why: str
    pack: Json
    findings: Json
    expected: Json
    expected_error: tuple[str, ...]
    workings: tuple[str, ...]
    must_fail: bool


def vectors() -> list[Vector]:
    """All vectors, by name."""
    return [_vector(path) for path in sorted(FOLDER.glob("*.json")) if path.name != "rounding.json"]


def rounding_table() -> list[Json]:
    """The rows of the table of displayed amounts: value, minor_digits, down, shown."""
    table: list[Json] = _json(FOLDER / "rounding.json")["rounding"]
    return table


def engine_result(vector: Vector) -> Json:
    """The appraisal document of a vector by the Python engine; refusals are raised."""
    prepared = prepare(vector.pack)
    return appraise(prepared, read_findings(vector.findings, prepared), MINOR_DIGITS, str)


def vector_differences(vector: Vector, appraisal: Json) -> list[str]:
    """One line for each place where an appraisal differs from what a vector expects."""
    return differences(vector.expected, appraisal, whole=False)


def vector_pack(name: str) -> Json:
    """The pack of a file in packs/, complete."""
    pack: Json = _json(FOLDER / "packs" / f"{name}.json")
    based_on = pack.pop("based_on", None)
    return {**vector_pack(based_on), **pack} if based_on else pack


def _vector(path: Path) -> Vector:
    raw = _json(path)
    pack = vector_pack(raw["pack"])
    for dotted, value in raw.get("pack_changes", {}).items():
        *outer, last = dotted.split(".")
        table = pack
        for key in outer:
            table = table[key]
        assert last in table, f"{path.name}: the pack has no {dotted}"
        table[last] = value
    return Vector(
        name=raw["name"],
        why=raw["why"],
        pack=pack,
        findings=raw["findings"],
        expected=raw.get("expected", {}),
        expected_error=tuple(raw.get("expected_error", ())),
        workings=tuple(raw["workings"]),
        must_fail=raw.get("must_fail", False),
    )


def _json(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))
