"""The tables that belong to no family: type designations, holes by component, tube numbers, safety signs."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from webapp.rulebook import (
    component_holes,
    measuring,
    nomenclature,
    price_index,
    scale_objects,
    signs,
    tube_numbers,
)
from webapp.rulebook.family import FamilyTables
from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded

Json = dict[str, Any]
FILES = ("nomenclature", "component_holes", "tube_numbers", "price_index", "scale_objects", "measuring")

Tables = (
    nomenclature.Nomenclature
    | component_holes.ComponentHoles
    | tube_numbers.TubeNumbers
    | price_index.PriceIndex
    | scale_objects.ScaleObjects
    | measuring.Measuring
)


@dataclass(frozen=True)
class References:
    """The tables as read; None where a fault in them was noted."""

    nomenclature: nomenclature.Nomenclature | None
    component_holes: component_holes.ComponentHoles | None
    tube_numbers: tube_numbers.TubeNumbers | None
    price_index: price_index.PriceIndex
    scale_objects: scale_objects.ScaleObjects
    measuring: measuring.Measuring
    signs: list[signs.Sign]
    cautions: Layers

    def tables(self) -> list[Tables | None]:
        """The tables that say themselves what each of their rows rests on."""
        return [
            self.nomenclature, self.component_holes, self.tube_numbers, self.price_index, self.scale_objects,
            self.measuring,
        ]  # fmt: skip

    def grounds(self) -> Iterator[tuple[Layers, str, Grounded]]:
        """Every row that says what it rests on, with its file and the words that name it."""
        for tables in self.tables():
            if tables is not None:
                for where, row in tables.grounds():
                    yield tables.file, where, row
        for sign in self.signs:
            yield self.cautions, f'sign "{sign.id}"', sign


def read_references(open_file: Callable[[str], Layers], cautions: Layers) -> References:
    """Reads the files, which `open_file` opens by name; the signs stand among the cautions."""
    return References(
        nomenclature.read_nomenclature(open_file("nomenclature.toml")),
        component_holes.read_component_holes(open_file("component_holes.toml")),
        tube_numbers.read_tube_numbers(open_file("tube_numbers.toml")),
        price_index.read_price_index(open_file("price_index.toml")),
        scale_objects.read_scale_objects(open_file("scale_objects.toml")),
        measuring.read_measuring(open_file("measuring.toml")),
        signs.read_signs(cautions),
        cautions,
    )


def compile_references(found: References, families: dict[str, FamilyTables]) -> Json:
    """The documents of the pack, alike for every family."""
    assert found.nomenclature is not None
    assert found.component_holes is not None
    assert found.tube_numbers is not None
    named = {
        family.id: {
            "name": family.name,
            "sets": list(family.designation.sets),
            "units": list(family.designation.units),
        }
        for family in families.values()
    }
    return {
        "nomenclature": nomenclature.compiled(found.nomenclature, named),
        "component_holes": component_holes.compiled(found.component_holes),
        "tube_numbers": tube_numbers.compiled(found.tube_numbers),
        **price_index.compiled(found.price_index),
        "scale_objects": scale_objects.compiled(found.scale_objects),
        "measuring": measuring.compiled(found.measuring),
        "signs": {sign.id: sign.model_dump(exclude_none=True) for sign in found.signs},
    }
