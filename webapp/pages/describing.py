"""A description in the words that people read: the engine's sentences filled in by the reader's habits."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from webapp.appraisal.describing.describe import Wishes, describe
from webapp.appraisal.findings import Findings
from webapp.appraisal.prepared import Prepared
from webapp.pages.habits import Habits
from webapp.pages.hole_drawing import faces_drawn

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a description: its address, and the id of the check that it shows ("" for the whole set)."""

    address: str
    about: str


@dataclass(frozen=True, slots=True)
class Seller:
    """What a seller adds to his findings: a name for the set, own words, wishes, photos, where holes sit.

    `spots` has, for each hole of the findings, x_mm and y_mm on its face, or None.
    """

    title: str = ""
    words: str = ""
    wishes: Wishes = field(default_factory=Wishes)
    photos: Sequence[Photo] = ()
    spots: Sequence[Json | None] = ()


def described(prepared: Prepared, findings: Findings, seller: Seller, habits: Habits) -> Json:
    """The description ready for a page or a text: every sentence a string with what it is about.

    `short` and the paragraphs of `sections` are lists of {"text", "about"}; `cautions` rows of the pack.
    """
    document = describe(prepared, findings, seller.wishes)
    pack = prepared.pack
    writer = _Writer(habits, findings.currency, pack["model"]["rounding_share"])
    holes = [
        {"place": hole.place, "diameter_mm": hole.diameter_mm, "as_found": hole.as_found, **(spot or {})}
        for hole, spot in zip(findings.holes, _padded(seller.spots, len(findings.holes)), strict=True)
    ]
    cautions = set(document["cautions"])
    title = writer.sentence(document["title"])["text"]
    return {
        "pack": pack,
        "title": title,
        # What the title says already is no name.
        "name": "" if title.startswith(seller.title) else seller.title,
        "words": seller.words,
        "sections": [
            {
                **section,
                "paragraphs": [[writer.sentence(one) for one in lines] for lines in section["paragraphs"]],
            }
            for section in document["sections"]
        ],
        "short": [writer.sentence(one) for one in document["short"]],
        "cautions": [row for row in pack["cautions"] if row["id"] in cautions],
        "reasons": [
            {"label": reason_label(pack, row), "money": writer.change(row["amount"])}
            for row in document["reasons"]
        ],
        "faces": faces_drawn(pack, holes, habits),
        "photos": [
            {"address": photo.address, "caption": caption(pack, photo.about)} for photo in seller.photos
        ],
        "condition": document["condition"],
        "currency": document["currency"],
        "asked": seller.wishes.asked if seller.wishes.price != "none" else None,
    }


def _padded(spots: Sequence[Json | None], count: int) -> list[Json | None]:
    return [*spots[:count], *[None] * (count - len(spots))]


class _Writer:
    """Fills the blanks of sentences."""

    def __init__(self, habits: Habits, currency: str, share: float) -> None:
        self.habits, self.currency, self.share = habits, currency, share

    def sentence(self, sentence: Json) -> Json:
        """The sentence as {"text", "about"}."""
        text = sentence["words"]
        # One pass over the words: what fills a blank may itself hold braces.
        pieces = [piece.partition("}") for piece in text.split("{")]
        filled = pieces[0][0] + "".join(
            self.blank(sentence["blanks"][name]) + rest for name, _, rest in pieces[1:]
        )
        return {"text": filled[:1].upper() + filled[1:], "about": list(sentence["about"])}

    def blank(self, blank: Json) -> str:
        """What stands in a blank."""
        kind, value, habits = blank["kind"], blank["value"], self.habits
        if kind == "money":
            return habits.money(value, self.currency, self.share)
        if kind == "money-as-given":
            return habits.exactly(value, self.currency)
        if kind == "date":
            return habits.day(date.fromisoformat(value))
        writers: dict[str, Callable[[Any], str]] = {
            "figure": habits.figure, "length_mm": habits.length, "hours": habits.hours,
            "label": habits.label, "list": habits.listed,
        }  # fmt: skip
        return writers[kind](value) if kind in writers else str(value)

    def change(self, amount: float) -> str:
        """An amount with its sign."""
        shown = self.habits.money(abs(amount), self.currency, self.share)
        return shown if amount == 0 else ("+" if amount > 0 else "−") + shown


def reason_label(pack: Json, row: Json) -> str:
    """What a reason is about: its check with the answer, or the words for what is computed."""
    check = next((one for one in pack["checks"] if one["id"] == row["what"]), None)
    if check is None:
        what = "open" if row["what"] == "not checked" else row["what"]
        return str(pack["words"][f"reason-{what}"])
    option = next(one for one in check["options"] if one["id"] == row["option"])
    return f"{check['label']}: {option['label']}"


def caption(pack: Json, about: str) -> str:
    """What a photo shows: a check by its label, or the set as a whole."""
    whole = str(pack["words"]["photo-whole"])
    return next((str(check["label"]) for check in pack["checks"] if check["id"] == about), whole)
