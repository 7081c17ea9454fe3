"""What must hold between rows, beyond the form of each; every fault is noted where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from webapp.errors import did_you_mean
from webapp.rulebook.grounds import grounded_rows
from webapp.rulebook.plan import loops
from webapp.rulebook.sheets import absent_parts

if TYPE_CHECKING:
    from webapp.rulebook import rows
    from webapp.rulebook.book import Rulebook, Sheet
    from webapp.rulebook.family import CheckRow, FamilyTables

_NEVER_AS_MADE = {"holes", "serial", "nameplate", "coverage", "book"}
_ASKED_ONCE = ("holes", "serial", "nameplate", "order", "service", "finish")
_ASKED_AT_MOST_ONCE = ("coverage", "crystal", "book", "heaters")
_CONSTANTS = {
    "z90", "overlap_khz", "harmonics", "enlarged_share", "look_share", "spread_share", "evi_floor",
    "rounding_share", "extra_seconds", "extra_spread", "fit_hours_low", "fit_hours_likely", "fit_hours_high",
    "counts_as_there", "lot_look_share", "lot_looks", "damaged_share",
    "heater_volts_share", "heater_amps_share", "huber", "points", "point_share", "far_out",
}  # fmt: skip


def rulebook(book: Rulebook) -> None:
    """Notes, in the files they stand in, everything that does not fit together."""
    given = {row.id for row in book.constants}
    model = book.files["model.toml"]
    for missing in sorted(_CONSTANTS - given):
        model.fault("", f'the constant "{missing}" is missing.')
    for extra in sorted(given - _CONSTANTS):
        model.fault(
            f'constant "{extra}"', f'unknown constant "{extra}". {did_you_mean(extra, sorted(_CONSTANTS))}'
        )
    _sources(book)
    _services(book)
    if "parts" not in {stage.id for stage in book.plan_stages}:
        book.files["walk.toml"].fault("", 'the plan stage "parts" is missing; parts a sheet adds go there.')
    for band in book.bands:
        if band.from_khz >= band.to_khz:
            where = f'band "{band.id}"'
            book.files["bands.toml"].fault(where, "from_khz must lie below to_khz.")
    for family in book.families.values():
        _family(book, family)
    for sheet in book.sheets.values():
        check_sheet(book, sheet)


def _services(book: Rulebook) -> None:
    file = book.files["finishes.toml"]
    known = [finish.id for finish in book.finishes]
    for service in book.services:
        for finish in service.finishes:
            if finish not in known:
                guess = did_you_mean(finish, known)
                file.fault(f'service "{service.id}"', f'there is no finish "{finish}". {guess}')


def check_sheet(book: Rulebook, sheet: Sheet) -> None:
    """Notes what does not hold between a model sheet and its family's tables."""
    fault = sheet.file.fault
    family = book.families.get(sheet.head.family)
    if family is None:
        known = sorted(book.families)
        fault("", f'there is no family "{sheet.head.family}". {did_you_mean(sheet.head.family, known)}')
        return
    parts = [part.id for part in family.parts]
    for name, used in (("absent", sheet.head.absent), ("part", [part.id for part in sheet.parts])):
        for part in used:
            if name == "absent" and part in {c.row.part for c in family.checks if c.row.asks in _ASKED_ONCE}:
                fault("", f'the part "{part}" cannot be absent: every set is asked for it.')
            if part not in parts:
                where = f'part "{part}"' if name == "part" else ""
                fault(where, f'the family has no part "{part}". {did_you_mean(part, parts)}')
    absent = absent_parts(sheet.head.absent, sheet.head.book, family.book.part if family.book else None)
    calibration = {part.id for part in family.parts if part.calibration}
    if calibration and calibration <= absent:
        fault("", "a set keeps at least one calibration part; not all of them can be absent.")
    taken = {check.row.id for check in family.checks} | set(parts) | {task.id for task in family.tasks}
    stages = [stage.id for stage in book.stages]
    for extra in sheet.extra_parts:
        where = f'extra_part "{extra.id}"'
        if extra.id in taken or f"find-and-fit-{extra.id}" in taken:
            fault(where, "this id is taken by a row of the family; choose another.")
        if extra.stage not in stages:
            fault(where, f'there is no stage "{extra.stage}". {did_you_mean(extra.stage, stages)}')
    for key, known_rows in (("finish", book.finishes), ("service", book.services)):
        text = getattr(sheet.head, key)
        known = [row.label for row in known_rows]
        if text is not None and not any(row.goes_by(text) for row in known_rows):
            fault("", f'"{key}" is {text!r}, which finishes.toml does not know. {did_you_mean(text, known)}')


def _sources(book: Rulebook) -> None:
    for file, where, row in grounded_rows(book):
        if row.source is not None and row.source not in book.sources:
            guess = did_you_mean(row.source, sorted(book.sources))
            file.fault(where, f'there is no source "{row.source}" in sources.toml. {guess}')


def _known(family: FamilyTables, where: str, what: str, used: Iterable[str], known: list[str]) -> None:
    left_out = family.file.left_out.get(what, [])
    for word in used:
        if word in left_out:
            family.file.fault(where, f'nothing uses the common {what} "{word}", so this family lacks it.')
        elif word not in known:
            guess = did_you_mean(word, [*known, *left_out])
            family.file.fault(where, f'there is no {what} "{word}". {guess}')


def _family(book: Rulebook, family: FamilyTables) -> None:
    aims = [aim.id for aim in book.aims]
    tasks = [task.id for task in family.tasks]
    cautions = [caution.id for caution in book.cautions]
    stages = [stage.id for stage in book.stages]
    _known(family, "", "aim", [family.default_aim], aims)
    for check in family.checks:
        where = f'check "{check.row.id}"'
        _known(family, where, "stage", [check.row.stage], stages)
        for option in check.options:
            _known(family, f'{where}, option "{option.id}"', "task", option.tasks, tasks)
            _known(family, f'{where}, option "{option.id}"', "caution", option.cautions, cautions)
        _check(family, check, where)
    _parts(family)
    _asks(family)
    _follow_ups(family)
    _tasks(family, [stage.id for stage in book.plan_stages], aims, cautions)
    _brought(family)
    _holes(family, tasks)
    _faces(family)
    _belonging(family, "crystal", family.crystal)
    _belonging(family, "book", family.book)
    _finish_words(book, family)


def _finish_words(book: Rulebook, family: FamilyTables) -> None:
    """The options on finish and service are the rows of finishes.toml, so that the two can be compared."""
    for asked, known in (("finish", book.finishes), ("service", book.services)):
        ids = [row.id for row in known]
        for check in family.checks:
            if check.row.asks == asked:
                options = [option.id for option in check.options]
                for missing in (row_id for row_id in ids if row_id not in options):
                    sentence = f'it has no option "{missing}", a {asked} of finishes.toml.'
                    family.file.fault(f'check "{check.row.id}"', sentence)


def _check(family: FamilyTables, check: CheckRow, where: str) -> None:
    fault = family.file.fault
    if len(check.options) < 2:
        fault(where, "a check needs at least two options.")
    total = sum(option.prior for option in check.options)
    if abs(total - 1) > 1e-9:
        fault(where, f"the priors of its options add up to {total:.6g}; they must add up to 1.")
    if sum(option.as_made for option in check.options) > 1:
        fault(where, "at most one option is as_made.")
    if check.row.asks in _NEVER_AS_MADE and any(option.as_made for option in check.options):
        fault(where, f"a check that asks for {check.row.asks} has no as_made option: it is never assumed.")
    for option in check.options:
        spot = f'{where}, option "{option.id}"'
        if option.fixable and not option.tasks:
            fault(
                spot, "a fixable option calls at least one task; otherwise it would mend itself for nothing."
            )
        if (option.state is None) != (check.row.part is None):
            fault(spot, "every option of a check that covers a part gives a state, and no other option does.")
        for other in check.options:
            if option.state is None or other.state is None:
                continue
            if option.effect[0] < other.effect[0] and option.state > other.state:
                fault(spot, f'its effect is below that of "{other.id}", but its state is above.')


def _parts(family: FamilyTables) -> None:
    parts = [part.id for part in family.parts]
    covered = [check.row.part for check in family.checks if check.row.part is not None]
    for check in family.checks:
        if check.row.part is not None:
            _known(family, f'check "{check.row.id}"', "part", [check.row.part], parts)
    for part in parts:
        if covered.count(part) != 1:
            family.file.fault(
                f'part "{part}"', f"exactly one check must cover it; now {covered.count(part)} do."
            )
    if not any(part.calibration for part in family.parts):
        family.file.fault("", "at least one part must be a calibration part.")


def _asks(family: FamilyTables) -> None:
    for asked in _ASKED_ONCE:
        asking = [check for check in family.checks if check.row.asks == asked]
        if len(asking) != 1:
            family.file.fault("", f'exactly one check asks = "{asked}"; now {len(asking)} do.')
    for asked in _ASKED_AT_MOST_ONCE:
        if sum(check.row.asks == asked for check in family.checks) > 1:
            family.file.fault("", f'at most one check asks = "{asked}".')
    for check in family.checks:
        where = f'check "{check.row.id}"'
        if check.row.asks == "holes":
            if sorted(option.id for option in check.options) != ["none", "some"]:
                family.file.fault(where, 'the check on added holes has the options "none" and "some".')
            if check.row.part is not None or check.row.shown_if is not None:
                family.file.fault(where, "the check on added holes covers no part and is always shown.")


def _follow_ups(family: FamilyTables) -> None:
    """A follow-up refines an answer: it moves no median, and neither it nor its opener is mended.

    The last keeps the restored mean of an open check the exact mixture of its answers, without
    which a look could seem to be worth less than nothing.
    """
    by_id = {check.row.id: check for check in family.checks}
    parents = {c.row.id: c.row.shown_if.check for c in family.checks if c.row.shown_if is not None}
    for loop in loops({child: [parent] for child, parent in parents.items()}):
        family.file.fault(
            f'check "{loop[0]}"', f"follow-ups open one another in a circle: {', '.join(loop)}."
        )
    for check in family.checks:
        shown_if = check.row.shown_if
        if shown_if is None:
            continue
        where = f'check "{check.row.id}"'
        fault = family.file.fault
        mean = sum(option.prior * option.effect[0] for option in check.options)
        if abs(mean) > 0.005:
            fault(where, f"the mean effect of a follow-up must be 0 (to 0.005); it is {mean:.4g}.")
        if check.row.part is not None:
            fault(where, "a follow-up covers no part.")
        if any(option.originality or option.fixable or option.tasks for option in check.options):
            fault(
                where, "the options of a follow-up deduct no originality, are not fixable and call no tasks."
            )
        parent = by_id.get(shown_if.check)
        if parent is None:
            _known(family, where, "check", [shown_if.check], sorted(by_id))
            continue
        _known(family, where, f"option of {shown_if.check}", shown_if.options, [o.id for o in parent.options])
        if parent.row.asks == "holes":
            fault(where, "the check on added holes opens no follow-up.")
        if any(option.fixable for option in parent.options if option.id in shown_if.options):
            fault(where, "an option that opens a follow-up is not fixable.")


def _tasks(family: FamilyTables, stages: list[str], aims: list[str], cautions: list[str]) -> None:
    ids = [task.id for task in family.tasks]
    called = {task for check in family.checks for option in check.options for task in option.tasks}
    called |= {size.task for place in family.places for size in place.sizes if size.task is not None}
    for task in family.tasks:
        where = f'task "{task.id}"'
        _known(family, where, "plan stage", [task.stage], stages)
        _known(family, where, "aim", task.aims, aims)
        _known(family, where, "task", task.after, ids)
        _known(family, where, "caution", task.cautions, cautions)
        if task.id not in called:
            family.file.fault(where, "no option and no hole calls it.")
    for loop in loops({task.id: task.after for task in family.tasks}):
        family.file.fault(f'task "{loop[0]}"', f"tasks wait for one another in a circle: {', '.join(loop)}.")


def _brought(family: FamilyTables) -> None:
    """A part that is to be had has one task that brings it, and nothing else mends its being gone."""
    parts = {part.id: part for part in family.parts}
    bringing = _bringing(family, list(parts))
    for check in family.checks:
        part = parts.get(check.row.part or "")
        for option in check.options:
            if part is None or part.buy is None or not option.fixable or option.state != 0:
                continue
            if bringing.get(part.id) not in option.tasks:
                spot = f'check "{check.row.id}", option "{option.id}"'
                sentence = f'fixable without the part, it calls the task that brings it: part = "{part.id}".'
                family.file.fault(spot, sentence)


def _bringing(family: FamilyTables, parts: list[str]) -> dict[str, str]:
    """Part → the task that finds and fits it."""
    bringing: dict[str, str] = {}
    for task in family.tasks:
        if task.part is None:
            continue
        where = f'task "{task.id}"'
        _known(family, where, "part", [task.part], parts)
        other = bringing.setdefault(task.part, task.id)
        if other != task.id:
            family.file.fault(where, f'it brings the part "{task.part}", which "{other}" brings too.')
    return bringing


def _holes(family: FamilyTables, tasks: list[str]) -> None:
    for place in family.places:
        where = f'hole_place "{place.row.id}"'
        limits = [size.up_to_mm for size in place.sizes]
        inner = [limit for limit in limits[:-1] if limit is not None]
        if limits[-1:] != [None] or len(inner) != len(limits) - 1 or inner != sorted(set(inner)):
            family.file.fault(where, "sizes rise from row to row, and only the last leaves out up_to_mm.")
        severities = [size.severity for size in place.sizes]
        if severities != sorted(severities):
            family.file.fault(where, "a larger hole is never less severe than a smaller one.")
        for number, size in enumerate(place.sizes, start=1):
            _known(family, f"{where}, size {number}", "task", [size.task] if size.task else [], tasks)
            if (size.fixable > 0) != (size.task is not None):
                family.file.fault(
                    f"{where}, size {number}", "a size with a fixable share calls a task, and no other does."
                )


def _faces(family: FamilyTables) -> None:
    """Every hole place has a face, and what a face carries lies on it."""
    places = [place.row.id for place in family.places]
    drawn = [face.row.id for face in family.faces]
    for place in places:
        if place not in drawn:
            sentence = f'it has no face to draw holes on; add a [[face]] row with id = "{place}".'
            family.file.fault(f'hole_place "{place}"', sentence)
    for face in family.faces:
        where = f'face "{face.row.id}"'
        _known(family, where, "hole place", [face.row.id], places)
        for number, feature in enumerate(face.features, start=1):
            width, height = feature.box_mm or [feature.round_mm or 0.0] * 2
            (left, top), row = feature.at_mm, face.row
            inside = width / 2 <= left <= row.width_mm - width / 2
            if not (inside and height / 2 <= top <= row.height_mm - height / 2):
                size = f"{row.width_mm:g} by {row.height_mm:g} mm"
                sentence = f'"{feature.label}" reaches over the edge of its face of {size}.'
                family.file.fault(f"{where}, feature {number}", sentence)


def _belonging(family: FamilyTables, asked: str, row: rows.Crystal | rows.Book | None) -> None:
    """The part that must belong to this very set (crystal or book), and the check that asks for it."""
    asking = [check for check in family.checks if check.row.asks == asked]
    if row is None:
        for check in asking:
            where = f'check "{check.row.id}"'
            family.file.fault(where, f'it asks = "{asked}", but the family has no table [{asked}].')
        return
    _known(family, asked, "part", [row.part], [part.id for part in family.parts])
    for check in family.checks:
        if check.row.part != row.part:
            continue
        if check not in asking:
            family.file.fault(asked, f'the check "{check.row.id}" on this part must say asks = "{asked}".')
        there = [option.effect[0] for option in check.options if option.state == 1]
        less = [option.effect[0] for option in check.options if option.state is not None and option.state < 1]
        if there and less and min(there) + row.foreign[0] < max(less):
            family.file.fault(asked, f"a {asked} of another set must not cost more than having none.")
