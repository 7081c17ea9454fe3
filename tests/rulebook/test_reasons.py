"""The reasons behind the rows travel to the phone in a document of their own, and lose nothing."""

import json
from typing import Any

from webapp.paths import rules_folder
from webapp.rulebook.compiling import compile_family, part_reasons
from webapp.rulebook.tables import load


def _graft(node: Any, reasons: dict[str, Any]) -> None:
    for key, value in reasons.items():
        place: Any = int(key) if isinstance(node, list) else key
        if isinstance(value, dict) and (isinstance(node, list) or isinstance(node.get(place), dict | list)):
            _graft(node[place], value)
        else:
            node[place] = value


def test_the_reasons_grafted_onto_the_rest_give_the_pack_again() -> None:
    pack = compile_family(load(rules_folder()), "aircraft-hf-transmitter")
    lean, reasons = part_reasons(pack)
    assert "why" not in json.dumps(lean)
    again, sent = json.loads(json.dumps(lean)), json.loads(json.dumps(reasons))
    _graft(again, sent)
    assert again == pack
