"""What must hold between rows, beyond the form of each; every fault is noted where it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from webapp.errors import did_you_mean
from webapp.rulebook.plan import loops

if TYPE_CHECKING:
    from webapp.rulebook.book import Rulebook
    from webapp.rulebook.family import CheckRow, FamilyTables
    from webapp.rulebook.reading import TableFile

_NEVER_AS_MADE = {"holes", "serial", "nameplate", "coverage"}
_ASKED_ONCE = ("holes", "coverage", "crystal", "serial", "nameplate")
_CONSTANTS = {
    "z90", "overlap_khz", "harmonics", "enlarged_share", "look_share", "spread_share", "evi_floor",
    "rounding_share",
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
    for number, band in enumerate(book.bands, start=1):
        if band.from_khz >= band.to_khz:
            where = f"band {number} ({band.name} of region {band.region})"
            book.files["bands.toml"].fault(where, "from_khz must lie below to_khz.")
    for family in book.families.values():
        _family(book, family)
    for sheet in book.sheets.values():
        if sheet.head.family not in book.families:
            known = sorted(book.families)
            sentence = f'there is no family "{sheet.head.family}". {did_you_mean(sheet.head.family, known)}'
            sheet.file.fault("", sentence)


def _sources(book: Rulebook) -> None:
    cited: list[tuple[TableFile, str, str | None]] = []
    cautions, bands, model = (book.files[name] for name in ("cautions.toml", "bands.toml", "model.toml"))
    cited += [(cautions, f'caution "{row.id}"', row.source) for row in book.cautions]
    cited += [
        (bands, f"band {number} ({row.name} of region {row.region})", row.source)
        for number, row in enumerate(book.bands, start=1)
    ]
    cited += [(model, f'constant "{row.id}"', row.source) for row in book.constants]
    for sheet in book.sheets.values():
        cited.append((sheet.file, "", sheet.head.source))
        if sheet.reference is not None:
            cited.append((sheet.file, "reference", sheet.reference.source))
    for family in book.families.values():
        cited += [(family.file, where, source) for where, source in _cited_in(family)]
    for file, where, source in cited:
        if source is not None and source not in book.sources:
            guess = did_you_mean(source, sorted(book.sources))
            file.fault(where, f'there is no source "{source}" in sources.toml. {guess}')


def _cited_in(family: FamilyTables) -> Iterator[tuple[str, str | None]]:
    for name in ("reference", "breaking", "coverage", "crystal", "holes"):
        yield name, getattr(family, name).source
    for name, rows_of in (("state", family.states), ("part", family.parts), ("task", family.tasks)):
        for row in rows_of:
            yield f'{name} "{row.id}"', row.source
    for check in family.checks:
        where = f'check "{check.row.id}"'
        yield where, check.row.source
        for number, option in enumerate(check.options, start=1):
            yield f"{where}, option {number}", option.source
    for place in family.places:
        for number, size in enumerate(place.sizes, start=1):
            yield f'hole_place "{place.row.id}", size {number}', size.source


def _known(family: FamilyTables, where: str, what: str, used: Iterable[str], known: list[str]) -> None:
    for word in used:
        if word not in known:
            family.file.fault(where, f'there is no {what} "{word}". {did_you_mean(word, known)}')


def _family(book: Rulebook, family: FamilyTables) -> None:
    aims = [aim.id for aim in book.aims]
    tasks = [task.id for task in family.tasks]
    cautions = [caution.id for caution in book.cautions]
    stages = [stage.id for stage in book.stages]
    _known(family, "", "aim", [family.default_aim], aims)
    for check in family.checks:
        where = f'check "{check.row.id}"'
        _known(family, where, "stage", [check.row.stage], stages)
        for number, option in enumerate(check.options, start=1):
            _known(family, f"{where}, option {number}", "task", option.tasks, tasks)
            _known(family, f"{where}, option {number}", "caution", option.cautions, cautions)
        _check(family, check, where)
    _parts(family)
    _asks(family)
    _follow_ups(family)
    _tasks(family, [stage.id for stage in book.plan_stages], aims, cautions)
    _holes(family, tasks)
    _crystal(family)


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
    for number, option in enumerate(check.options, start=1):
        spot = f"{where}, option {number}"
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


def _crystal(family: FamilyTables) -> None:
    part = family.crystal.part
    _known(family, "crystal", "part", [part], [row.id for row in family.parts])
    for check in family.checks:
        if check.row.part != part:
            continue
        there = [option.effect[0] for option in check.options if option.state == 1]
        less = [option.effect[0] for option in check.options if option.state is not None and option.state < 1]
        if there and less and min(there) + family.crystal.foreign[0] < max(less):
            family.file.fault("crystal", "a crystal of another set must not cost more than having none.")
