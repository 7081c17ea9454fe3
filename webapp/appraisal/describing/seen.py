"""What was found on each check, sorted by what it is told among."""

import math
from dataclasses import dataclass
from typing import Any

from webapp.appraisal.describing.sentences import Sentence, blank
from webapp.appraisal.findings import Findings
from webapp.appraisal.mends import Mend, lasting, mends
from webapp.appraisal.numbers import Numbers
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import Reason, reasons

THERE, MISSING, ALTERED, CONDITION = "there", "missing", "altered", "condition"
# Stages of the walk whose findings are told in sections of their own; holes and calibration parts are too.
WHAT_IS_IT, WITH_IT, STORY = "what-is-it", "with-it", "story"
HOLES, CALIBRATION = "holes", "calibration"


@dataclass(frozen=True, slots=True)
class Told:
    """One answered check: its row, the option, its aspect, the one section that tells it, its finding's name.

    `effect` is the option's own log effect.
    """

    check: dict[str, Any]
    option: dict[str, Any]
    aspect: str
    section: str
    what: str
    effect: float


@dataclass(frozen=True, slots=True)
class Seen:
    """All that a description starts from: reasons, mends, what stays for good, and the answered checks."""

    prepared: Prepared
    findings: Findings
    now: Numbers
    rows: tuple[Reason, ...]
    mends: dict[str, Mend]
    lasting: frozenset[str]
    told: tuple[Told, ...]

    def of(self, section: str) -> list[Told]:
        """The answers told in one section, in the order of the walk."""
        return [one for one in self.told if one.section == section]


def seen(prepared: Prepared, findings: Findings, now: Numbers) -> Seen:
    """What was found, ready to be told."""
    rows = reasons(prepared, now.standing, findings, now.found, now.market)
    mended = mends(prepared, findings, now, rows)
    return Seen(
        prepared=prepared,
        findings=findings,
        now=now,
        rows=tuple(rows),
        mends={mend.what: mend for mend in mended},
        lasting=frozenset(row.what for row in lasting(rows, mended)),
        told=tuple(_told(prepared, now)),
    )


def _told(prepared: Prepared, now: Numbers) -> list[Told]:
    found = []
    for index, check in enumerate(prepared.checks):
        chosen = now.standing.chosen[index]
        if chosen < 0:
            continue
        row = prepared.pack["checks"][index]
        option = row["options"][chosen]
        listed = index == prepared.hole_check and now.standing.drilled is not None
        effect = now.found.mean[index] if listed else check.options[chosen].own_mean
        aspect = aspect_of(option, effect)
        what = "holes" if listed else check.id
        found.append(Told(row, option, aspect, _section(prepared, index, aspect), what, effect))
    return found


def _section(prepared: Prepared, index: int, aspect: str) -> str:
    check = prepared.checks[index]
    stage = str(prepared.pack["checks"][index]["stage"])
    if index == prepared.hole_check:
        return HOLES
    if check.part >= 0 and prepared.parts[check.part].calibration:
        return CALIBRATION
    return stage if stage in (WHAT_IS_IT, WITH_IT, STORY) else aspect


def aspect_of(option: dict[str, Any], effect: float) -> str:
    """What an option is told among: as its row says, else by its state, its originality and its effect."""
    if "aspect" in option:
        return str(option["aspect"])
    state = option["state"]
    if state == 0:
        return MISSING
    if option["originality"] > 0:
        return ALTERED
    return CONDITION if (state is not None and state < 1) or effect < 0 else THERE


def tell(seen: Seen, told: Told) -> Sentence:
    """The sentence of an answer: its row's own, or check and answer."""
    words = option_words(seen.prepared.pack, told.check, told.option)
    return Sentence(words, {}, (told.what,), tuple(dict.fromkeys((told.what, told.check["id"]))))


def option_words(pack: dict[str, Any], check: dict[str, Any], option: dict[str, Any]) -> str:
    """What an option says of the set to a stranger. Braces in it are no blanks."""
    if "tell" in option:
        return _plain(option["tell"])
    label = option["label"]
    answer = label[:1].lower() + label[1:]
    said: str = pack["words"]["tell-answer"]
    return said.replace("{check}", _plain(check["label"])).replace("{answer}", _plain(answer))


def _plain(text: str) -> str:
    return text.replace("{", "(").replace("}", ")")


def damaged(seen: Seen) -> bool:
    """Whether honesty calls it damaged: drilled, or one finding on the set itself that takes much off."""
    least = math.log(1 - seen.prepared.pack["model"]["damaged_share"])
    return any(
        one.effect <= least or (one.section == HOLES and one.effect < 0)
        for one in seen.told
        if one.section in (HOLES, MISSING, ALTERED, CONDITION)
    )


def lacks(one: Told) -> bool:
    """Whether a part is gone, of the set itself or of what belongs to it; spares do not belong to it."""
    return one.section == MISSING or (one.aspect == MISSING and one.option["state"] is not None)


def mend_blanks(mend: Mend) -> dict[str, Any]:
    """Hours and materials of a mend, as blanks."""
    return {"hours": blank("hours", mend.hours[0]), "materials": blank("money", mend.materials[0])}
