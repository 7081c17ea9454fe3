"""The demo: three found Terns at the invented Quayside Sunday Market, the Petrel Street lot, their photos."""

import json
from pathlib import Path
from typing import Any


def demo_notebook() -> dict[str, Any]:
    """The demo notebook: `notebook` (title), `found_sets` (title, label, place, note, findings), `sales`."""
    return _document("demo.json")


def demo_lot() -> dict[str, Any]:
    """A lot of twelve after a quick round: `lot`, `found_sets` (as above, with a `number` each), `shelf`."""
    return _document("demo_lot.json")


def _document(name: str) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(Path(__file__).with_name(name).read_text(encoding="utf-8"))
    return document


def demo_photos(folder: Path) -> dict[str, bytes]:
    """The photos of the demo sets by their addresses under the site: the list, then each file that it names.

    Photos of other sets stay out. OSError when the list or one of its files cannot be read.
    """
    listed = json.loads((folder / "photos.json").read_text(encoding="utf-8"))
    own = [entry for entry in listed if entry["set"] is not None]
    photos = {f"demo/{entry['file']}": (folder / entry["file"]).read_bytes() for entry in own}
    return {"demo/photos.json": json.dumps(own).encode()} | photos
