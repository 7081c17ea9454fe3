"""A model sheet as a document of overrides by id, and that document laid over its family's pack."""

from typing import Any

from webapp.rulebook.book import Sheet

Json = dict[str, Any]


def sheet_overrides(sheet: Sheet) -> Json:
    """What a model sheet changes, as the document that the twin lays over its family's pack."""
    head = sheet.head.model_dump(exclude_none=True)
    name, about, absent = head.pop("name"), head.pop("about"), head.pop("absent")
    return {
        "name": name,
        "about": about,
        "sheet": head,
        "reference": sheet.reference.model_dump(exclude_none=True) if sheet.reference is not None else {},
        "absent": absent,
        "parts": [part.model_dump(exclude_none=True) for part in sheet.parts],
        "extra": [{"buy": None, **extra.model_dump(exclude_none=True)} for extra in sheet.extra_parts],
    }


def apply_sheet(pack: Json, overrides: Json) -> Json:
    """The pack of a model sheet: its family's pack, changed by id. Its hash stays the family's."""
    sheet, effects = overrides["sheet"], dict(pack["effects"])
    absent = absent_parts(overrides["absent"], sheet.get("book"), effects["book_part"])
    for key in ("crystal_part", "book_part"):
        if effects[key] in absent:
            effects[key] = None
    changed = {part["id"]: part for part in overrides["parts"]}
    parts = [
        _changed(part, changed.get(part["id"], {})) for part in pack["parts"] if part["id"] not in absent
    ]
    checks = _without(pack["checks"], absent)
    tasks = list(pack["tasks"])
    for extra in overrides["extra"]:
        parts.append(_part(extra))
        _put_in_stage(checks, _check(pack, extra))
        if extra["buy"] is not None:
            _put_in_stage(tasks, _task(pack, extra))
    return {
        **pack,
        "name": overrides["name"],
        "about": overrides["about"],
        "sheet": sheet,
        "reference": _changed(pack["reference"], overrides["reference"]),
        "supply_volts": sheet.get("supply_volts", pack["supply_volts"]),
        "effects": effects,
        "parts": parts,
        "checks": checks,
        "tasks": tasks,
    }


def absent_parts(absent: list[str], book: str | None, book_part: str | None) -> set[str]:
    """The parts of its family that a type never had; a type without a calibration book lacks that part."""
    return {*absent, book_part} if book == "none" and book_part is not None else set(absent)


def _put_in_stage(rows: list[Json], row: Json) -> None:
    """Puts a row behind the last of its stage, or behind all."""
    last = max((i for i, other in enumerate(rows) if other["stage"] == row["stage"]), default=-1)
    rows.insert(last + 1 or len(rows), row)


def _changed(row: Json, changes: Json) -> Json:
    """The row with some keys new; then its old source says nothing any more."""
    return {**{key: value for key, value in row.items() if key != "source"}, **changes} if changes else row


def _without(checks: list[Json], absent: set[str]) -> list[Json]:
    """The checks but those on absent parts, and the follow-ups that only they open."""
    gone = {check["id"] for check in checks if check["part"] in absent}
    size = -1
    while size != len(gone):
        size = len(gone)
        gone |= {check["id"] for check in checks if check["shown_if"] and check["shown_if"]["check"] in gone}
    return [check for check in checks if check["id"] not in gone]


def _grounds(extra: Json) -> Json:
    return {key: extra[key] for key in ("basis", "source", "why") if key in extra}


def _part(extra: Json) -> Json:
    keys = ("id", "label", "weight", "salvage", "buy")
    return {
        **{key: extra[key] for key in keys},
        "calibration": False,
        "fits_family": False,
        "find": "takes patience",
        **_grounds(extra),
    }


def _check(pack: Json, extra: Json) -> Json:
    model, words, gone = pack["model"], pack["extra_words"], extra["gone_prior"]
    common = {
        "log_effect_open": None,
        "mean_factor": None,
        "originality": 0.0,
        "cautions": [],
        **_grounds(extra),
    }
    there = {
        "id": "there", "label": words["there"], "prior": 1 - gone, "state": 1.0,
        "log_effect": [0.0, model["extra_spread"]], "fixable": False, "tasks": [], "as_made": True,
    }  # fmt: skip
    missing = {
        "id": "gone", "label": words["gone"], "prior": gone, "state": 0.0,
        "log_effect": [extra["gone_effect"], model["extra_spread"]], "fixable": extra["buy"] is not None,
        "tasks": [_task_id(extra)] if extra["buy"] is not None else [], "as_made": False,
    }  # fmt: skip
    return {
        "id": extra["id"],
        "stage": extra["stage"],
        "label": extra["label"],
        "help": words["help"].format(part=extra["label"]),
        "seconds": model["extra_seconds"],
        "part": extra["id"],
        "shown_if": None,
        "asks_holes": False,
        "options": [{**there, **common}, {**missing, **common}],
        **_grounds(extra),
    }


def _task_id(extra: Json) -> str:
    return f"find-and-fit-{extra['id']}"


def _task(pack: Json, extra: Json) -> Json:
    model = pack["model"]
    return {
        "id": _task_id(extra),
        "label": pack["extra_words"]["find"].format(part=extra["label"]),
        "part": extra["id"],
        "stage": "parts",
        "aims": [aim["id"] for aim in pack["aims"]],
        "after": [],
        "set_up": {
            "hours": [model["fit_hours_low"], model["fit_hours_likely"], model["fit_hours_high"]],
            "materials": extra["buy"],
        },
        "each": None,
        "undo": "can be undone",
        "cautions": [],
        **_grounds(extra),
    }
