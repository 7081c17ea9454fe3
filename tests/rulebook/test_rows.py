"""Rows that break their form, one mistake each, and the words that name file, line and row."""

from functools import partial
from pathlib import Path

import pytest

from tests.support.broken import Mistake, check_told

SERIAL = 'id = "serial"\n'
CLEAR = "prior = 0.78\n  state = 1\n  effect = [0, 0.025]"
IN_CLEAR = 'check "nameplate", option 1'
TRIPLE = "salvage = [4, 8, 14]"


def at(header: str, old: str, new: str, *words: str, file: str = "", told: str = "") -> Mistake:
    """A mistake in the row below a header."""
    return Mistake(old, new, header, words, file, told)


check, part, task = partial(at, "[[check]]"), partial(at, "[[part]]"), partial(at, "[[task]]")


def clear(old: str, new: str, *words: str) -> Mistake:
    """A mistake in the first option of the first check."""
    return at("[[check.option]]", CLEAR, CLEAR.replace(old, new), IN_CLEAR, *words)


MISTAKES = [
    check(SERIAL, SERIAL + "stag = 1\n", 'check "serial"', 'unknown key "stag"', 'Did you mean "stage"'),
    check(SERIAL, SERIAL + 'colour = "red"\n', 'check "serial"', 'unknown key "colour".'),
    check(SERIAL, 'id = "Serial No"\n', "'Serial No'", "lower-case words joined by dashes"),
    check(SERIAL, "id = 5\n", '"id" is 5', "valid string"),
    check('stage = "what-is-it"\n', "", 'check "nameplate"', 'the key "stage" is missing'),
    check('asks = "serial"', 'asks = "number"', 'check "serial"', "\"asks\" is 'number'", "'coverage'"),
    check("seconds = 10\n", "seconds = 0\n", '"seconds" is 0', "a number above 0"),
    check('options = ["repainted"]', "options = []", '"repaint-quality"', "at least 1 item"),
    clear("prior", "prio", 'unknown key "prio"', 'Did you mean "prior" (above 0 to 1; the options'),
    clear("prior = 0.78\n", "", 'the key "prior" is missing', "add up to 1"),
    clear("0.78", '"0.78"', "\"prior\" is '0.78'", "valid number"),
    clear("0.78", "true", '"prior" is True', "valid number"),
    clear("0.78", "nan", '"prior" is nan'),
    clear("0.78", "inf", '"prior" is inf'),
    clear("0.78", "0", '"prior" is 0', "greater than 0"),
    clear("0.78", "-0.2", '"prior" is -0.2', "greater than 0"),
    clear("state = 1", "state = 1.5", '"state" is 1.5', "less than or equal to 1"),
    clear("[0, 0.025]", "0", '"effect" is 0', "[mean, standard deviation]"),
    clear("[0, 0.025]", "[0]", '"effect" is [0]', "[mean, standard deviation]"),
    clear("[0, 0.025]", "[0, inf]", '"effect.1" is inf'),
    clear("[0, 0.025]", "[0, -0.025]", "standard deviation", "never below 0"),
    clear("[0, 0.025]", "[-0.2, 0.025]", "needs a `why`"),
    clear("state = 1", "state = 1\n  originality = 0.1", "needs a `why`"),
    clear("state = 1", 'state = 1\n  say = ""', "\"say\" is ''", "at most 140 letters"),
    clear("state = 1", f'state = 1\n  say = "{"a" * 141}"', '"say" is', "at most 140 letters"),
    part(TRIPLE, "salvage = [14, 8, 4]", '"salvage" is [14, 8, 4]', "must rise: low, likely, high"),
    part(TRIPLE, "salvage = [-4, 8, 14]", '"salvage.0" is -4', "none below 0"),
    part(TRIPLE, "salvage = [4, 8]", '"salvage" is [4, 8]', "[low, likely, high]"),
    part(TRIPLE, "salvage = [4, 8, nan]", '"salvage.2" is nan'),
    part("weight = 9\n", "weight = 0\n", 'part "front-panel"', '"weight" is 0', "a number above 0"),
    part("calibration = false", "calibration = 0", 'part "front-panel"', '"calibration" is 0', "boolean"),
    part('find = "hard"', 'find = "rare"', "\"find\" is 'rare'", "'not to be had'"),
    task('aims = ["display", "bench", "on-air", "as-built"]', "aims = []", '"aims" is []', "at least 1"),
    task("hours = [0.3, 0.5, 1.5]", "hours = [1.5, 0.5, 0.3]",
        'task "make-safe"', '"hours" is [1.5, 0.5, 0.3]', "must rise"),
    task("hours = [0.3, 0.5, 1.5]", "hours = [0.3, 0.5, 1.5]\neach_hours = [1, 2, 3]", 'task "make-safe"',
        "both each_hours and each_materials"),
    task('undo = "can be undone"', 'undo = "yes"', "\"undo\" is 'yes'", "'cannot be undone'"),
    at("[reference]", "median = 190", "median = 0", "reference", '"median" is 0', "a number above 0"),
    at("[reference]", 'currency = "USD"', 'currency = "dollars"', "'dollars'", "ISO 4217"),
    at("[breaking]", "sell_through = 0.65", "sell_through = 65", "breaking", '"sell_through" is 65',
        "0 to 1"),
    at("[coverage]", "in_band = [0.17, 0.08]", "in_band = [0.17, -0.08]", "coverage", "never below 0"),
    at("[holes]", "a = 0.6", "a = -0.6", "holes", '"a" is -0.6', "a number above 0"),
    at("[[hole_place.size]]", "severity_plugged = 0.16", "severity_plugged = 0.3",
        'hole_place "front-panel", size 1', "a plugged hole is never worse"),
    at("[[hole_place.size]]", "fixable = 0.6", "fixable = 6", '"front-panel", size 1', '"fixable" is 6'),
    at("[reference]", 'basis = "invented"\nwhy = "Starting', 'why = "Starting', 'key "basis" is missing'),
    at("[reference]", 'basis = "invented"\nwhy = "Starting', 'basis = "guess"\nwhy = "Starting',
        "\"basis\" is 'guess'", "'from memory'"),
    at("[reference]", 'basis = "invented"\nwhy = "Starting', 'basis = "published"\nwhy = "Starting',
        'basis "published" needs a source'),
    at("[[caution]]", 'sign = "W012"', 'sign = "skull"', "'skull'", "ISO 7010", file="cautions.toml"),
    at("[[band]]", "region = 1", "region = 4", 'band "region-1-160-m"', '"region" is 4', "ITU region",
        file="bands.toml"),
    at("[[constant]]", "value = 25", "value = nan", '"overlap_khz"', '"value" is nan', file="model.toml"),
    at("", "coverage_khz = [2200, 3300]", "coverage_khz = [3300, 2200]", "the lower frequency comes first",
        file="sheets/tern-a.toml"),
    at("", "coverage_khz = [2200, 3300]", "coverage_khz = [2200, 2200]", "the lower frequency comes first",
        file="sheets/tern-a.toml"),
    at("[reference]", "median = 185", "mean = 185", 'unknown key "mean"', '"median"',
        file="sheets/tern-a.toml"),
]  # fmt: skip


@pytest.mark.parametrize("mistake", MISTAKES, ids=[" ".join(m.words)[:70] for m in MISTAKES])
def test_a_row_that_breaks_its_form_is_named_with_file_line_and_what_would_be_right(
    mistake: Mistake, tmp_path: Path
) -> None:
    check_told(tmp_path, mistake)


def test_at_least_thirty_kinds_of_mistake_are_tried() -> None:
    assert len(MISTAKES) >= 30
