"""Descriptions as a phone shares them."""

import secrets
from typing import Any

from tests.support.packs import FAMILY

Json = dict[str, Any]


def a_token() -> str:
    """Give a token as phones draw them."""
    return secrets.token_hex(16)


def a_share_document(*photos: str, **changes: Any) -> Json:
    """Give a share document that shows these photos (hashes), with changes."""
    return {
        "form": 1,
        "findings": {"family": FAMILY, "model_sheet": "tern-b", "answers": {}, "today": "2026-11-26"},
        "own_sheet": None,
        "title": "Tern B from the barn",
        "words": "Stood dry.\nThe key is lost, the case opens.",
        "price": "asked",
        "asked": {"amount": 120, "currency": "USD"},
        "looked": ["2026-11-20", "2026-11-25"],
        "written": "2026-11-26",
        "photos": [{"sha256": photo, "about": ""} for photo in photos],
        "language": "en",
        **changes,
    }


def a_body(*photos: str, expires: str | None = None, found: bool = False, **changes: Any) -> Json:
    """Give what a phone sends to share such a document."""
    return {"document": a_share_document(*photos, **changes), "expires": expires, "found": found}
