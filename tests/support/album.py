"""What a person does with photos in the app, for the browser tests."""

import base64
import io
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from PIL import Image

from tests.support.table import Table

_LOAD = "const load = (name) => import(document.documentElement.dataset.base + 'js/' + name + '.js');"
_ROWS = """
const database = await (await load('store/database')).openDatabase();
const files = new Map((await database.all('photo_files')).map((row) => [row.id, row.blob.size]));
const withFile = ({ thumb, ...row }) => ({ ...row, file: files.get(row.id) ?? null });
return JSON.stringify((await database.all('photos')).map(withFile));
"""
_PICTURE = """
const database = await (await load('store/database')).openDatabase();
const [id, what] = args;
const [store, key] = what === 'thumb' ? ['photos', 'thumb'] : ['photo_files', 'blob'];
const blob = (await database.get(store, id))[key];
return new Promise((resolve) => {
  const reader = new FileReader();
  reader.onload = () => resolve(reader.result.split(',')[1]);
  reader.readAsDataURL(blob);
});
"""


def script(table: Table, body: str, *arguments: Any) -> Any:
    """What a function body returns that has the app's modules at hand: `await load('store/photos')`."""
    return table.phone.js(_LOAD + body, *arguments)


def choose(table: Table, css: str, files: Iterable[Path]) -> None:
    """Choose files behind a photo button."""
    field = table.find(f"{css} input[type=file]")
    field.send_keys("\n".join(str(file) for file in files))


def add(table: Table, check: str, *files: Path) -> None:
    """Take photos at a check and wait until they are on disk."""
    choose(table, f"#check-{check} .photo-pick", files)
    table.until_saved()


def rows(table: Table) -> list[dict[str, Any]]:
    """The photos as they are stored, those in the bin too; `file` is the size of the picture's own row."""
    kept: list[dict[str, Any]] = json.loads(script(table, _ROWS))
    return kept


def stored(table: Table, photo: str, what: str = "picture") -> bytes:
    """The bytes of a picture, or of its thumbnail."""
    return base64.b64decode(script(table, _PICTURE, photo, what))


def picture(content: bytes) -> Image.Image:
    """An image of stored bytes, read by Pillow without turning it."""
    return Image.open(io.BytesIO(content))
