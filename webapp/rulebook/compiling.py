"""Compiles a family, or a model sheet on it, to its pack: the one JSON document the engines read."""

import hashlib
import json
import math
from typing import Any

from webapp.rulebook import rows
from webapp.rulebook.book import Rulebook
from webapp.rulebook.currencies import unusual_minor_digits
from webapp.rulebook.family import CheckRow, FamilyTables
from webapp.rulebook.plan import in_order
from webapp.rulebook.references import compile_references
from webapp.rulebook.sheets import apply_sheet, sheet_overrides

Json = dict[str, Any]


def compile_family(book: Rulebook, family_id: str) -> Json:
    """The pack of a family, in the form of the contract; texts, basis and sources stand beside its keys.

    Money is in `reference.currency`, lengths in mm, frequencies in kHz, hours and seconds.
    Raises NotKnown for an unknown family.
    """
    family = book.family(family_id)
    pack: Json = {
        "family": family.id,
        "language": book.language.code,
        "name": family.name,
        "about": family.about,
        "default_aim": family.default_aim,
        "reference": {**_plain(family.reference), "asked": family.asked.effect},
        "asked": _grounds(family.asked),
        "state_offsets": {state.id: state.offset for state in family.states},
        "states": [_plain(state) for state in family.states],
        "sell_through": family.breaking.sell_through,
        "break_hours": family.breaking.hours,
        "breaking": _grounds(family.breaking),
        "parts": [_part(part) for part in family.parts],
        "checks": _checks(family),
        "holes": _holes(family),
        "faces": {"drawn": _faces(family)},
        "tasks": _tasks(book, family),
        "effects": _effects(book, family),
        "supply_volts": family.heaters.supply_volts if family.heaters else None,
        "finishes": [_plain(row) for row in book.finishes],
        "services": [_plain(row) for row in book.services],
        "stages": [_plain(stage) for stage in book.stages],
        "aims": [_plain(aim) for aim in book.aims],
        "plan_stages": [_plain(stage) for stage in book.plan_stages],
        "cautions": [_plain(caution) for caution in book.cautions],
        "bands": _bands(book),
        "band_rows": {band.id: _plain(band) for band in book.bands},
        "model": {constant.id: constant.value for constant in book.constants},
        "constant_rows": {constant.id: _plain(constant) for constant in book.constants},
        "minor_digits": unusual_minor_digits(),
        "words": book.words,
        "extra_words": {key[6:]: text for key, text in book.words.items() if key.startswith("extra-")},
        **compile_references(book.references, book.families),
        "sources": {key: _plain(row) for key, row in sorted(book.sources.items())},
    }
    return _with_hash(pack)


def compile_sheet(book: Rulebook, family_id: str, sheet_id: str) -> Json:
    """The pack of a model sheet: its family's pack with the sheet's overrides.

    Raises NotKnown for an unknown family or sheet, or a sheet of another family.
    """
    overrides = sheet_overrides(book.sheet(sheet_id, family_id))
    return _with_hash(apply_sheet(compile_family(book, family_id), overrides))


def _with_hash(pack: Json) -> Json:
    body = {key: value for key, value in pack.items() if key != "hash"}
    text = json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return {**body, "hash": hashlib.sha256(text.encode()).hexdigest()[:16]}


def _plain(row: rows.Row) -> Json:
    return row.model_dump(exclude_none=True)


def _grounds(row: rows.Grounded) -> Json:
    return _plain(rows.Grounded(basis=row.basis, source=row.source, why=row.why))


def _part(part: rows.Part) -> Json:
    return {**_plain(part), "buy": part.buy}


def _mixture(check: CheckRow, effects: dict[str, tuple[list[float], float]]) -> tuple[float, float, float]:
    """Mean, variance and exact-mean factor of a check's unanswered options.

    `effects` holds each option's [mean, sd] and its factor, follow-ups included.
    """
    mean = sum(o.prior * effects[o.id][0][0] for o in check.options)
    square = sum(o.prior * (effects[o.id][0][1] ** 2 + effects[o.id][0][0] ** 2) for o in check.options)
    factor = sum(o.prior * effects[o.id][1] for o in check.options)
    return mean, square - mean * mean, factor


def _effects_of(family: FamilyTables, check: CheckRow) -> dict[str, tuple[list[float], float]]:
    """Each option's log effect and mean factor, with the spread of the follow-ups it opens inside."""
    effects: dict[str, tuple[list[float], float]] = {}
    for option in check.options:
        mean, sd = option.effect
        variance, factor = sd * sd, math.exp(mean + sd * sd / 2)
        opened = _opened_by(family, check.row.id, option.id)
        for follow_up in opened:
            _, extra, share = _mixture(follow_up, _effects_of(family, follow_up))
            variance += extra
            factor *= share
        effects[option.id] = ([mean, math.sqrt(variance) if opened else sd], factor)
    return effects


def _opened_by(family: FamilyTables, check_id: str, option_id: str) -> list[CheckRow]:
    return [
        check
        for check in family.checks
        if check.row.shown_if is not None
        and check.row.shown_if.check == check_id
        and option_id in check.row.shown_if.options
    ]


def _checks(family: FamilyTables) -> list[Json]:
    checks = []
    for check in family.checks:
        effects = _effects_of(family, check)
        row = _plain(check.row)
        row.setdefault("part", None)
        row.setdefault("shown_if", None)
        row["asks_holes"] = check.row.asks == "holes"
        row["options"] = [_option(family, check.row.id, option, effects) for option in check.options]
        checks.append(row)
    return checks


def _option(
    family: FamilyTables, check_id: str, option: rows.Option, effects: dict[str, tuple[list[float], float]]
) -> Json:
    opens = bool(_opened_by(family, check_id, option.id))
    row = _plain(option)
    row["log_effect"], factor = effects[option.id]
    row["log_effect_open"] = row.pop("effect") if opens else None
    row.pop("effect", None)
    row["mean_factor"] = factor if opens else None
    row.setdefault("state", None)
    return row


def _holes(family: FamilyTables) -> Json:
    places = []
    for place in family.places:
        sizes = [{"up_to_mm": None, "task": None, **_plain(size)} for size in place.sizes]
        places.append({**_plain(place.row), "sizes": sizes})
    return {**_plain(family.holes), "places": places}


def _faces(family: FamilyTables) -> list[Json]:
    """The faces of the hole places, in their order."""
    faces = {face.row.id: face for face in family.faces}
    ordered = [faces[place.row.id] for place in family.places]
    return [
        {**_plain(face.row), "features": [_plain(feature) for feature in face.features]} for face in ordered
    ]


def _tasks(book: Rulebook, family: FamilyTables) -> list[Json]:
    """The tasks in the order in which the work is done: by stage, each after all it waits for."""
    stage = {row.id: index for index, row in enumerate(book.plan_stages)}
    by_id = {task.id: task for task in sorted(family.tasks, key=lambda task: stage[task.stage])}
    ordered = in_order(list(by_id), {task.id: task.after for task in family.tasks})
    compiled = []
    for task in (by_id[task_id] for task_id in ordered):
        row = _plain(task)
        row["set_up"] = {"hours": row.pop("hours"), "materials": row.pop("materials")}
        hours, materials = row.pop("each_hours", None), row.pop("each_materials", None)
        row["each"] = {"hours": hours, "materials": materials} if hours is not None else None
        compiled.append(row)
    return compiled


_NO_EFFECT = [0.0, 0.0]


def _effects(book: Rulebook, family: FamilyTables) -> Json:
    """The computed effects, each with the ground it stands on under the name of its check."""
    crystal, own_book, heaters = family.crystal, family.book, family.heaters
    assert book.mismatch is not None
    effects: Json = {
        "in_band_prior": family.coverage.in_band_prior,
        "coverage_in_band": family.coverage.in_band,
        "coverage_out_of_band": family.coverage.out_of_band,
        "crystal_part": crystal.part if crystal else None,
        "book_part": own_book.part if own_book else None,
        "crystal_foreign": crystal.foreign if crystal else _NO_EFFECT,
        "book_foreign": own_book.foreign if own_book else _NO_EFFECT,
        "heaters_misfit": heaters.misfit if heaters else _NO_EFFECT,
        "designation_misfit": family.designation.misfit,
        "finish_misfit": book.mismatch.effect,
        "coverage": _grounds(family.coverage),
        "designation": _grounds(family.designation),
        "finish": _grounds(book.mismatch),
    }
    for name, row in (("crystal", crystal), ("serial", own_book), ("heaters", heaters)):
        if row is not None:
            effects[name] = _grounds(row)
    return effects


def _bands(book: Rulebook) -> dict[str, list[list[float]]]:
    regions = sorted({band.region for band in book.bands})
    return {
        str(region): sorted([b.from_khz, b.to_khz] for b in book.bands if b.region == region)
        for region in regions
    }
