"""Scripts say nothing to people that a language could not say otherwise."""

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest

from tests.support.literals import Literal, literals
from webapp.languages.javascript import TEXT, extract, unread
from webapp.paths import static_folder

SCRIPTS = static_folder() / "js"
# Scripts and folders of scripts whose texts go through the language.
SPEAKING = ("main.js", "offline.js", "pages", "store", "sync", "ui")

# Two words side by side, one capitalised word alone, or a word beside a blank.
SENTENCE = re.compile(r"[A-Za-z’']+[,;:]? [A-Za-z’']{2,}")
WORD = re.compile(r"[A-Z][a-z]+[.!?…]?")
WORD_BESIDE_A_BLANK = re.compile(r" [A-Za-z]*[a-z]{2,}[.,:;]?( |$)|^[A-Za-z]*[a-z]{2,}[.,:;]? ")
# The app and the units are called so in every language.
NAMES = re.compile(r"\bUnderchassis\b|\b(mm|px)\b")
# Values of the tables that somebody chooses by other words, and the name of a field.
CODES = ("by serial", "by model", "why still")
# Scripts whose words stand in tables that people bring or take along, which are English everywhere, and one
# whose failures are tried again and never shown.
NOT_ON_SCREEN = ("lot_export.js", "sale_cells.js", "sale_head.js", "sale_line.js", "photo_chores.js")

# Where words stand that nobody reads: classes, heads of requests, selectors, what is compared, names of keys.
UNREAD_BEFORE = re.compile(
    r"\b(class|Authorization): ?$|'(Content-Range|aria-keyshortcuts)': $|[!=]== $|\b(className|transform) = $"
    r"|\bclass: [^,]* \? $|\b(matches|matchMedia|closest|querySelector(All)?)\($"
)
UNREAD_AFTER = re.compile(r": ")


def _scripts() -> Iterator[Path]:
    for name in SPEAKING:
        path = SCRIPTS / name
        yield from [path] if path.is_file() else sorted(path.rglob("*.js"))


def _reads_like_text(literal: Literal) -> bool:
    text = NAMES.sub("", literal.text)
    if text in CODES:
        return False
    beside_a_blank = literal.template and WORD_BESIDE_A_BLANK.search(text)
    return bool(SENTENCE.search(text) or WORD.fullmatch(text) or beside_a_blank)


def _bare_texts(source: str) -> list[str]:
    """The literals of a script that read like texts for people and do not go through the language."""
    source = re.sub(r"^(import|export) .*from .*$", "", source, flags=re.MULTILINE)
    spoken = [match.span() for match in TEXT.finditer(source)]
    return [
        literal.text
        for literal in literals(source)
        if _reads_like_text(literal)
        and not any(begin <= literal.start < end for begin, end in spoken)
        and not UNREAD_BEFORE.search(source[: literal.start])
        and not UNREAD_AFTER.match(source, literal.end)
    ]


def test_every_text_goes_through_the_language() -> None:
    shown = (path for path in _scripts() if path.name not in NOT_ON_SCREEN)
    bare = {path.name: _bare_texts(path.read_text(encoding="utf-8")) for path in shown}
    assert {name: found for name, found in bare.items() if found} == {}


def test_every_text_stands_where_it_is_asked_for_in_one_literal() -> None:
    scripts = {path.name: unread(path.read_text(encoding="utf-8")) for path in SCRIPTS.rglob("*.js")}
    assert {name: found for name, found in scripts.items() if found} == {}


@pytest.mark.parametrize(
    "line",
    [
        "h('p', {}, 'Nothing was removed.')",
        "notice('save', `${name} removed.`)",
        "h('input', { 'aria-label': 'Search' })",
        "const words = { lots: 'A lot' };",
        "const words = () => `${_('Both')}: ${some ? `${count} photos` : 'none'}`;",
    ],
)
def test_a_text_that_does_not_is_found(line: str) -> None:
    assert len(_bare_texts(line)) == 1


def test_a_script_is_read_through_its_templates_patterns_and_remarks() -> None:
    script = (
        "// it's a remark\n"
        "const bare = text.replace(/['`/]/g, (_, mark) => mark) / 2;\n"
        "const said = `${_('Was it \\'{near}\\'?', { near: _('this') })} "
        "${_n('{count} set', '{count} sets', 3)}`;\n"
    )
    assert _bare_texts(script) == []
    assert [
        (line, text) for line, _name, text, _remarks in extract(BytesIO(script.encode()), {}, [], {})
    ] == [
        (3, "Was it '{near}'?"),
        (3, "this"),
        (3, ("{count} set", "{count} sets")),
    ]
    assert unread("_(words); _n('{count} set', many, 3)") == [
        "_(words); _n('{count} set', many, 3)",
        "_n('{count} set', many, 3)",
    ]
