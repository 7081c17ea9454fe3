"""Descriptions as a phone shares them."""

import json
import secrets
from typing import Any

from hypothesis import strategies as st

from tests.support.packs import FAMILY, shipped
from tests.support.strategies import any_json
from webapp.rulebook.sheets import sheet_overrides

Json = dict[str, Any]


def a_token() -> str:
    """Give a token as phones draw them."""
    return secrets.token_hex(16)


def a_share_document(*photos: str, **changes: Any) -> Json:
    """Give a share document that shows these photos (hashes), with changes."""
    return {
        "form": 1,
        "findings": {
            "family": FAMILY,
            "model_sheet": "tern-b",
            "answers": {"loading-coil": "gone", "added-holes": "some"},
            "holes": [{"place": "front-panel", "diameter_mm": 16.0}],
            "unseen": ["serial"],
            "today": "2026-11-26",
        },
        "own_sheet": None,
        "title": "Tern B from the barn",
        "words": "Stood dry.\nThe key is lost, the case opens.",
        "price": "asked",
        "asked": {"amount": 120, "currency": "USD"},
        "looked": ["2026-11-20", "2026-11-25"],
        "written": "2026-11-26",
        "spots": [],
        "photos": [{"sha256": photo, "about": ""} for photo in photos],
        "language": "en",
        **changes,
    }


def an_own_sheet() -> Json:
    """Give a model sheet as phones make them, with something in each of its tables."""
    grounds = {"basis": "invented", "why": "A guess at the table."}
    sheet: Json = json.loads(json.dumps(sheet_overrides(shipped().sheets["tern-b"])))
    sheet["sheet"]["id"] = "own-1"
    sheet["parts"] = [{**grounds, "id": "loading-coil", "salvage": [5, 10, 20], "buy": [20, 30, 40]}]
    extra = {
        "id": "spare-tray",
        "label": "Tray of spares",
        "stage": "back",
        "weight": 2,
        "salvage": [1, 2, 3],
    }
    sheet["extra"] = [{**grounds, **extra, "buy": None, "gone_prior": 0.4, "gone_effect": -0.1}]
    return sheet


def a_body(*photos: str, expires: str | None = None, found: bool = False, **changes: Any) -> Json:
    """Give what a phone sends to share such a document."""
    return {"document": a_share_document(*photos, **changes), "expires": expires, "found": found}


@st.composite
def broken_bodies(draw: st.DrawFn) -> Json:
    """What a phone would send, with one thing in it replaced or dropped, now and then nothing."""
    whole = a_body("0" * 64, expires="9999-12-31", spots=[None])
    if draw(st.booleans()):
        whole["document"]["own_sheet"] = an_own_sheet()
        whole["document"]["findings"]["model_sheet"] = "own-1"
    broken: Json = _broken(draw, whole) if draw(st.integers(0, 9)) else whole
    return broken


def _broken(draw: st.DrawFn, value: Any) -> Any:
    if isinstance(value, dict) and value and draw(st.integers(0, 7)):
        name = draw(st.sampled_from(sorted(value)))
        rest = {key: kept for key, kept in value.items() if key != name}
        return rest if draw(st.integers(0, 4)) == 0 else {**value, name: _broken(draw, value[name])}
    if isinstance(value, list) and value and draw(st.integers(0, 5)):
        at = draw(st.integers(0, len(value) - 1))
        return [*value[:at], _broken(draw, value[at]), *value[at + 1 :]]
    return draw(any_json())
