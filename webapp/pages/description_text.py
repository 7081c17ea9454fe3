"""A description as plain text, good to paste anywhere. Twin of static/js/ui/description_text.js."""

import textwrap
from collections.abc import Sequence
from typing import Any

Json = dict[str, Any]

WIDTH = 76


def description_text(view: Json, *, short: bool) -> str:
    """The description in lines of at most 76 letters; the short one fits a notice or a card on the table."""
    words = view["pack"]["words"]
    head = [*_wrapped(view["title"]), *_wrapped(view["name"])]
    if short:
        named = "; ".join(row["title"] for row in view["cautions"])
        mind = f"{words['heading-cautions']}: {named}."
        lines = [*head, "", *_paragraph(view["short"]), "", *_wrapped(mind)]
    else:
        cautions = [line for row in view["cautions"] for line in _wrapped(_caution(words, row), "! ", "  ")]
        lines = [
            *head,
            *_section(words["heading-short"], _paragraph(view["short"])),
            *_section(words["heading-own-words"], _own(view)),
            *_section(words["heading-cautions"], cautions),
            *(line for section in view["sections"] for line in _told(view, section)),
            "",
            *_wrapped(words["how-made"]),
        ]
    return "\n".join(lines).rstrip() + "\n"


def _told(view: Json, section: Json) -> list[str]:
    lines = [line for paragraph in section["paragraphs"] for line in _paragraph(paragraph)]
    if section["id"] == "holes":
        lines += [line for face in view["faces"] for line in _face(face)]
    if section["id"] == "price" and view["reasons"]:
        lines += _wrapped(view["pack"]["words"]["reasons-lead"])
        lines += [
            line
            for row in view["reasons"]
            for line in _wrapped(f"{row['label']}: {row['money']}", "- ", "  ")
        ]
    return _section(section["heading"], lines)


def _face(face: Json) -> list[str]:
    rows = [f"{hole['words']} ({hole['side']})" if hole["side"] else hole["words"] for hole in face["holes"]]
    return [
        *_wrapped(f"{face['label']}, {face['size']}:"),
        *(line for row in rows for line in _wrapped(row, "- ", "  ")),
    ]


def _own(view: Json) -> list[str]:
    if not view["words"].strip():
        return []
    own = [line for paragraph in view["words"].splitlines() for line in _wrapped(paragraph, "> ") or [">"]]
    return [*own, *_wrapped(view["pack"]["words"]["words-apart"])]


def _caution(words: Json, row: Json) -> str:
    look = words["caution-look"].replace("{look}", row["look"])
    return " ".join((f"{row['title']}.", look, row["text"], row["who"]))


def _paragraph(sentences: Sequence[Json]) -> list[str]:
    return _wrapped(" ".join(sentence["text"] for sentence in sentences))


def _section(heading: str, lines: Sequence[str]) -> list[str]:
    """Lines under a heading; neither where there are none."""
    return ["", *_wrapped(heading.upper()), *lines] if lines else []


def _wrapped(text: str, first: str = "", rest: str | None = None) -> list[str]:
    """A text in lines, what no line may hold left out; a word too long for one is cut."""
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    return textwrap.wrap(
        " ".join(plain.split()), WIDTH, initial_indent=first,
        subsequent_indent=first if rest is None else rest, break_on_hyphens=False,
    )  # fmt: skip
