"""Broken rule folders: the shipped one with mistakes made in it, and what the loader says of them."""

from dataclasses import dataclass
from pathlib import Path

from tests.support.packs import FAMILY, copy_of_rules
from webapp.errors import RulesBroken
from webapp.rulebook.tables import load

FAM = f"families/{FAMILY}.toml"


@dataclass(frozen=True)
class Mistake:
    """One edit of a rule file (the first place where `old` stands), and words that must come out.

    `header` is the row header above the edit whose line the message must tell; "" when no line is told.
    """

    old: str
    new: str
    header: str
    words: tuple[str, ...]
    file: str = FAM

    def make(self, rules: Path) -> int:
        """Make the mistake in a copy of the rules; gives the line that must be told, or 0."""
        path = rules / self.file
        text = path.read_text(encoding="utf-8")
        assert self.old in text, f"{self.file} no longer holds {self.old!r}"
        at = text.index(self.old)
        path.write_text(text.replace(self.old, self.new, 1), encoding="utf-8")
        if not self.header:
            return 0
        above = text[:at].splitlines()
        return max(n for n, line in enumerate(above, start=1) if line.strip() == self.header)


def problems_of(rules: Path) -> list[str]:
    """What the loader says of a rule folder; nothing when it holds together."""
    try:
        load(rules)
    except RulesBroken as broken:
        return broken.problems
    return []


def problems_with(folder: Path, *mistakes: Mistake) -> tuple[list[str], list[int]]:
    """The sentences about a copy of the shipped rules with these mistakes, and the lines to be told."""
    rules = copy_of_rules(folder)
    lines = [mistake.make(rules) for mistake in mistakes]
    return problems_of(rules), lines


def check_told(folder: Path, mistake: Mistake) -> None:
    """Assert that one of the sentences names the file, the line and everything else asked for."""
    problems, (line,) = problems_with(folder, mistake)
    words = [f"rules/{mistake.file}", *mistake.words, *([f"(line {line})"] if line else [])]
    matching = [problem for problem in problems if all(word in problem for word in words)]
    assert len(matching) == 1, f"expected {words}, told {problems}"
