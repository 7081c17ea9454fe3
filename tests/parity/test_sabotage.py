"""The comparison notices a twin that is wrong in a single line, and passes one that is merely a copy."""

import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.parity.cases import DEEP, deep_pack, random_cases
from tests.support.phone import Phone
from tests.support.server import LiveServer, free_port
from tests.support.twin import Kernel, compare
from webapp.paths import static_folder

# What is done to a copy of the kernel: its name, the file, one line's words there, and what they become.
SABOTAGES = [
    ("variance-forgotten", "price.js", "referenceVariance / 2", "referenceVariance"),
    ("sd-not-squared", "price.js", "let variance = referenceVariance;", "let variance = reference.log_sd;"),
    ("follow-up-forgotten", "price.js", "variance[index] += variance[child];", ""),
    ("hidden-counts", "standing.js", "shown[parent] && chosen[parent] >= 0", "chosen[parent] >= 0"),
    ("hole-law-bent", "standing.js", "Math.log(1 + severity / b)", "Math.log1p(severity / b) * 1.00000001"),
    ("enlarged-as-open", "standing.js", "pack.model.enlarged_share : 1", "1 : 1"),
    ("set-up-counted-twice", "effort.js", "const n = Math.max(1, items);", "const n = Math.max(2, items);"),
    ("task-counted-twice", "effort.js", "calls.zeros[task] > 0 ? 1", "calls.zeros[task] > 1 ? 2"),
    ("missing-part-expected", "scores.js", "check.worstState", "check.state"),
    ("materials-unconverted", "worth.js", "materials[0] * findings.rate", "materials[0]"),
    ("ways-reordered", "worth.js", "asIs >= near ? 'as_is'", "asIs > value ? 'as_is'"),
    ("phi-too-rough", "normal.js", "1e-18", "1e-6"),
    ("seconds-ignored", "looking.js", "evi >= floor ? evi / seconds : 0", "evi >= floor ? evi : 0"),
    ("ranked-upside-down", "looking.js", "b.first - a.first", "a.first - b.first"),
    ("offer-over-worth", "verdict.js", "Math.min(worth, mid)", "Math.max(worth, mid)"),
    ("amounts-to-the-mean", "reasons.js", "marketQuantile(price, 0)", "price.mean"),
    ("weak-grounds-hidden", "reasons.js", "'invented', 'from memory'", "'from memory', 'invented'"),
    ("band-touched-is-enough", "consistency.js", "overlap < prepared", "overlap < 0 * prepared"),
    ("caution-lost", "appraise.js", "row.standing || called.has(row.id)", "row.standing"),
    ("unseen-ranked", "findings.js", "unseen: new Set(unseen)", "unseen: new Set()"),
    ("price-forgotten", "findings.js", "raw.asking ?? null", "raw.asking || null"),
]  # fmt: skip
CASES = [*random_cases(range(40), deep_pack()), *random_cases(range(80))]


@pytest.fixture
def sabotaged(tmp_path: Path) -> Iterator[LiveServer]:
    """The app with a folder kernel-<name> of its own for each sabotage, and an unharmed copy."""
    static, port = tmp_path / "static", free_port()
    shutil.copytree(static_folder(), static)
    scripts = static / "js"
    shutil.copytree(scripts / "kernel", scripts / "kernel-unharmed")
    for name, file, words, instead in SABOTAGES:
        copy = Path(shutil.copytree(scripts / "kernel", scripts / f"kernel-{name}")) / file
        text = copy.read_text()
        assert text.count(words) == 1, f"{name}: {file} should hold the words once: {words}"
        copy.write_text(text.replace(words, instead))
    program = Path(__file__).parents[1] / "support" / "changed_app.py"
    data = tmp_path / "data"
    server = LiveServer([sys.executable, str(program), str(static), str(data), str(port)], port, data)
    server.start()
    yield server
    server.stop()


def test_each_single_sabotage_is_caught_and_an_unharmed_copy_is_not(
    sabotaged: LiveServer, browser: Callable[..., Phone]
) -> None:
    kernel = Kernel(browser(), sabotaged.url)
    caught = []
    for name in ("unharmed", *(name for name, *_ in SABOTAGES)):
        kernel.open(f"kernel-{name}")
        kernel.give(DEEP, deep_pack())
        if next(compare(kernel, CASES), None):
            caught.append(name)
    assert caught == [name for name, *_ in SABOTAGES]


def test_nothing_compared_does_not_count_as_agreement(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    kernel = Kernel(browser(), live_server.url)
    with pytest.raises(ValueError, match="no case"):
        next(compare(kernel, []))
