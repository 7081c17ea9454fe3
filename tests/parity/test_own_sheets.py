"""A model sheet made on the phone is one the rulebook would take, and both refuse the same ones."""

import json
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import problems_of
from tests.support.packs import FAMILY, copy_of_rules, pack_for
from tests.support.table import Table
from tests.support.twin import Kernel
from webapp.rulebook.compiling import compile_sheet
from webapp.rulebook.tables import load

Json = dict[str, Any]

# Fields as somebody filled them in; what they amount to comes from the phone itself.
HEATERS = [[{"volts": 12.6, "amps": 0.15}, [{"volts": 6.3, "amps": 0.1}, {"volts": 6.3, "amps": 0.05}]]]
STRAP = {
    "id": "extra-1", "label": "brass strap", "stage": "with-it", "weight": "3", "salvage": ["0", "2", "9"],
    "buy": ["4", "5", "6"], "gone": "40", "loss": "10",
}  # fmt: skip
LAMP = {
    "id": "extra-2", "label": "spare lamp {part}", "stage": "front", "weight": "1",
    "salvage": ["0", "0", "0"],
    "buy": ["", "", ""], "gone": "7", "loss": "0",
}  # fmt: skip
FORM: Json = {
    "name": "Heron A", "about": "", "coverage": ["3,300", "5000.5"], "crystal": "4120",
    "service": "naval-service", "finish": "black-wrinkle", "book": "", "supply": ["24", "28"],
    "heater_strings": HEATERS, "median": "240", "sure": "well", "absent": ["handbook", "viewing-mirror"],
    "parts": [{"id": "dial", "weight": "7,5", "salvage": ["1", "2", "3"], "buy": ["", "", ""]}],
    "extra": [STRAP, LAMP],
}  # fmt: skip
OPEN = """
const at = `${document.documentElement.dataset.base}js/`;
const names = ['ui/sheet_form', 'store/sheet_rules', 'store/packs'];
const loaded = await Promise.all(names.map((name) => import(`${at}${name}.js`)));
globalThis.own = Object.assign({}, ...loaded);
await own.loadReasons(args[0]);
"""
DOCUMENT = """
const { family, id, form } = JSON.parse(args[0]);
const { document, faults } = own.documentOf(await own.loadPack(family), id, form);
return JSON.stringify({ document, faults: Object.fromEntries(faults) });
"""
BACK = """
const { family, document } = JSON.parse(args[0]);
return JSON.stringify(own.formOf(await own.loadPack(family), document));
"""
REFUSED = """
const { family, sheets } = JSON.parse(args[0]);
const pack = await own.loadPack(family);
const said = (sheet) => own.damage(sheet) || own.misfit(pack, sheet.document);
return JSON.stringify(sheets.map(said));
"""
APPLIED = """
const { family, document } = JSON.parse(args[0]);
return JSON.stringify(kernel.applySheet(await own.loadPack(family), document));
"""

Change = Callable[[Json], object]


def _extra(**changes: Any) -> Change:
    return lambda document: document["extra"][0].update(changes)


def _head(**changes: Any) -> Change:
    return lambda document: document["sheet"].update(changes)


def _calibration() -> list[str]:
    return [part["id"] for part in pack_for()["parts"] if part["calibration"]]


# One mistake each, under the name of the sheet that makes it.
MISTAKES: dict[str, Change] = {
    "falling-coverage": _head(coverage_khz=[5000, 3300]),
    "coverage-of-one": _head(coverage_khz=[5000]),
    "no-frequency": _head(crystal_khz=0),
    "falling-supply": _head(supply_volts=[28, 24]),
    "unknown-service": _head(service="post office"),
    "unknown-finish": _head(finish="gilt"),
    "unknown-book": _head(book="by weather"),
    "unknown-key": _head(colour="grey"),
    "unknown-basis": _head(basis="hearsay"),
    "no-reason": lambda document: document["sheet"].pop("why"),
    "no-about": lambda document: document.update(about=""),
    "price-of-nothing": lambda document: document["reference"].update(median=0),
    "no-spread": lambda document: document["reference"].update(log_sd=0),
    "unknown-absent": lambda document: document.update(absent=["keel"]),
    "asked-of-all": lambda document: document.update(absent=["nameplate"]),
    "no-calibration": lambda document: document.update(absent=_calibration()),
    "unknown-part": lambda document: document["parts"][0].update(id="keel"),
    "weightless": lambda document: document["parts"][0].update(weight=0),
    "falling-money": lambda document: document["parts"][0].update(salvage=[3, 2, 1]),
    "money-below-nothing": lambda document: document["parts"][0].update(salvage=[-1, 2, 3]),
    "two-amounts": lambda document: document["parts"][0].update(salvage=[1, 2]),
    "long-label": _extra(label="a strap " * 6),
    "no-label": _extra(label=""),
    "taken-id": _extra(id="dial"),
    "odd-id": _extra(id="Brass Strap"),
    "unknown-stage": _extra(stage="keel"),
    "always-gone": _extra(gone_prior=1),
    "never-gone": _extra(gone_prior=0),
    "a-gain": _extra(gone_effect=0.1),
    "too-great-a-loss": _extra(gone_effect=-3.5),
}


def _toml(document: Json) -> str:
    """A document of overrides as the rule file that says the same."""
    head = {"name": document["name"], "about": document["about"], "absent": document["absent"]}
    lines = _pairs({**document["sheet"], **head})
    if document["reference"]:
        lines += ["[reference]", *_pairs(document["reference"])]
    for name, rows in (("part", document["parts"]), ("extra_part", document["extra"])):
        for row in rows:
            lines += [f"[[{name}]]", *_pairs(row)]
    return "\n".join(lines)


def _pairs(row: Json) -> list[str]:
    return [f"{key} = {_value(value)}" for key, value in row.items() if value is not None]


def _value(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(_value(item) for item in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(_pairs(value))} }}"
    return json.dumps(value, ensure_ascii=False)


@pytest.fixture
def kernel(table: Table) -> Kernel:
    """The app's modules for sheets, beside its kernel."""
    running = Kernel(table.phone, table.address)
    running.phone.js(OPEN, FAMILY)
    return running


def _document(kernel: Kernel) -> Json:
    made = kernel.run(DOCUMENT, {"family": FAMILY, "id": "own-heron", "form": FORM})
    assert made["faults"] == {}
    document: Json = made["document"]
    return document


def test_what_the_phone_makes_the_rulebook_takes_to_the_same_pack(kernel: Kernel, tmp_path: Path) -> None:
    document = _document(kernel)
    rules = copy_of_rules(tmp_path)
    (rules / "sheets" / "own-heron.toml").write_text(_toml(document), encoding="utf-8")
    compiled = compile_sheet(load(rules), FAMILY, "own-heron")
    applied = kernel.run(APPLIED, {"family": FAMILY, "document": document})
    assert {**applied, "hash": ""} == {**compiled, "hash": ""}


def test_finish_and_service_by_their_labels_as_once_kept_are_taken_by_their_ids(kernel: Kernel) -> None:
    labels = {"service": "naval service", "finish": "black wrinkle"}
    made = kernel.run(DOCUMENT, {"family": FAMILY, "id": "own-heron", "form": {**FORM, **labels}})
    assert made == {"document": _document(kernel), "faults": {}}
    made["document"]["sheet"].update(labels)
    form = kernel.run(BACK, {"family": FAMILY, "document": made["document"]})
    assert (form["service"], form["finish"]) == ("naval-service", "black-wrinkle")


def test_every_figure_typed_is_in_the_document(kernel: Kernel) -> None:
    document = _document(kernel)
    head, reference = document["sheet"], pack_for()["reference"]
    assert (head["coverage_khz"], head["crystal_khz"], head["supply_volts"]) == (
        [3300, 5000.5],
        4120,
        [24, 28],
    )
    # Shunted heaters count as one: their voltage, their currents added.
    assert head["heater_strings"] == [
        [{"volts": 12.6, "amps": 0.15}, {"volts": 6.3, "amps": pytest.approx(0.15)}]
    ]
    assert document["reference"]["log_sd"] == reference["market_log_sd"]
    assert document["parts"][0]["weight"] == 7.5
    assert [row["buy"] for row in document["extra"]] == [[4, 5, 6], None]
    # A loss of 10 % is a log effect of ln 0.9 (Halvorsen and Palmquist 1980).
    assert document["extra"][0]["gone_effect"] == pytest.approx(-0.105360515657826)
    assert [row["gone_prior"] for row in document["extra"]] == [0.4, 0.07]
    rows = [head, document["reference"], *document["parts"], *document["extra"]]
    assert {(row["basis"], row["why"]) for row in rows} == {("invented", "Entered on this phone.")}


def test_a_document_shown_in_its_fields_again_says_the_same(kernel: Kernel) -> None:
    document = _document(kernel)
    form = kernel.run(BACK, {"family": FAMILY, "document": document})
    again = kernel.run(DOCUMENT, {"family": FAMILY, "id": "own-heron", "form": form})
    assert again == {"document": document, "faults": {}}
    shown = {**FORM, "coverage": ["3300", "5000.5"], "heater_strings": document["sheet"]["heater_strings"]}
    assert {**form, "parts": []} == {**shown, "parts": []}


def test_the_phone_and_the_rulebook_refuse_the_same_sheets(kernel: Kernel, tmp_path: Path) -> None:
    good = _document(kernel)
    rules, sheets = copy_of_rules(tmp_path), []
    for name, mistake in {"as-it-is": lambda document: None, **MISTAKES}.items():
        document = deepcopy(good)
        document["sheet"]["id"] = f"own-{name}"
        mistake(document)
        (rules / "sheets" / f"own-{name}.toml").write_text(_toml(document), encoding="utf-8")
        sheets.append({"id": f"own-{name}", "family": FAMILY, "changed": "2026-03-01", "document": document})
    told = dict(
        zip(["as-it-is", *MISTAKES], kernel.run(REFUSED, {"family": FAMILY, "sheets": sheets}), strict=True)
    )
    assert told.pop("as-it-is") == ""
    assert [name for name, said in told.items() if not said] == []
    assert _refused(rules) == set(MISTAKES)


def _refused(rules: Path) -> set[str]:
    """The sheets that the loader names; it looks at how rows fit together once the form of each is right."""
    refused: set[str] = set()
    while problems := problems_of(rules):
        files = tuple(line.partition(".toml")[0] + ".toml" for line in problems)
        named = {name for name in MISTAKES if f"rules/sheets/own-{name}.toml" in files}
        assert named, problems
        for name in named:
            (rules / "sheets" / f"own-{name}.toml").unlink()
        refused |= named
    return refused
