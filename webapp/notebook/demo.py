"""The demo notebook: three found Terns at the invented Quayside Sunday Market."""

import json
from pathlib import Path
from typing import Any


def demo_notebook() -> dict[str, Any]:
    """The demo notebook: `notebook` (its title), `found_sets` (title, place, note, findings), `sales`."""
    document: dict[str, Any] = json.loads(Path(__file__).with_name("demo.json").read_text(encoding="utf-8"))
    return document
