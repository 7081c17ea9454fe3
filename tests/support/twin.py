"""The engine and its JavaScript twin on the same cases: the twin in a real browser, from the running app."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from tests.support.comparing import twin_differences
from tests.support.packs import FAMILY, pack_for, prepared_for
from tests.support.phone import Phone
from webapp.appraisal.appraise import appraise
from webapp.appraisal.consistency import consistency
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import Prepared, prepare
from webapp.appraisal.standing import stand
from webapp.rulebook.sheets import apply_sheet

Json = dict[str, Any]

# What the engine's document says in words or repeats from pack and findings; the app finds these by id.
SAID_IN_WORDS = ("family", "model_sheet", "pack", "currency", "aim", "unseen", "readings")
# Where the twin follows the custom of its own language.
TWIN_NAMES = {"logEffect": "log_effect"}
# Cases that go to the page and back together.
BATCH = 40

# The app brings the reader of plates after its first screen; here it comes from the same folder as the rest.
OPEN = """
const folder = `${document.documentElement.dataset.base}js/${args[0]}/`;
const names = 'appraise numbers findings prepared sheet money normal consistency matching reference';
const loaded = await Promise.all(names.split(' ').map((file) => import(`${folder}${file}.js`)));
globalThis.kernel = Object.assign({}, ...loaded);
globalThis.packs = new Map();
kernel.usePlates(await import(`${folder}nameplate.js`));
"""
SHIPPED = """
const [family, sheet] = args;
const store = await import(`${document.documentElement.dataset.base}js/store/packs.js`);
await store.loadReasons(family);
const [pack, index] = await Promise.all([store.loadPack(family), store.packIndex()]);
packs.set(sheet ?? family, sheet === null ? pack : kernel.applySheet(pack, index.sheets[sheet]));
return JSON.stringify(packs.get(sheet ?? family));
"""
LAID = """
const [name, family, overrides] = args;
packs.set(name, kernel.applySheet(packs.get(family), JSON.parse(overrides)));
return JSON.stringify(packs.get(name));
"""
APPRAISE = """
const known = new Map();
const ready = (name) => known.get(name) ?? known.set(name, kernel.prepare(packs.get(name))).get(name);
return JSON.stringify(JSON.parse(args[0]).map(({ pack, findings: raw, digits }) => {
  try {
    const { findings, setAside } = kernel.readFindings(raw, ready(pack));
    return { set_aside: setAside, ...kernel.appraise(ready(pack), findings, digits) };
  } catch (problem) {
    return { error: String(problem) };
  }
}));
"""


@dataclass(frozen=True)
class Case:
    """A findings document, for the shipped pack it names or for one given to the kernel by name."""

    name: str
    findings: Json
    digits: int = 2
    pack: str | None = None

    @property
    def pack_name(self) -> str:
        """The name under which the pack is known."""
        return self.pack or self.findings.get("model_sheet") or self.family

    @property
    def family(self) -> str:
        """The family whose shipped pack is meant."""
        return str(self.findings.get("family", FAMILY))


class Kernel:
    """The kernel modules of a running app, loaded in a browser from a folder of its scripts."""

    def __init__(self, phone: Phone, url: str, folder: str = "kernel") -> None:
        self.phone = phone
        self.prepared: dict[str, Prepared] = {}
        phone.driver.get(url)
        self.open(folder)

    def open(self, folder: str) -> None:
        """Take the modules of another folder; packs have to be given again."""
        self.phone.js(OPEN, folder)
        self.prepared.clear()

    def shipped(self, sheet: str | None = None, family: str = FAMILY) -> Json:
        """Let the page fetch the shipped pack whole, and lay a model sheet over it; gives the result."""
        pack: Json = json.loads(self.phone.js(SHIPPED, family, sheet))
        self.prepared[sheet or family] = prepared_for(sheet, family)
        return pack

    def lay(self, name: str, family: str, overrides: Json) -> Json:
        """Let both engines lay a sheet of one's own over a family under a name; gives the twin's pack."""
        if family not in self.prepared:
            self.shipped(family=family)
        pack: Json = json.loads(self.phone.js(LAID, name, family, json.dumps(overrides)))
        self.prepared[name] = prepare(apply_sheet(pack_for(family=family), overrides))
        return pack

    def give(self, name: str, pack: Json) -> None:
        """Give both engines a pack under a name."""
        self.phone.js("packs.set(args[0], JSON.parse(args[1]))", name, json.dumps(pack))
        self.prepared[name] = prepare(pack)

    def appraise(self, cases: Sequence[Case]) -> list[Json]:
        """The twin's appraisals in the engine's names, each with what was set aside; or why there is none."""
        for case in cases:
            if case.pack_name not in self.prepared:
                self.shipped(case.findings.get("model_sheet"), case.family)
        rows = [{"pack": case.pack_name, "findings": case.findings, "digits": case.digits} for case in cases]
        return [_renamed(row) for row in self.run(APPRAISE, rows)]

    def call(self, function: str, arguments: Sequence[Sequence[Any]]) -> list[Any]:
        """What a function of the kernel gives for each list of arguments."""
        results: list[Any] = self.run(
            f"return JSON.stringify(JSON.parse(args[0]).map((given) => kernel.{function}(...given)))",
            arguments,
        )
        return results

    def run(self, script: str, given: Any) -> Any:
        """What a script in the page gives as JSON, with args[0] as JSON and the kernel at hand."""
        return json.loads(self.phone.js(script, json.dumps(given)))


def engine_appraisal(prepared: Prepared, case: Case) -> Json:
    """The engine's appraisal without the words that the app finds by id, and with what its pages show."""
    findings = read_findings(case.findings, prepared)
    standing = stand(prepared, findings)
    whole = appraise(prepared, findings, case.digits, str)
    document = _without(whole, *SAID_IN_WORDS)
    meanwhile = whole["verdict"]["meanwhile"]
    document["verdict"] = {
        **_without(whole["verdict"], "sentence"),
        "meanwhile": meanwhile and _without(meanwhile, "sentence"),
    }
    tasks = [_without(task, "label", "stage", "basis") for task in whole["effort"]["tasks"]]
    document["effort"] = {**whole["effort"], "tasks": tasks}
    points = [_without(point, "say") for point in whole["haggling"]["points"]]
    document["haggling"] = {**whole["haggling"], "points": points}
    document["selling"] = _without(whole["selling"], "sentence")
    document["cautions"] = [row["id"] for row in whole["cautions"]]
    document["consistency"] = [asdict(match) for match in consistency(prepared, standing, findings)]
    document["shown"] = [c.id for c, shown in zip(prepared.checks, standing.shown, strict=True) if shown]
    return {"set_aside": [], **document}


def _without(row: Json, *keys: str) -> Json:
    return {key: value for key, value in row.items() if key not in keys}


def compare(kernel: Kernel, cases: Sequence[Case]) -> Iterator[str]:
    """The differences between engine and twin, one by one; ValueError when there is no case to compare."""
    if not cases:
        raise ValueError("There is no case to compare.")
    for start in range(0, len(cases), BATCH):
        batch = cases[start : start + BATCH]
        for case, found in zip(batch, kernel.appraise(batch), strict=True):
            yield from (f"{case.name}: {line}" for line in _case_differences(kernel, case, found))


def _case_differences(kernel: Kernel, case: Case, found: Json) -> list[str]:
    if "error" in found:
        return [found["error"]]
    prepared = kernel.prepared[case.pack_name]
    expected = engine_appraisal(prepared, case)
    return twin_differences(expected, found, prepared, case.findings.get("asking"))


def _renamed(value: Any) -> Any:
    """The twin's document in the engine's names."""
    if isinstance(value, dict):
        return {TWIN_NAMES.get(key, key): _renamed(inner) for key, inner in value.items()}
    return [_renamed(inner) for inner in value] if isinstance(value, list) else value
