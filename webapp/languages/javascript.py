"""Finds the texts in scripts: `_('One literal')` and `_n('{count} set', '{count} sets', count)`.

Babel's own reader of scripts sees neither a text inside a template literal nor one among another's blanks.
"""

import re
from collections.abc import Iterator
from typing import BinaryIO

_LITERAL = r"'((?:[^'\\\n]|\\'|\\u[0-9a-f]{4})+)'"
_ESCAPE = re.compile(r"\\(?:u([0-9a-f]{4})|(.))")
TEXT = re.compile(rf"(?<![\w.$])(?:_\(\s*{_LITERAL}|_n\(\s*{_LITERAL},\s*{_LITERAL})(?=\s*[,)])")
_CALL = re.compile(r"(?<![\w.$])(?<!function )_n?\(")

Found = tuple[int, str, str | tuple[str, str], list[str]]


def extract(file: BinaryIO, keywords: object, comment_tags: object, options: object) -> Iterator[Found]:
    """The texts of a script, as Babel asks for them: line, function, text or both its forms, remarks."""
    source = file.read().decode()
    for match in TEXT.finditer(source):
        line = source.count("\n", 0, match.start()) + 1
        text, *forms = (group and _ESCAPE.sub(_meant, group) for group in match.groups())
        yield (line, "gettext", text, []) if text else (line, "ngettext", (forms[0], forms[1]), [])


def _meant(escape: re.Match[str]) -> str:
    return chr(int(escape[1], 16)) if escape[1] else escape[2]


def unread(source: str) -> list[str]:
    """The lines that ask for a text which cannot be read off them."""
    read = {match.start() for match in TEXT.finditer(source)}
    calls = (match.start() for match in _CALL.finditer(source))
    return [source[start:].partition("\n")[0] for start in calls if start not in read]
