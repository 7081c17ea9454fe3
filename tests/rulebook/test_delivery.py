"""The documents for the phone: composed again they give each pack to the letter; nothing travels twice."""

import json
from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from typing import Any

import pytest

from tests.support.packs import families, pack_for
from webapp.rulebook.delivery import CAUTION_TEXT, LATE, REASON, ROWS, TASK_TEXT, phone_documents

Json = dict[str, Any]


@cache
def packs() -> dict[str, Json]:
    return {family: pack_for(None, family) for family in families()}


@cache
def documents() -> dict[str, Json]:
    """The documents as they come out of the files on the phone; not to be changed."""
    sent: dict[str, Json] = json.loads(json.dumps(phone_documents(packs()), allow_nan=False))
    return sent


def compose(shared: Json, own: Json) -> Json:
    """A pack of the shared document and the family's: its tables first, and each row by its entry."""
    tables = {key: value for key, value in own.items() if key not in ("without", *ROWS)}
    pack = {**{key: value for key, value in shared["tables"].items() if key not in own["without"]}, **tables}
    for name in ROWS:
        pack[name] = [_row(shared["rows"][name], entry) for entry in own[name]]
    return pack


def _row(common: Json, entry: Any) -> Json:
    """An id is the shared row, [id, changes] the shared row changed, anything else the row itself."""
    if isinstance(entry, str):
        found: Json = common[entry]
        return found
    return {**common[entry[0]], **entry[1]} if isinstance(entry, list) else entry


def graft(node: Any, reasons: Json) -> Any:
    """A document with its mirror of reasons laid over it; the mirror has the places of a list as keys."""
    if not isinstance(node, dict | list):
        return reasons
    laid = deepcopy(node)
    for key, value in reasons.items():
        place: Any = int(key) if isinstance(node, list) else key
        laid[place] = graft(node[place], value) if isinstance(value, dict) else value
    return laid


def whole(sent: dict[str, Json], family: str) -> Json:
    """The pack of a family out of all that was sent, the reasons and the late tables included."""
    behind = sent["packs/reasons.json"]
    shared = graft(sent["packs/shared.json"], behind["shared"])
    own = graft(sent[f"packs/{family}.json"], behind["families"][family])
    return {**compose(shared, own), **behind["late"]}


def bare(node: Any, behind: frozenset[str] = REASON) -> Any:
    """A document without what comes later: reasons, texts of tasks and of cautions that are called."""
    if isinstance(node, list):
        return [bare(item, behind) for item in node]
    if not isinstance(node, dict):
        return node
    if node.get("standing") is False:
        behind = CAUTION_TEXT
    return {
        key: bare(value, TASK_TEXT if key == "tasks" else behind)
        for key, value in node.items()
        if key not in behind
    }


def walked(node: Any) -> Iterator[Any]:
    yield node
    for inner in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from walked(inner)


def exactly(one: Any, other: Any) -> bool:
    """Equal as JSON, where 1 and true are different things."""
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


@pytest.mark.parametrize("family", families())
def test_all_documents_together_give_the_pack_again_to_the_letter(family: str) -> None:
    assert exactly(whole(documents(), family), packs()[family])


@pytest.mark.parametrize("family", families())
def test_the_first_two_give_the_pack_but_for_reasons_and_late_tables(family: str) -> None:
    first = compose(documents()["packs/shared.json"], documents()[f"packs/{family}.json"])
    assert exactly(first, bare({**packs()[family], **{key: {} for key in LATE}}))


def test_there_is_one_document_a_family_and_two_for_all() -> None:
    names = {*(f"packs/{family}.json" for family in families()), "packs/shared.json", "packs/reasons.json"}
    assert set(documents()) == names


def test_no_reason_and_nothing_to_say_travels_before_the_reasons() -> None:
    for name, document in documents().items():
        if name != "packs/reasons.json":
            keys = {key for node in walked(document) if isinstance(node, dict) for key in node}
            assert not keys & {"why", "say"}, name


@pytest.mark.parametrize("name", ROWS)
def test_a_row_that_families_have_alike_travels_once(name: str) -> None:
    """It stands in the shared document, and each family that has it so sends its id alone."""
    alike: dict[str, dict[str, list[str]]] = {}
    for family, pack in packs().items():
        for row in pack[name]:
            alike.setdefault(row["id"], {}).setdefault(json.dumps(row, sort_keys=True), []).append(family)
    shared = documents()["packs/shared.json"]["rows"][name]
    assert {row_id for row_id, kinds in alike.items() if len(max(kinds.values(), key=len)) > 1} == set(shared)
    assert len(shared) > 10
    for row_id in shared:
        kinds = sorted(alike[row_id].items(), key=lambda kind: len(kind[1]))
        if len(kinds) > 1 and len(kinds[-1][1]) == len(kinds[-2][1]):
            continue
        text, having = kinds[-1]
        assert exactly(shared[row_id], bare(json.loads(text), TASK_TEXT if name == "tasks" else REASON))
        assert [family for family in having if row_id not in documents()[f"packs/{family}.json"][name]] == []


@pytest.mark.parametrize("name", ROWS)
def test_no_family_sends_whole_what_another_sends_too(name: str) -> None:
    behind = documents()["packs/reasons.json"]["families"]
    whole_rows = [
        json.dumps(entry, sort_keys=True)
        for family in families()
        for entry in graft(documents()[f"packs/{family}.json"], behind[family])[name]
        if isinstance(entry, dict)
    ]
    assert len(set(whole_rows)) == len(whole_rows)


@pytest.mark.parametrize("name", ROWS)
def test_every_shared_row_is_taken_by_two_families_at_least(name: str) -> None:
    taken = [
        entry if isinstance(entry, str) else entry[0]
        for family in families()
        for entry in documents()[f"packs/{family}.json"][name]
        if not isinstance(entry, dict)
    ]
    assert {row_id for row_id in taken if taken.count(row_id) > 1} == set(
        documents()["packs/shared.json"]["rows"][name]
    )


def test_the_tables_of_no_family_travel_once_with_the_reasons() -> None:
    for family in families():
        assert set(LATE) & set(documents()[f"packs/{family}.json"]) == set()
    for key in LATE:
        assert documents()["packs/shared.json"]["tables"][key] == {}
        assert documents()["packs/reasons.json"]["late"][key] == packs()[families()[0]][key]


# ---- packs made for the purpose

ROW = {"id": "a", "label": "A", "why": "Because."}


def padded(pack: Json) -> Json:
    """A pack with empty lists for the rows that it does not give."""
    return {**{name: [] for name in ROWS}, **pack}


@pytest.mark.parametrize(
    "pair",
    [
        [{"volts": None}, {"volts": None}],
        [{"volts": None}, {"volts": [24, 28]}],
        [{"volts": [1]}, {"volts": [1]}, {"volts": None}],
        [{"volts": [1]}, {"volts": [1]}, {}],
        [{"states": [ROW]}, {"states": [ROW]}, {"states": [{"id": "a", "label": "A"}]}],
        [{"parts": [ROW]}, {"parts": [ROW]}, {"parts": [{**ROW, "why": "Another."}]}],
        [{"parts": [ROW]}, {"parts": [ROW]}, {"parts": [{"id": "a", "label": "A"}]}],
        [{"parts": [ROW]}, {"parts": [ROW]}, {"parts": [{**ROW, "label": "B", "source": "s"}]}],
        [{"checks": [{**ROW, "options": [ROW]}]}, {"checks": [{**ROW, "options": [ROW, ROW]}]}],
        [
            {"checks": [{**ROW, "options": [ROW]}]},
            {"checks": [{**ROW, "options": [ROW]}]},
            {"checks": [{**ROW, "options": [{**ROW, "why": "Another."}]}]},
        ],
        [{"parts": [ROW, {**ROW, "id": "b"}]}, {"parts": [{**ROW, "id": "b"}, ROW]}],
        [{"sources": {"s": ROW}}, {"sources": {"s": ROW}}],
        [{"parts": [ROW]}],
    ],
)
def test_odd_neighbours_are_composed_again_as_well(pair: list[Json]) -> None:
    named = {f"f{number}": padded(pack) for number, pack in enumerate(pair)}
    sent = phone_documents(named)
    for family, pack in named.items():
        assert exactly(whole(sent, family), pack)


def test_a_family_that_changes_one_word_of_a_shared_row_sends_that_word() -> None:
    row = {"id": "a", "label": "A", "weight": 2, "salvage": [1, 2, 3]}
    rows = {"x": row, "y": row, "z": {**row, "weight": 3}}
    sent = phone_documents({family: padded({"parts": [row]}) for family, row in rows.items()})
    assert [sent[f"packs/{family}.json"]["parts"] for family in "xyz"] == [
        ["a"],
        ["a"],
        [["a", {"weight": 3}]],
    ]
