"""Broken rule folders: the shipped one with mistakes made in it, and what the loader says of them."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.support.packs import FAMILY, copy_of_rules
from webapp.errors import RulesBroken
from webapp.paths import rules_folder
from webapp.rulebook.tables import load

FAM = f"families/{FAMILY}.toml"
EVERY_SET = "common/every-set.toml"


@dataclass(frozen=True)
class Mistake:
    """One edit of a rule file (the first place where `old` stands), and words that must come out.

    `header` is the row header above the edit whose line the message must tell; "" when no line is told.
    `file` is the family's or one of the common tables it uses, whichever holds `old`, unless it is given;
    `told` the file that the message must name, when that is another.
    """

    old: str
    new: str
    header: str
    words: tuple[str, ...]
    file: str = ""
    told: str = ""

    @property
    def place(self) -> str:
        """The file in which the mistake is made."""
        holding = [file for file in _files_of_the_family() if self.old in _shipped(file)]
        assert self.file or holding, f"no table of the family holds {self.old!r} any more"
        return self.file or holding[0]

    def make(self, rules: Path) -> int:
        """Make the mistake in a copy of the rules; gives the line that must be told, or 0."""
        path = rules / self.place
        text = path.read_text(encoding="utf-8")
        assert self.old in text, f"{self.place} no longer holds {self.old!r}"
        at = text.index(self.old)
        path.write_text(text.replace(self.old, self.new, 1), encoding="utf-8")
        if not self.header:
            return 0
        above = text[:at].splitlines()
        return max(n for n, line in enumerate(above, start=1) if line.strip() == self.header)


@cache
def _shipped(file: str) -> str:
    return (rules_folder() / file).read_text(encoding="utf-8")


@cache
def _files_of_the_family() -> list[str]:
    """The common tables of the family, lowest first, and its own."""
    return [*(f"common/{name}.toml" for name in tomllib.loads(_shipped(FAM))["uses"]), FAM]


def problems_of(rules: Path, own: Path | None = None) -> list[str]:
    """What the loader says of a rule folder, with another laid over it; nothing when it holds together."""
    try:
        load(rules, own)
    except RulesBroken as broken:
        return broken.problems
    return []


def problems_with(folder: Path, *mistakes: Mistake) -> tuple[list[str], list[int]]:
    """The sentences about a copy of one family's rules with these mistakes, and the lines to be told."""
    rules = copy_of_rules(folder, FAMILY)
    lines = [mistake.make(rules) for mistake in mistakes]
    return problems_of(rules), lines


def check_told(folder: Path, mistake: Mistake) -> None:
    """Assert that one of the sentences names the file, the line and everything else asked for."""
    problems, (line,) = problems_with(folder, mistake)
    words = [f"rules/{mistake.told or mistake.place}", *mistake.words, *([f"(line {line})"] if line else [])]
    matching = [problem for problem in problems if all(word in problem for word in words)]
    assert len(matching) == 1, f"expected {words}, told {problems}"
