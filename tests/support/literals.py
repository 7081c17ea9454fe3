"""The literals of a script: what stands in quotation marks, and the fixed pieces of template literals."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

# Where a slash begins a regular expression and is no division.
_BEFORE_PATTERN = re.compile(r"(^|[(,=:\[!&|?{};]|\breturn|=>)\s*$")
_PATTERN = re.compile(r"/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n])+/[a-z]*")
_QUOTED = re.compile(r"'(?:\\.|[^'\\\n])*'|\"(?:\\.|[^\"\\\n])*\"")
_COMMENT = re.compile(r"//[^\n]*|/\*.*?\*/", re.DOTALL)
_PIECE = re.compile(r"(?:\\.|(?!\$\{)[^`\\])*", re.DOTALL)


@dataclass(frozen=True)
class Literal:
    """A literal, quotation marks included, or a fixed piece of a template literal."""

    start: int
    end: int
    text: str
    template: bool


def literals(source: str) -> Iterator[Literal]:
    """Give all literals of a script in their order."""
    at, depths = 0, [0]
    while at < len(source):
        character = source[at]
        if match := _COMMENT.match(source, at):
            at = match.end()
        elif match := _QUOTED.match(source, at):
            yield Literal(at, match.end(), match[0][1:-1].replace("\\'", "'"), False)
            at = match.end()
        elif character == "/" and _BEFORE_PATTERN.search(source[max(0, at - 40) : at]):
            match = _PATTERN.match(source, at)
            assert match, source[at : at + 60]
            at = match.end()
        elif character == "`" or (character == "}" and depths[-1] == 0 and len(depths) > 1):
            if character == "}":
                depths.pop()
            match = _PIECE.match(source, at + 1)
            assert match
            yield Literal(at, match.end(), match[0], True)
            at = match.end()
            if source.startswith("${", at):
                depths.append(0)
                at += 2
            else:
                at += 1
        else:
            depths[-1] += {"{": 1, "}": -1}.get(character, 0)
            at += 1
