"""The form of one operation: who wrote what into which record, and what it replaces."""

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from webapp.notebook.limits import LARGEST_OPERATION

# Deeper than anything a phone writes, and far from what a reader of JSON may choke on.
DEEPEST = 100

Id = Annotated[str, Field(pattern="^[0-9a-f]{24}$")]
# The later readers are databases and screens: no control signs, and findings name their set first.
RecordId = Annotated[str, Field(min_length=1, max_length=200, pattern=r"^[^\x00-\x1f\x7f]+$")]
Moment = Annotated[
    str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,3})?Z$")
]


# A number that JSON writes in two ways, as far as a text can tell: 2.0 is 2, and 1e+16 has all its digits.
_EVEN_NUMBER = re.compile(r"\.0(?![0-9])|e\+")
_WRITER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)


class Operation(BaseModel):
    """One operation as a phone sends it; `time` is a hybrid logical clock in ms, `at` the phone's clock."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)

    id: Id
    device: Id
    by: Annotated[str, Field(max_length=60)]
    time: Annotated[int, Field(ge=1, le=9_000_000_000_000_000)]
    at: Moment
    kind: Literal["sets", "findings", "sheets", "sales", "photos", "lots", "shelf"]
    record: RecordId
    after: Annotated[list[Id], Field(max_length=50)]
    value: Any


@dataclass(frozen=True)
class Written:
    """An operation and the one text that it is stored as, of so many bytes: equal contents, equal text."""

    operation: Operation
    document: str
    size: int


@dataclass(frozen=True)
class Refusal:
    """An operation that is not stored, and why."""

    id: str
    code: str
    message: str
    hint: str


def read_operations(raw: Iterable[Any]) -> tuple[list[Written], list[Refusal]]:
    """The operations that can be kept, each once, and those that cannot."""
    kept: dict[str, Written] = {}
    refused: list[Refusal] = []
    for document in raw:
        written = _read(document)
        if isinstance(written, Refusal):
            refused.append(written)
        elif kept.setdefault(written.operation.id, written).document != written.document:
            refused.append(differing(written.operation.id))
    return list(kept.values()), refused


def differing(operation_id: str) -> Refusal:
    """The refusal of an operation whose id is taken by another."""
    return Refusal(
        operation_id,
        "operation-differs",
        "Another finding was stored under the same number before, and that one stays.",
        "Export the notebook on this phone, so that nothing is lost, and enter the finding once more.",
    )


def canonical(value: Any) -> str:
    """The one text of a JSON value: keys in order, 2.0 as 2. Raises ValueError and RecursionError."""
    text = _WRITER.encode(value)
    if _EVEN_NUMBER.search(text):
        text = _WRITER.encode(_even(value))
    try:
        text.encode()
    except UnicodeEncodeError:
        # Half of a character in two halves, as a text cut short may end; escaped, it comes back as it was.
        return json.dumps(json.loads(text), sort_keys=True, separators=(",", ":"))
    return text


def depth(document: str) -> int:
    """How deep the brackets of a JSON text go; 0 for one with few of them."""
    # Brackets inside texts count too: that can only be too strict, and only past a hundred of them.
    if document.count("[") + document.count("{") <= DEEPEST:
        return 0
    level = deepest = 0
    for sign in document:
        level += (sign in "[{") - (sign in "]}")
        deepest = max(deepest, level)
    return deepest


def _even(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_even(item) for item in value]
    if isinstance(value, dict):
        return {key: _even(item) for key, item in value.items()}
    return value


def _read(raw: Any) -> Written | Refusal:
    try:
        operation = Operation.model_validate(raw)
        document = canonical(raw)
    except ValidationError as error:
        return _malformed(raw, ".".join(str(step) for step in error.errors()[0]["loc"]))
    except (ValueError, RecursionError):
        return _malformed(raw, "value")
    if operation.kind == "findings" and not all(operation.record.partition("/")):
        return _malformed(raw, "record")
    if depth(document) > DEEPEST:
        return _malformed(raw, "value")
    written = Written(operation, document, len(document.encode()))
    return written if written.size <= LARGEST_OPERATION else _too_large(written)


def _malformed(raw: Any, where: str) -> Refusal:
    named = raw.get("id") if isinstance(raw, dict) else None
    what = f'its "{where[:60]}" is not as expected' if where else "it is no operation"
    return Refusal(
        named[:60] if isinstance(named, str) else "",
        "operation-malformed",
        f"The server cannot read this finding: {what}.",
        "Load the newest version of the app. The finding stays on this phone.",
    )


def _too_large(written: Written) -> Refusal:
    return Refusal(
        written.operation.id,
        "operation-too-large",
        f"This finding is {written.size:,} bytes; the limit is {LARGEST_OPERATION:,}.",
        "Shorten its texts. The finding stays on this phone.",
    )
