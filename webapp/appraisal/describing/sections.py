"""The sections that tell what a set is, what is there, missing, altered and worn, each finding once."""

from collections.abc import Iterable

from webapp.appraisal.describing.seen import (
    ALTERED,
    CALIBRATION,
    CONDITION,
    HOLES,
    MISSING,
    THERE,
    Seen,
    Told,
    lacks,
    mend_blanks,
    tell,
)
from webapp.appraisal.describing.sentences import Section, Sentence, blank, section, spoken

_FIND = ("easy", "takes patience", "hard", "not to be had")


def kinds(seen: Seen) -> tuple[Section, ...]:
    """What is there, what is missing, what was altered, and the condition."""
    return (
        section(seen.prepared.pack, "there", _by_stage(seen, THERE)),
        section(seen.prepared.pack, "missing", _missing(seen)),
        section(seen.prepared.pack, "altered", _altered(seen)),
    )


def condition(seen: Seen) -> Section:
    """What is worn, dirty or broken, and whether its heaters suit its supply."""
    return section(seen.prepared.pack, "condition", _by_stage(seen, CONDITION))


def beside(seen: Seen, stage: str) -> Section:
    """What comes with it, or its story, as answered."""
    return section(seen.prepared.pack, stage, [[tell(seen, one) for one in seen.of(stage)]])


def calibration(seen: Seen, agreeing: Iterable[Sentence]) -> Section:
    """The parts that it needs to read true, what fits of them, and how hard the missing are to find."""
    told = seen.of(CALIBRATION)
    gone = [one for one in told if one.aspect == MISSING]
    return section(
        seen.prepared.pack, CALIBRATION, [[tell(seen, one) for one in told], agreeing, _hunt(seen, gone)]
    )


def _by_stage(seen: Seen, aspect: str) -> list[list[Sentence]]:
    """A paragraph for each stage of the walk."""
    told, stages = seen.of(aspect), seen.prepared.pack["stages"]
    return [[tell(seen, one) for one in told if one.check["stage"] == stage["id"]] for stage in stages]


def _missing(seen: Seen) -> list[list[Sentence]]:
    gone = seen.of(MISSING)
    if not gone:
        return [] if any(lacks(one) for one in seen.told) else [_none(seen, "tell-none-missing")]
    return [[tell(seen, one) for one in gone], _hunt(seen, gone)]


def _none(seen: Seen, word: str) -> list[Sentence]:
    """That nothing of a kind was found, where anything was looked at."""
    checks = [one.check["id"] for one in seen.told]
    return [spoken(seen.prepared.pack, word, checks)] if checks else []


def _hunt(seen: Seen, gone: list[Told]) -> list[Sentence]:
    """How hard the parts that are gone are to find, a sentence for each step."""
    parts = {part["id"]: part for part in seen.prepared.pack["parts"]}
    found = []
    for step in _FIND:
        at = [one for one in gone if one.check["part"] in parts and parts[one.check["part"]]["find"] == step]
        if at:
            labels = blank("list", [parts[one.check["part"]]["label"] for one in at])
            word = f"tell-find-{step.replace(' ', '-')}"
            found.append(spoken(seen.prepared.pack, word, [one.what for one in at], parts=labels))
    return found


def _altered(seen: Seen) -> list[list[Sentence]]:
    changed = seen.of(ALTERED)
    if not changed:
        none = not any(one.aspect == ALTERED for one in seen.told)
        return [_none(seen, "tell-none-altered")] if none else []
    return [[tell(seen, one) for one in changed], _undoing(seen, changed)]


def _undoing(seen: Seen, changed: list[Told]) -> list[Sentence]:
    """What some work takes back, with its hours; what takes work and leaves something; what stays."""
    pack = seen.prepared.pack
    found = [
        spoken(pack, "tell-mend", [one.what], finding=_label(one), **mend_blanks(seen.mends[one.what]))
        for one in changed
        if one.what in seen.mends
    ]
    stay = [one for one in changed if one.what in seen.lasting]
    if stay:
        labels = blank("list", [one.check["label"] for one in stay])
        found.append(spoken(pack, "tell-lasting", [one.what for one in stay], findings=labels))
    return found


def _label(one: Told) -> dict[str, object]:
    return blank("label", one.check["label"])


def holes(seen: Seen) -> Section:
    """The added holes: that there are some, each place and size, and what filling them would take."""
    pack, listed = seen.prepared.pack, seen.findings.holes
    told = seen.of(HOLES)
    each = [_hole(seen, hole, at) for hole, at in _alike(seen)]
    after: list[Sentence] = []
    if listed:
        mend, stays = seen.mends.get("holes"), "holes" in seen.lasting
        word = "tell-holes-mend" if not stays else "tell-holes-partly" if mend else "tell-holes-lasting"
        after = [spoken(pack, word, ["holes"], **(mend_blanks(mend) if mend else {}))]
    return section(pack, "holes", [[tell(seen, one) for one in told], each, after])


def _alike(seen: Seen) -> list[tuple[tuple[str, float, str], list[int]]]:
    """Holes of one place, size and state, with their places in the list."""
    alike: dict[tuple[str, float, str], list[int]] = {}
    for index, hole in enumerate(seen.findings.holes):
        alike.setdefault((hole.place, hole.diameter_mm, hole.as_found), []).append(index)
    return list(alike.items())


def _hole(seen: Seen, hole: tuple[str, float, str], at: list[int]) -> Sentence:
    place, diameter, as_found = hole
    pack = seen.prepared.pack
    label = next(row["label"] for row in pack["holes"]["places"] if row["id"] == place)
    word = f"tell-hole-{as_found}" if len(at) == 1 else f"tell-holes-{as_found}"
    more = {} if len(at) == 1 else {"count": blank("figure", len(at))}
    return spoken(
        pack, word, [f"hole/{index}" for index in at],
        place=blank("words", label), size=blank("length_mm", diameter), **more,
    )  # fmt: skip
