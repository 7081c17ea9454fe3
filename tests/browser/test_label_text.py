"""What stands in a label: the phone reads the same payloads as the server."""

import json

from tests.support import album
from tests.support.table import Table
from webapp.photos.label_text import SIGNS, in_words, label_of, payload

READ = """
const { labelOf, typedLabel } = await load('store/label_text');
return JSON.stringify(JSON.parse(args[0]).map((text) => [labelOf(text), typedLabel(text)]));
"""


def test_phone_and_server_read_the_same_payloads(table: Table) -> None:
    signs = [chr(code) for code in range(33, 127)] + ["é", "\u0660"]
    payloads = [f"UC:K7{sign}2:007" for sign in signs]
    payloads += [f"UC:K7Q2:{n}" for n in ("000", "001", "999", "1000", "7", "00٧")]
    payloads += [
        "UC:K7Q:007",
        "uc:K7Q2:007",
        " UC:K7Q2:007",
        "UC:K7Q2:007\n",
        "UC:K7Q2-007",
        "",
        "https://a.example",
    ]
    read = json.loads(album.script(table, READ, json.dumps(payloads)))
    assert [label for label, _ in read] == [label_of(text) or "" for text in payloads]
    assert sum(bool(label) for label, _ in read) == len(SIGNS) + 2


def test_a_label_is_typed_in_any_of_the_ways_it_is_read_off(table: Table) -> None:
    ways = ["K7Q2-007", "k7q2-007", " K7Q2 7 ", "k7q2007", "K7Q2:07", payload("K7Q2", 7), "uc k7q2 007"]
    read = json.loads(album.script(table, READ, json.dumps(ways)))
    assert {typed for _, typed in read} == {in_words("K7Q2", 7)}
