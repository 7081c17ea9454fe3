"""What the set says of itself: plates, numbers, coverage, and what fits together or does not."""

from typing import Any

from webapp.appraisal.consistency import MISFIT, UNKNOWN, Consistency, consistency
from webapp.appraisal.describing.seen import WHAT_IS_IT, Seen, tell
from webapp.appraisal.describing.sentences import Section, Sentence, blank, section, spoken
from webapp.appraisal.matching import designation_of
from webapp.appraisal.nameplate import SET, UNIT, order_year
from webapp.appraisal.prepared import Pack

# Blanks of the sentences about what fits together that are not figures.
_TEXTS = {"serial", "book", "designation"}
_WORDS = {"families", "finish", "service", "expected"}


def identity(seen: Seen) -> Section:
    """What it is described as, its plates and numbers, when and for whom, and what its dial covers."""
    stage = [tell(seen, one) for one in seen.of(WHAT_IS_IT)]
    return section(
        seen.prepared.pack, WHAT_IS_IT,
        [_type(seen), _plate(seen), stage, [*_serials(seen), *_notes(seen)], _coverage(seen)],
    )  # fmt: skip


def _type(seen: Seen) -> list[Sentence]:
    """The kind it is described as, and the type with what is known of such as they were built."""
    pack = seen.prepared.pack
    family = blank("label", family_name(pack))
    if "sheet" not in pack:
        return [spoken(pack, "tell-kind", ["family"], family=family)]
    named = spoken(pack, "tell-type", ["model_sheet"], type=blank("words", pack["name"]), family=family)
    about = blank("words", pack["about"])
    return [named, *([spoken(pack, "tell-about", ["model_sheet"], about=about)] if pack["about"] else [])]


def family_name(pack: Pack) -> str:
    """The name of the pack's family, whatever model sheet lies over it."""
    return str(pack["nomenclature"]["families"][pack["family"]]["name"])


def _plate(seen: Seen) -> list[Sentence]:
    """What stands on the nameplate, the designation read where it is whole, and the year of order."""
    pack, findings = seen.prepared.pack, seen.findings
    found = []
    if findings.nameplate:
        found.append(spoken(pack, "tell-nameplate", ["nameplate"], text=blank("text", findings.nameplate)))
    reading = designation_of(pack, findings.nameplate)
    if reading is not None and reading.kind in (SET, UNIT):
        found.append(spoken(pack, "tell-as-read", ["nameplate"], text=blank("words", reading.sentence)))
    for where, text in (("order", findings.order), ("nameplate", findings.nameplate)):
        year = order_year(pack["nomenclature"], text or "").year
        if year is not None:
            found.append(spoken(pack, "tell-year", [where], year=blank("text", str(year))))
            break
    return found


def _serials(seen: Seen) -> list[Sentence]:
    match = _match(seen, "serial")
    if match is not None and {"serial", "book"} & set(match.blanks):
        return [_said(seen, match, "book_foreign")]
    pack, findings = seen.prepared.pack, seen.findings
    numbers = (("serial", findings.serial), ("book", findings.book_serial))
    return [
        spoken(pack, f"tell-{name}", [name], number=blank("text", number))
        for name, number in numbers
        if number
    ]


def _notes(seen: Seen) -> list[Sentence]:
    """Service and finish as noted, and where designation or finish do not fit."""
    pack, findings = seen.prepared.pack, seen.findings
    notes = (("service", findings.service), ("finish", findings.finish))
    found = [spoken(pack, f"tell-{name}", [name], noted=blank("text", text)) for name, text in notes if text]
    for name in ("designation", "finish"):
        match = _match(seen, name)
        if match is not None and match.result == MISFIT:
            found.append(_said(seen, match, f"{name}_misfit"))
    return found


def _coverage(seen: Seen) -> list[Sentence]:
    """What its dial reads, or else what its type covers, and what of that is amateur bands."""
    pack, standing = seen.prepared.pack, seen.now.standing
    if standing.coverage_khz is None:
        return []
    word = "tell-coverage" if seen.findings.coverage_khz is not None else "tell-coverage-type"
    low, high = standing.coverage_khz
    ends = {"from": blank("figure", low), "to": blank("figure", high)}
    found = [spoken(pack, word, ["coverage_khz"], **ends)]
    match = _match(seen, "coverage")
    if match is not None:
        word = "tell-out-of-band" if match.result == MISFIT else "tell-in-band"
        blanks = {key: value for key, value in _blanks(match).items() if key not in ends}
        found.append(spoken(pack, word, ["coverage_khz"], ["coverage"], **blanks))
    return found


def in_short(seen: Seen, what: str) -> Sentence:
    """What fits together or does not, in a sentence that stands by itself; `what` names its effect."""
    comparison = "serial" if what == "book_foreign" else what.split("_")[0]
    match = _match(seen, comparison)
    assert match is not None, what
    return _said(seen, match, what)


def crystal(seen: Seen) -> list[Sentence]:
    """What the check crystal is marked, and whether it belongs to this set."""
    match = _match(seen, "crystal")
    if match is not None:
        return [_said(seen, match, "crystal_foreign")]
    marked = seen.findings.crystal_khz
    if marked is None:
        return []
    return [spoken(seen.prepared.pack, "tell-crystal", ["crystal_khz"], crystal=blank("figure", marked))]


def heaters(seen: Seen) -> list[Sentence]:
    """Whether the heater strings suit the supply."""
    match = _match(seen, "heaters")
    return [] if match is None else [_said(seen, match, "heaters_misfit")]


def not_compared(seen: Seen) -> list[str]:
    """Names of the comparisons that cannot be told yet and whose findings are not all there."""
    matches = consistency(seen.prepared, seen.now.standing, seen.findings)
    return [seen.prepared.pack["words"][f"name-{row.check}"] for row in matches if row.result == UNKNOWN]


def _match(seen: Seen, check: str) -> Consistency | None:
    matches = consistency(seen.prepared, seen.now.standing, seen.findings)
    return next((row for row in matches if row.check == check and row.result != UNKNOWN), None)


def _said(seen: Seen, match: Consistency, effect: str) -> Sentence:
    of = [row.what for row in seen.rows if row.what == effect]
    return spoken(seen.prepared.pack, match.words, [match.check], of, **_blanks(match))


def _blanks(match: Consistency) -> dict[str, Any]:
    return {
        key: blank("text" if key in _TEXTS else "words" if key in _WORDS else "figure", value)
        for key, value in match.blanks.items()
    }
