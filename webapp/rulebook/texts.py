"""Which texts the tables hold: what a language table may say, and what a complete language has said."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Annotated, Any, NamedTuple, get_args

from pydantic import Field, create_model

from webapp.rulebook import (
    component_holes,
    nomenclature,
    price_index,
    rows,
    scale_objects,
    signs,
    tube_numbers,
)
from webapp.rulebook.family import FamilyHead
from webapp.rulebook.reading import id_of, row_name

Raw = dict[str, Any]


class Translated(str):
    """A text that a language table gave; it keeps that through all layers."""


@dataclass(frozen=True)
class Form:
    """The form of a table's rows, and of the rows inside them by their key."""

    model: type[rows.Row]
    inner: Mapping[str, type[rows.Row]] = field(default_factory=dict)


SENTENCES = Form(rows.Row)
"""The form of a table of sentences by id, such as [words]."""

Forms = Mapping[str, Form]

_FAMILY: Forms = {
    "": Form(FamilyHead),
    "reference": Form(rows.Reference),
    "asked": Form(rows.Asked),
    "state": Form(rows.State),
    "breaking": Form(rows.Breaking),
    "coverage": Form(rows.Coverage),
    "crystal": Form(rows.Crystal),
    "book": Form(rows.Book),
    "heaters": Form(rows.Heaters),
    "designation": Form(rows.Designation),
    "part": Form(rows.Part),
    "check": Form(rows.Check, {"option": rows.Option}),
    "task": Form(rows.Task),
    "holes": Form(rows.HoleLaw),
    "hole_place": Form(rows.HolePlace, {"size": rows.HoleSize}),
    "face": Form(rows.Face, {"feature": rows.FaceFeature}),
}
_SHEET: Forms = {
    "": Form(rows.SheetHead),
    "reference": Form(rows.SheetReference),
    "part": Form(rows.SheetPart),
    "extra_part": Form(rows.ExtraPart),
}
_FOLDERS = {"common": _FAMILY, "families": _FAMILY, "sheets": _SHEET}
OF_NO_FAMILY: Mapping[str, Forms] = {
    "walk.toml": {"stage": Form(rows.Stage), "aim": Form(rows.Aim), "plan_stage": Form(rows.PlanStage)},
    "cautions.toml": {"caution": Form(rows.Caution), "sign": Form(signs.Sign)},
    "bands.toml": {"band": Form(rows.Band)},
    "model.toml": {"constant": Form(rows.Constant)},
    "words.toml": {"words": SENTENCES},
    "finishes.toml": {
        "finish": Form(rows.FinishKind),
        "service": Form(rows.Service),
        "mismatch": Form(rows.FinishMismatch),
    },
    "nomenclature.toml": {
        "words": SENTENCES,
        "letter": Form(nomenclature.Letter),
        "indicator": Form(nomenclature.Indicator),
        "grammar": Form(nomenclature.Grammar),
        "stamp": Form(nomenclature.Stamp),
        "order": Form(nomenclature.Order),
    },
    "component_holes.toml": {
        "words": SENTENCES,
        "limits": Form(component_holes.Limits),
        "tolerance": Form(component_holes.Tolerance),
        "component": Form(component_holes.Component),
        "clearance": Form(component_holes.Clearance),
        "screw": Form(component_holes.Screw),
        "shop_screw": Form(component_holes.ShopScrew),
        "drill": Form(component_holes.Drill),
    },
    "tube_numbers.toml": {
        "words": SENTENCES,
        "lead": Form(tube_numbers.Lead),
        "not_used": Form(tube_numbers.NotUsed),
        "cathode_ray": Form(tube_numbers.CathodeRay),
        "older": Form(tube_numbers.Older),
        "industrial": Form(tube_numbers.Series),
        "serials": Form(tube_numbers.Series),
        "power_class": Form(tube_numbers.PowerClass),
        "letter": Form(tube_numbers.Letter),
        "suffix": Form(tube_numbers.Suffix),
    },
    "price_index.toml": {"series": Form(price_index.Series), "year": Form(price_index.Year)},
    "scale_objects.toml": {"card": Form(scale_objects.Card), "coin": Form(scale_objects.Coin)},
    "measuring.toml": {"words": SENTENCES, "constant": Form(rows.Constant)},
}
"""The tables of no family that hold texts; sources keep their own language."""


def forms_of(name: str) -> Forms | None:
    """The forms of the tables of a rule file, by its path in the folder; None when it holds no texts."""
    folder, _, _ = name.rpartition("/")
    return _FOLDERS.get(folder) if folder else OF_NO_FAMILY.get(name)


class Place(NamedTuple):
    """A text, or a list of texts, that needs a translation: the words that name its row, its key, itself."""

    where: str
    key: str
    value: Any

    @property
    def is_translated(self) -> bool:
        """Whether all of it came from a language table."""
        texts = self.value if isinstance(self.value, list) else [self.value]
        return all(isinstance(text, Translated) for text in texts)


def places(tables: Raw, forms: Forms) -> Iterator[Place]:
    """All texts of these tables that need a translation, in their order."""
    for name, form in forms.items():
        value = tables if name == "" else tables.get(name)
        if form is SENTENCES:
            yield from (Place(name, key, text) for key, text in (value or {}).items())
        elif isinstance(value, dict):
            yield from _of_row(name, value, form.model)
        for index, raw in enumerate(value if isinstance(value, list) else ()):
            where = row_name(name, index, raw)
            yield from _of_row(where, raw, form.model)
            for key, model in form.inner.items():
                for inner in raw.get(key, ()):
                    yield from _of_row(f'{where}, {key} "{inner_id(inner)}"', inner, model)


def _of_row(where: str, raw: Raw, model: type[rows.Row]) -> Iterator[Place]:
    for key, mark in spoken(model).items():
        if mark.needed and raw.get(key):
            yield Place(where, key, raw[key])


def inner_id(raw: Raw) -> str | None:
    """What names a row inside a row: its id, or its label where such rows have no ids."""
    label = raw.get("label")
    return id_of(raw) or (label if isinstance(label, str) else None)


@cache
def spoken(model: type[rows.Row]) -> dict[str, rows.Spoken]:
    """The keys of a row that hold texts to be translated, each with its mark."""
    marks = {key: _mark(field.annotation, field.metadata) for key, field in model.model_fields.items()}
    return {key: mark for key, mark in marks.items() if mark is not None}


def _mark(annotation: Any, metadata: Any = ()) -> rows.Spoken | None:
    found = [item for item in metadata if isinstance(item, rows.Spoken)]
    inner = [_mark(part, getattr(part, "__metadata__", ())) for part in get_args(annotation)]
    return next((mark for mark in [*found, *inner] if mark is not None), None)


@cache
def translation_of(model: type[rows.Row]) -> type[rows.Row]:
    """The form of a row of a language table: an id, and any of the texts within their limits."""
    fields: dict[str, Any] = {"id": (str, None)}
    for key in spoken(model):
        field = model.model_fields[key]
        kind = Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation
        fields[key] = (kind, Field(default=None, description=field.description))
    found: type[rows.Row] = create_model(f"{model.__name__}Texts", __base__=rows.Row, **fields)
    return found
