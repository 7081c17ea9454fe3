"""What a description is made of: sentences of the pack with blanks that are not yet written out.

How a figure is written is a reader's habit (language, decimals, mm or inch), so the engine leaves it open.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from webapp.appraisal.prepared import Pack

Json = dict[str, Any]
Blank = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence: its words with blanks such as {from}, and what fills them.

    A blank is {"kind", "value"}: text (typed by a person), words (of the pack), label and list (labels of the
    pack), figure, length_mm, hours, date, money (the findings' currency, to be rounded) and money-as-given.
    `of`: the findings whose effect it tells, named as in the appraisal's reasons; no other sentence does.
    `about`: all that it rests on.
    """

    words: str
    blanks: dict[str, Blank] = field(default_factory=dict)
    of: tuple[str, ...] = ()
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """Paragraphs under a heading of the pack."""

    id: str
    heading: str
    paragraphs: tuple[tuple[Sentence, ...], ...]


def blank(kind: str, value: Any) -> Blank:
    """A blank of one kind."""
    return {"kind": kind, "value": value}


def spoken(
    pack: Pack, word: str, about: Iterable[str] = (), of: Iterable[str] = (), /, **blanks: Blank
) -> Sentence:
    """The sentence `word` of the pack's words."""
    told = tuple(of)
    return Sentence(pack["words"][word], blanks, told, tuple(dict.fromkeys((*told, *about))))


def section(pack: Pack, name: str, paragraphs: Iterable[Iterable[Sentence]]) -> Section:
    """The section `name`, without its empty paragraphs."""
    kept = tuple(tuple(paragraph) for paragraph in paragraphs)
    return Section(name, pack["words"][f"heading-{name}"], tuple(p for p in kept if p))
