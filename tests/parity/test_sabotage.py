"""The comparison notices a twin that is wrong in a single line, and passes one that is merely a copy."""

import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from itertools import chain
from pathlib import Path

import pytest

from tests.parity.cases import DEEP, deep_pack, random_cases
from tests.support.packs import pack_for
from tests.support.phone import Phone
from tests.support.server import LiveServer, free_port
from tests.support.table import Table
from tests.support.twin import Case, Kernel, compare
from webapp.paths import static_folder
from webapp.rulebook.sheets import apply_sheet

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
    ("band-touched-is-enough", "consistency.js", "overlap < pack.model", "overlap < 0 * pack.model"),
    ("misfit-without-effect", "consistency.js", "found.get(check) ?? 0", "0"),
    ("caution-lost", "appraise.js", "row.standing || called.has(row.id)", "row.standing"),
    ("unseen-ranked", "findings.js", "unseen: new Set(unseen)", "unseen: new Set()"),
    ("price-forgotten", "findings.js", "raw.asking ?? null", "raw.asking || null"),
    ("book-of-its-own", "findings.js", "raw.book_serial ?? null", "raw.serial ?? null"),
    ("book-never-foreign", "price.js", "foreign.includes(prepared.bookCheck)", "false"),
    ("heaters-unknown-cost", "price.js", "found.heaters === false", "found.heaters !== true"),
    ("grounds-not-asked-for", "price.js", "bad && effects[check]", "bad"),
    ("foreign-part-calibrates", "scores.js", "foreign.includes(part.check)", "false"),
    ("foreign-when-damaged", "scores.js", ".state === 1)", ".state > 0)"),
    ("asked-as-sold", "reference.js", "comparable.kind === 'asked'", "comparable.kind === 'offered'"),
    ("outliers-count-whole", "reference.js", "z <= tuning ? 1 : tuning / z", "1"),
    ("own-offset-ignored", "reference.js", "comparable.log_offset ?? (", "("),
    ("stays-counted-twice", "mends.js", "(gains.get(row.what) ?? 0)", "0"),
    ("mended-below-its-parts", "mends.js", "p10: Math.max(", "p10: Math.min("),
    ("sales-never-age", "reference.js", "2 ** (-years / reference.half_life_years)", "1"),
    ("money-of-then", "reference.js", "own ? indexed(", "!own ? indexed("),
    ("last-months-index", "reference.js", "month <= then.slice(0, 7)", "month < then.slice(0, 7)"),
    ("small-points-said", "haggling.js", "-row.amount >= share * middle", "row.amount < 0"),
    ("points-without-end", "haggling.js", ".slice(0, most)", ""),
    ("unfixable-mended", "mends.js", "option?.fixable", "option"),
    ("materials-not-taken-off", "mends.js", "net: kept", "net: gain"),
    ("mended-doubt-stays", "mends.js", "now.market.variance - variance", "now.market.variance"),
    ("holes-filled-whole", "mends.js", "* (1 - fixable)", "* 0"),
    ("asked-at-the-middle", "selling.js", "reference.asked[0]", "reference.asked[0] * 0"),
    ("parts-below-nothing", "selling.js", "Math.max(0, now.parts.mean)", "now.parts.mean"),
    ("scatter-forgotten", "spread.js", "['scatter', scatter, true]", "['scatter', 0, true]"),
    ("looks-settle-nothing", "spread.js", "market.variance - left", "market.variance"),
    ("prior-carries-all", "appraise.js", "share: posterior /", "share: 1 + 0 * posterior /"),
    ("worst-is-best", "appraise.js", "worst: Math.min", "worst: Math.max"),
    ("answer-not-said", "matching.js", "findings.finish || said.finish", "findings.finish"),
    ("serial-as-typed", "matching.js", ".replaceAll('o', '0')", ""),
    ("by-model-judged", "matching.js", "pack.sheet?.book !== 'by model'", "pack"),
    ("shunted-one-by-one", "matching.js", "sum + heater.amps, 0)", "heater.amps, 0)"),
    ("supply-limit-excluded", "matching.js", "heater_volts_share + ROOM", "heater_volts_share - ROOM"),
    ("current-limit-excluded", "matching.js", "heater_amps_share + ROOM", "heater_amps_share - ROOM"),
    ("shortest-phrase-decides", "matching.js", "phrase.length > longest", "longest === 0"),
    ("service-before-sheet", "matching.js", "built ? [built.id] :", "built && !service ? [built.id] :"),
    ("half-read-plate-judged", "nameplate.js", "read.families.length === 0 || ", ""),
    ("gone-and-there-swapped", "sheet.js", "prior: 1 - gone", "prior: gone"),
    ("extra-out-of-its-stage", "sheet.js", "splice(last + 1 ||", "splice("),
    ("own-reference-ignored", "sheet.js", "changed(pack.reference, reference)", "pack.reference"),
    ("own-supply-ignored", "sheet.js", "sheet.supply_volts ?? pack.supply_volts", "pack.supply_volts"),
    ("follow-ups-of-absent-stay", "sheet.js", "if (gone.has(check.shown_if?.check))", "if (!check)"),
]  # fmt: skip
GROUND = {"basis": "invented", "why": "Made for a test."}
EXTRA = {
    "id": "cover", "label": "peep-hole cover", "stage": "front", "weight": 2, "salvage": [1, 2, 4],
    "buy": [3, 5, 9], "gone_prior": 0.4, "gone_effect": -0.1, **GROUND,
}  # fmt: skip
METER = pack_for(family="frequency-meter")
# Sheets of one's own on the family with crystal and book: what each changes.
OWN = {
    "own-bookless": {
        "name": "Own", "about": "Own",
        "sheet": {"id": "own-bookless", "book": "none", "supply_volts": [100, 130]},
        "reference": {"median": 90, **GROUND}, "absent": ["knobs"], "parts": [], "extra": [EXTRA],
    },
    "own-by-model": {
        "name": "Own", "about": "Own",
        "sheet": {"id": "own-by-model", "book": "by model", "finish": "black wrinkle"},
        "reference": {}, "absent": [], "parts": [], "extra": [],
    },
}  # fmt: skip


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    """Cases among which each sabotage is caught."""
    own = [random_cases(range(80), apply_sheet(METER, sheet), name) for name, sheet in OWN.items()]
    return [
        *random_cases(range(40), deep_pack()),
        *chain.from_iterable(own),
        *random_cases(range(240), METER, "meter"),
    ]


@pytest.fixture
def tried(sweep: Callable[..., Sequence[int]]) -> list[str]:
    """The names of the sabotages of this run; all with --long."""
    return [SABOTAGES[index][0] for index in sweep(len(SABOTAGES), one_in=8)]


@pytest.fixture
def sabotaged(tmp_path: Path, tried: list[str]) -> Iterator[LiveServer]:
    """The app with a folder kernel-<name> of its own for each sabotage of this run, and an unharmed copy."""
    static, port = tmp_path / "static", free_port()
    shutil.copytree(static_folder(), static)
    scripts = static / "js"
    shutil.copytree(scripts / "kernel", scripts / "kernel-unharmed")
    for name, file, words, instead in SABOTAGES:
        text = (scripts / "kernel" / file).read_text()
        assert text.count(words) == 1, f"{name}: {file} should hold the words once: {words}"
        if name in tried:
            copy = Path(shutil.copytree(scripts / "kernel", scripts / f"kernel-{name}")) / file
            copy.write_text(text.replace(words, instead))
    program = Path(__file__).parents[1] / "support" / "changed_app.py"
    data = tmp_path / "data"
    server = LiveServer([sys.executable, str(program), str(static), str(data), str(port)], port, data)
    server.start()
    yield server
    server.stop()


def test_each_single_sabotage_is_caught_and_an_unharmed_copy_is_not(
    sabotaged: LiveServer, tried: list[str], bare_phone: Phone, cases: list[Case]
) -> None:
    """The copy goes through every fourth case, through all with --long."""
    kernel = Kernel(bare_phone, sabotaged.url)
    fewer = cases if len(tried) == len(SABOTAGES) else cases[::4]
    caught = []
    for name in ("unharmed", *tried):
        kernel.open(f"kernel-{name}")
        kernel.give(DEEP, deep_pack())
        kernel.give("meter", METER)
        for sheet, overrides in OWN.items():
            kernel.lay(sheet, METER["family"], overrides)
        if next(compare(kernel, fewer if name == "unharmed" else cases), None):
            caught.append(name)
    assert caught == tried


def test_nothing_compared_does_not_count_as_agreement(table: Table) -> None:
    kernel = Kernel(table.phone, table.address)
    with pytest.raises(ValueError, match="no case"):
        next(compare(kernel, []))
