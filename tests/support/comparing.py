"""Compares two appraisals number by number: the engine's with its twin's, a hand-worked one with either."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.appraisal.prepared import Prepared

Json = dict[str, Any]

RELATIVE = 1e-9
# How far two ranking keys may lie apart, against the money at stake, for their order to be a matter of noise.
NOISE = 1e-12


@dataclass(frozen=True)
class Sizes:
    """What the numbers of one appraisal are large or small against; `money` is 0 where none is known."""

    money: float = 0.0
    asked: bool = False

    def at(self, where: str) -> float:
        """The size that a number's error is measured against when the number itself is smaller.

        0 nearly everywhere: a number is held to its own size. Not so for differences of near-equal
        amounts, which may cancel to nothing and keep the noise of what they were made from: an EVI, the
        value of looking, a share of the price, a worth after costs, an offer taken from one of them are
        held to the price; a log effect, the logarithm of a price ratio, to 1.
        """
        if where.endswith(".log_effect"):
            return 1.0
        cancels = (
            where.endswith((".evi", ".amount", ".worst", ".best", ".gain", ".net", ".narrows", ".per_hour"))
            or where.endswith(("].worth", ".not_checked"))
            or where.startswith(("price.parts.", "price.restored_net.", "selling.floor", "mends["))
            or (where == "looking.value" and self.asked)
        )
        return self.money if cancels else 0.0


def sizes_of(appraisal: Json, asking: float | None) -> Sizes:
    """The sizes of a complete appraisal."""
    figures = [figure for law in appraisal["price"].values() for figure in law.values()]
    figures += [mend["materials"]["p50"] for mend in appraisal["mends"]]
    amounts = [abs(figure) for figure in figures if _number(figure)]
    return Sizes(max([*amounts, asking or 0.0]), asking is not None)


def differences(
    expected: Any, found: Any, sizes: Sizes | None = None, where: str = "", whole: bool = True
) -> list[str]:
    """One line for each place where two JSON values differ; numbers may differ by 1e-9 of their size.

    With `whole` both must have the same keys; without it `expected` may leave some out.
    """
    sizes = sizes or Sizes()
    if _number(expected) and _number(found):
        size = max(abs(expected), abs(found), sizes.at(where))
        same = expected == found or abs(expected - found) <= RELATIVE * size
        return [] if same else [f"{where}: {expected!r} expected, {found!r} found"]
    if isinstance(expected, Mapping) and isinstance(found, Mapping):
        missing = set(expected) ^ set(found) if whole else set(expected) - set(found)
        lines = [f"{where}: only one side has {key!r}" for key in sorted(missing)]
        for key in expected:
            if key in found:
                inner = f"{where}.{key}" if where else key
                lines += differences(expected[key], found[key], sizes, inner, whole)
        return lines
    if _list(expected) and _list(found):
        if len(expected) != len(found):
            return [f"{where}: {len(expected)} rows expected, {len(found)} found"]
        pairs = zip(expected, found, strict=True)
        rows = (differences(*pair, sizes, f"{where}[{at}]", whole) for at, pair in enumerate(pairs))
        return [line for row in rows for line in row]
    return [] if expected == found else [f"{where}: {expected!r} expected, {found!r} found"]


def twin_differences(expected: Json, found: Json, prepared: Prepared, asking: float | None) -> list[str]:
    """The differences between the engine's appraisal and its twin's, the order of their rows included."""
    sizes = sizes_of(expected, asking)
    found = dict(found)
    lines = []
    for name, id_key, keys in (
        ("next_checks", "check", _looking_keys(expected, prepared, asking)),
        ("reasons", "what", {row["what"]: (abs(row["log_effect"]),) for row in expected["reasons"]}),
    ):
        rows = found.get(name, [])
        wanted, got = [row[id_key] for row in expected[name]], [row[id_key] for row in rows]
        lines += _order_differences(name, wanted, got, keys, sizes.money)
        if sorted(wanted) == sorted(got):
            found[name] = sorted(rows, key=lambda row: wanted.index(row[id_key]))
    return lines + differences(expected, found, sizes)


def _looking_keys(appraisal: Json, prepared: Prepared, asking: float | None) -> dict[str, tuple[float, ...]]:
    """What the contract ranks checks by: EVI, then share of the spread, a second."""
    model = prepared.pack["model"]
    floor = model["evi_floor"] * model["look_share"] * max(asking or 0.0, appraisal["worth"]["value"])
    spread = {check.id: check.spread / check.seconds for check in prepared.checks}
    return {
        row["check"]: (row["evi"] / row["seconds"] if row["evi"] >= floor else 0.0, spread[row["check"]])
        for row in appraisal["next_checks"]
    }


def _order_differences(
    name: str, wanted: Sequence[str], got: Sequence[str], keys: Mapping[str, Iterable[float]], money: float
) -> list[str]:
    if sorted(wanted) != sorted(got):
        return [f"{name}: the rows {sorted(set(wanted) ^ set(got))} are on one side only, or repeated"]
    return [
        f"{name}: {one} expected, {other} found in the order"
        for one, other in zip(wanted, got, strict=True)
        if any(abs(a - b) > NOISE * max(1.0, money) for a, b in zip(keys[one], keys[other], strict=True))
    ]


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _list(value: Any) -> bool:
    return isinstance(value, list | tuple)
