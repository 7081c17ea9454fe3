"""Rows that are right each for itself and do not hold together, one mistake each."""

from functools import partial
from pathlib import Path

import pytest

from tests.support.broken import EVERY_SET, FAM, Mistake, check_told, problems_with

CLEAR = "prior = 0.78\n  state = 1\n  effect = [0, 0.025]"
BENT = 'fixable = true\n  tasks = ["straighten-front-panel"]'
CAREFUL = 'label = "Careful, lettering kept"\n  prior = 0.3\n  effect = [0.08, 0.04]'
PUBLISHED = 'basis = "published"\nsource = "rr-7000-khz"'
LAW = 'basis = "invented"\nwhy = "Starting value'
PLATE, FOLLOW_UP = 'check "nameplate"', 'check "repaint-quality"'
UNCALLED = """
[[task]]
id = "polish"
label = "Polish it"
stage = "finish"
aims = ["display"]
hours = [1, 2, 3]
materials = [0, 0, 0]
undo = "partly"
basis = "invented"
why = "It would shine."
"""
HEAD = "\n# ---- tasks\n"


def at(header: str, old: str, new: str, *words: str, file: str = "", told: str = "") -> Mistake:
    """A mistake in the row below a header."""
    return Mistake(old, new, header, words, file, told)


check, option = partial(at, "[[check]]"), partial(at, "[[check.option]]")
nowhere, size = partial(at, ""), partial(at, "[[hole_place.size]]")


def clear(old: str, new: str, *words: str) -> Mistake:
    """A mistake in the first option of the first check, of which the option is told."""
    return option(CLEAR, CLEAR.replace(old, new), f"{PLATE}, option 1", *words)


MISTAKES = [
    # priors, states, effects
    check("prior = 0.78", "prior = 0.79", PLATE, "add up to 1.01", "must add up to 1"),
    clear("  state = 1\n", "", "every option of a check that covers a part gives a state"),
    option("prior = 0.74\n", "prior = 0.74\n  state = 1\n", 'check "serial", option 1',
        "no other option does"),
    clear("[0, 0.025]", '[-0.2, 0.025]\n  why = "x"', 'below that of "worn"', "its state is above"),
    # as made
    check(CLEAR, f"{CLEAR}\n  as_made = true", PLATE, "asks for nameplate", "never assumed"),
    check('id = "some"\n', 'id = "some"\n  as_made = true\n', 'check "added-holes"', "asks for holes"),
    check('id = "readable"\n', 'id = "readable"\n  as_made = true\n', 'check "serial"', "asks for serial"),
    check('id = "moved"\n', 'id = "moved"\n  as_made = true\n', 'check "dial-coverage"', "asks for coverage"),
    check('id = "bent"\n', 'id = "bent"\n  as_made = true\n', 'check "front-panel"', "at most one option"),
    # what is asked exactly once
    check('id = "some"\n', 'id = "several"\n', 'check "added-holes"', '"none" and "some"'),
    nowhere('asks = "serial"\n', "", 'exactly one check asks = "serial"', "now 0 do", told=FAM),
    nowhere('asks = "serial"\n', 'asks = "holes"\n', 'exactly one check asks = "holes"', "now 2 do",
        told=FAM),
    nowhere('part = "loading-coil"', 'part = "nameplate"', 'part "loading-coil"', "exactly one check",
        "now 0 do"),
    nowhere('part = "loading-coil"', 'part = "nameplate"', 'part "nameplate"', "exactly one check",
        "now 2 do", told=EVERY_SET),
    check('part = "nameplate"', 'part = "nameplte"', PLATE, 'no part "nameplte"',
        'Did you mean "nameplate"?'),
    # names of other rows
    check('stage = "front"', 'stage = "frnt"', 'no stage "frnt"', 'Did you mean "front"?'),
    option(BENT, BENT.replace("straighten", "strighten"), 'check "front-panel", option 2',
        'no task "strighten-front-panel"', 'Did you mean "straighten-front-panel"?'),
    option('cautions = ["plate-caps"]', 'cautions = ["plate-cap"]', 'no caution "plate-cap"', "Did you mean"),
    nowhere('default_aim = "on-air"', 'default_aim = "on-aire"', 'no aim "on-aire"',
        'Did you mean "on-air"?'),
    at("[[task]]", 'stage = "safety"', 'stage = "safe"', 'task "make-safe"', 'no plan stage "safe"'),
    at("[[task]]", 'aims = ["display", ', 'aims = ["shelf", ', 'task "make-safe"', 'no aim "shelf"'),
    at("[[task]]", 'after = ["make-safe"]', 'after = ["make-save"]', 'no task "make-save"', "Did you mean"),
    at("[[task]]", 'cautions = ["bridged-interlock"]', 'cautions = ["bridge"]', 'no caution "bridge"'),
    at("[crystal]", 'part = "check-crystal"\nf', 'part = "cristal"\nf', 'crystal', 'no part "cristal"'),
    at("[reference]", LAW, 'basis = "published"\nsource = "r-7000"\nwhy = "Starting value',
        'no source "r-7000"'),
    at("[[band]]", 'source = "rr-7000-khz"', 'source = "rr-700-khz"', 'band "region-1-40-m"',
        'no source "rr-700-khz"', 'Did you mean "rr-7000-khz"?', file="bands.toml"),
    # what mends itself for nothing, or is done for nobody
    option(BENT, "fixable = true", 'check "front-panel", option 2', "calls at least one task"),
    nowhere(HEAD, HEAD + UNCALLED, 'task "polish"', "no option and no hole calls it", file=FAM),
    size('task = "close-front-holes"\n', "", 'hole_place "front-panel", size 1', "calls a task"),
    size("fixable = 0.6", "fixable = 0", 'hole_place "front-panel", size 1', "no other does"),
    # the part that a task brings
    nowhere('part = "loading-coil"\nstage', 'part = "loading-coyl"\nstage',
        'task "find-and-fit-loading-coil"', 'no part "loading-coyl"', 'Did you mean "loading-coil"?'),
    nowhere('part = "loading-coil"\nstage', 'part = "coil-counter"\nstage', 'brings the part "coil-counter"',
        "brings too"),
    nowhere('part = "loading-coil"\nstage', "stage", 'check "loading-coil", option',
        'it calls the task that brings it: part = "loading-coil"'),
    # holes by size
    at("[[hole_place]]", "up_to_mm = 6.2", "up_to_mm = 16.2", 'hole_place "front-panel"', "sizes rise"),
    at("[[hole_place]]", "  up_to_mm = 6.2\n", "", 'hole_place "front-panel"',
        "only the last leaves out up_to_mm"),
    at("[[hole_place]]", "severity = 0.27", "severity = 0.97", "never less severe than a smaller one"),
    # follow-ups
    check(CAREFUL, CAREFUL.replace("0.08,", "0.18,"), FOLLOW_UP, "must be 0 (to 0.005); it is 0.03"),
    check(CAREFUL, CAREFUL + "\n  originality = 0.1", FOLLOW_UP, "deduct no originality"),
    check(CAREFUL, CAREFUL + '\n  tasks = ["clean-outside"]', FOLLOW_UP, "call no tasks"),
    check('options = ["repainted"]', 'options = ["repaintd"]', FOLLOW_UP, 'Did you mean "repainted"?'),
    check('check = "finish-condition"', 'check = "finish-conditon"', FOLLOW_UP,
        'Did you mean "finish-condition"?'),
    check('{check = "finish-condition", options = ["repainted"]}',
        '{check = "added-holes", options = ["some"]}',
        FOLLOW_UP, "the check on added holes opens no follow-up"),
    check('{check = "finish-condition", options = ["repainted"]}',
        '{check = "front-panel", options = ["bent"]}',
        FOLLOW_UP, "an option that opens a follow-up is not fixable"),
    check('{check = "finish-condition", options = ["repainted"]}',
        '{check = "repaint-quality", options = ["fair"]}',
        FOLLOW_UP, "in a circle"),
    # the crystal, the calibration parts, tasks that wait
    at("[crystal]", "foreign = [-0.05", "foreign = [-0.5", "crystal", "must not cost more than having none"),
    nowhere("hours = [0.3, 0.5, 1.5]", 'after = ["free-cover-switch"]\nhours = [0.3, 0.5, 1.5]',
        "tasks wait for one another in a circle", "make-safe", "free-cover-switch"),
    at("[[task]]", 'after = ["make-safe"]', 'after = ["free-cover-switch"]', 'task "free-cover-switch"',
        "in a circle", file="common/covers.toml"),
    # tables that belong to no family
    at("[[band]]", "to_khz = 1850", "to_khz = 1810", 'band "region-1-160-m"',
        "from_khz must lie below to_khz",
        file="bands.toml"),
    at("[[constant]]", 'id = "overlap_khz"', 'id = "overlap"', 'unknown constant "overlap"',
        'Did you mean "overlap_khz"?', file="model.toml"),
    nowhere('id = "overlap_khz"', 'id = "overlap"', 'the constant "overlap_khz" is missing',
        file="model.toml"),
    nowhere('family = "aircraft-hf-transmitter"', 'family = "aircraft-transmitter"',
        'no family "aircraft-transmitter"', file="sheets/tern-a.toml"),
]  # fmt: skip


@pytest.mark.parametrize("mistake", MISTAKES, ids=[" ".join(m.words)[:70] for m in MISTAKES])
def test_rows_that_do_not_hold_together_are_named_with_what_would_be_right(
    mistake: Mistake, tmp_path: Path
) -> None:
    check_told(tmp_path, mistake)


def test_a_family_without_calibration_parts_is_refused(tmp_path: Path) -> None:
    problems, _ = problems_with(
        tmp_path,
        Mistake("calibration = true", "calibration = false", "", (), "common/crystal.toml"),
        *[Mistake("calibration = true", "calibration = false", "", (), FAM) for _ in range(3)],
    )
    assert problems == [f"rules/{FAM}: at least one part must be a calibration part."]


def test_several_mistakes_in_several_files_are_all_told_at_once(tmp_path: Path) -> None:
    mistakes = [
        Mistake("prior = 0.78", "prior = 0.79", "", ()),
        Mistake('stage = "front"', 'stage = "frnt"', "", ()),
        Mistake('source = "rr-7000-khz"', 'source = "rr-700-khz"', "", (), "bands.toml"),
        Mistake('id = "overlap_khz"', 'id = "overlap"', "", (), "model.toml"),
    ]
    problems, _ = problems_with(tmp_path, *mistakes)
    for words in ("add up to 1.01", '"frnt"', '"rr-700-khz"', '"overlap_khz" is missing', '"overlap"'):
        assert [problem for problem in problems if words in problem], words
    assert len(problems) == 5
