"""The twin reads findings as the engine does; what its tables no longer know it sets aside and names."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

import pytest

from tests.parity.cases import random_cases
from tests.support.packs import FAMILY, kinds, prepared_for, prepared_of
from tests.support.table import Table
from tests.support.twin import Case, Kernel
from webapp.appraisal.findings import read_findings
from webapp.errors import BadFindings

READ = """
const prepared = new Map([...packs].map(([name, pack]) => [name, kernel.prepare(pack)]));
return JSON.stringify(JSON.parse(args[0]).map(([pack, raw]) => {
  const { findings } = kernel.readFindings(raw, prepared.get(pack));
  return { ...findings, unseen: [...findings.unseen].sort() };
}));
"""


@pytest.fixture
def kernel(table: Table) -> Kernel:
    started = Kernel(table.phone, table.address)
    for family, sheet in kinds():
        started.shipped(sheet, family)
    return started


def test_random_findings_are_read_alike(kernel: Kernel, sweep: Callable[[int], Sequence[int]]) -> None:
    cases = random_cases(sweep(3000))
    found = kernel.run(READ, [(case.pack_name, case.findings) for case in cases])
    for case, twin in zip(cases, found, strict=True):
        assert twin == _engine_reads(case.findings), case.name


def _engine_reads(document: dict[str, Any]) -> Any:
    read = asdict(read_findings(document, prepared_of(document)))
    # Through JSON, as the twin's: it has lists only, and days as text.
    return json.loads(json.dumps({**read, "unseen": sorted(read["unseen"])}, default=date.isoformat))


def test_answers_of_other_tables_are_set_aside_by_name_and_change_nothing(kernel: Kernel) -> None:
    known = {"answers": {"nameplate": "worn"}, "asking": 60}
    strange = {"answers": {"nameplate": "worn", "hour-meter": "there", "serial": "smudged"}, "asking": 60}
    plain, aside = kernel.appraise([Case("known", known), Case("strange", strange)])
    assert plain.pop("set_aside") == []
    assert aside.pop("set_aside") == ["hour-meter: there", "serial: smudged"]
    assert aside == plain
    with pytest.raises(BadFindings, match="hour-meter"):
        read_findings({"family": FAMILY, **strange}, prepared_for())
