"""The description of a found set: a title, sections of sentences, a short form, and what goes beside them."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from webapp.appraisal.appraise import cautions_called, not_checked
from webapp.appraisal.describing import agreeing, sections
from webapp.appraisal.describing.seen import STORY, WITH_IT, Seen, damaged, seen, tell
from webapp.appraisal.describing.sentences import Section, Sentence, blank, section, spoken
from webapp.appraisal.effort import p90
from webapp.appraisal.findings import Findings
from webapp.appraisal.numbers import fair_range, numbers
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.reasons import Reason

Json = dict[str, Any]
# How many findings the short form tells.
LARGEST = 3


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the seller wants told beside the findings.

    `price`: none, asked (what he asks) or range (besides, what the market would pay, with reasons); `asked`:
    in the findings' currency; `looked`: first and last day of looking; `written`: the day of writing.
    """

    price: str = "none"
    asked: float | None = None
    looked: tuple[date, date] | None = None
    written: date | None = None


def describe(prepared: Prepared, findings: Findings, wishes: Wishes) -> Json:
    """The description as a document; sentences are in the language of the pack, their blanks not yet filled.

    `sections` hold paragraphs of sentences; `short` the largest findings and how much was not checked;
    `cautions` ids in table order; `condition` used or damaged, the words of schema.org's OfferItemCondition.
    """
    found = seen(prepared, findings, numbers(prepared, findings))
    told = [
        agreeing.identity(found),
        *sections.kinds(found),
        sections.holes(found),
        sections.calibration(found, agreeing.crystal(found)),
        _condition(found),
        sections.beside(found, WITH_IT),
        sections.beside(found, STORY),
        _open(found),
        _effort(found),
        _price(found, wishes),
        _dates(found, wishes),
    ]
    return {
        "title": asdict(_title(found)),
        "sections": [asdict(one) for one in told if one.paragraphs],
        "short": [asdict(sentence) for sentence in _short(found, wishes)],
        "cautions": [row["id"] for row in cautions_called(prepared, found.now.standing)],
        "reasons": _reasons(found) if wishes.price == "range" else [],
        "condition": "damaged" if damaged(found) else "used",
        "currency": findings.currency,
    }


def _title(found: Seen) -> Sentence:
    pack = found.prepared.pack
    family = blank("label", agreeing.family_name(pack))
    if "sheet" not in pack:
        return spoken(pack, "title-kind", ["family"], family=family)
    return spoken(pack, "title-type", ["model_sheet"], type=blank("words", pack["name"]), family=family)


def _condition(found: Seen) -> Section:
    worn = sections.condition(found)
    return section(found.prepared.pack, "condition", [*worn.paragraphs, agreeing.heaters(found)])


def _open(found: Seen) -> Section:
    """What was not checked, a paragraph for each stage; what could not be looked at or compared."""
    prepared, pack = found.prepared, found.prepared.pack
    ids = set(not_checked(prepared, found.now.standing))
    checks = [check for check in pack["checks"] if check["id"] in ids]
    unseen = [check for check in checks if check["id"] in found.findings.unseen]
    paragraphs: list[list[Sentence]] = []
    for stage in pack["stages"]:
        left = [check for check in checks if check["stage"] == stage["id"] and check not in unseen]
        if left:
            named = blank("words", stage["title"])
            paragraphs.append([_listing(found, "tell-not-checked", left, stage=named)])
    if unseen:
        paragraphs.append([_listing(found, "tell-unseen", unseen)])
    if not checks:
        paragraphs.append([spoken(pack, "tell-all-checked", [one.check["id"] for one in found.told])])
    names = agreeing.not_compared(found)
    if names:
        paragraphs.append([spoken(pack, "tell-not-compared", ["consistency"], names=blank("list", names))])
    return section(pack, "not-checked", paragraphs)


def _listing(found: Seen, word: str, checks: list[Json], **blanks: Json) -> Sentence:
    labels = blank("list", [check["label"] for check in checks])
    ids = [check["id"] for check in checks]
    return spoken(found.prepared.pack, word, ids, checks=labels, **blanks)


def _effort(found: Seen) -> Section:
    """What the work for the seller's aim takes by the tables, and whether open checks are in it."""
    pack, work = found.prepared.pack, found.now.effort
    z90 = pack["model"]["z90"]
    aim = next(row for row in pack["aims"] if row["id"] == found.findings.aim)
    blanks = {
        "aim": blank("label", aim["label"]),
        "least": blank("hours", work.hours[0]),
        "most": blank("hours", p90(work.hours, z90)),
        "low": blank("money", work.materials[0]),
        "high": blank("money", p90(work.materials, z90)),
    }
    told = [spoken(pack, "tell-effort", ["effort"], **blanks)]
    if any(0 < line.probability < 1 for line in work.lines):
        told.append(spoken(pack, "tell-effort-open", ["effort"]))
    return section(pack, "effort", [told])


def _price(found: Seen, wishes: Wishes) -> Section:
    return section(found.prepared.pack, "price", [list(_price_told(found, wishes))])


def _price_told(found: Seen, wishes: Wishes) -> Iterable[Sentence]:
    pack = found.prepared.pack
    if wishes.price != "none" and wishes.asked is not None:
        yield spoken(pack, "tell-asked", ["asked"], asked=blank("money-as-given", wishes.asked))
    if wishes.price == "range":
        fair = fair_range(found.prepared, found.now)
        yield spoken(
            pack, "tell-range", ["price"], **{key: blank("money", value) for key, value in fair.items()}
        )


def _reasons(found: Seen) -> list[Json]:
    """What moves the price, the largest first: names of findings and amounts in the findings' currency."""
    return [
        {"what": row.what, "option": row.option, "amount": row.amount}
        for row in found.rows
        if row.log_effect != 0
    ]


def _dates(found: Seen, wishes: Wishes) -> Section:
    pack = found.prepared.pack
    told = []
    if wishes.looked is not None:
        first, last = (blank("date", day.isoformat()) for day in wishes.looked)
        if first == last:
            told.append(spoken(pack, "tell-looked-day", ["looked"], day=first))
        else:
            told.append(spoken(pack, "tell-looked", ["looked"], first=first, last=last))
    if wishes.written is not None:
        day = blank("date", wishes.written.isoformat())
        told.append(spoken(pack, "tell-written", ["written"], day=day))
    return section(pack, "dates", [told])


def _short(found: Seen, wishes: Wishes) -> list[Sentence]:
    """The largest findings, how many more there are, how much was not checked, and the price if wanted."""
    pack = found.prepared.pack
    moving = [row for row in found.rows if row.what != "not checked" and row.log_effect != 0]
    told = [_briefly(found, row) for row in moving[:LARGEST]]
    others = [row.what for row in moving[LARGEST:]]
    if len(others) == 1:
        told.append(spoken(pack, "tell-more-one", others))
    elif others:
        told.append(spoken(pack, "tell-more", others, count=blank("figure", len(others))))
    left = not_checked(found.prepared, found.now.standing)
    shown = sum(found.now.standing.shown)
    counts = {"count": blank("figure", len(left)), "all": blank("figure", shown)}
    told.append(
        spoken(pack, "tell-open", left, **counts) if left else spoken(pack, "tell-all-checked", ["family"])
    )
    return [*told, *_price_told(found, wishes)]


def _briefly(found: Seen, row: Reason) -> Sentence:
    """One finding as the full form tells it."""
    for one in found.told:
        if one.what == row.what:
            return tell(found, one)
    return agreeing.in_short(found, row.what)
