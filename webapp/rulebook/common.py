"""What families share: the common tables that a family uses, and what of them it leaves out."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.errors import did_you_mean
from webapp.rulebook.layers import Layers, Raw
from webapp.rulebook.reading import TableFile, id_of, is_rows


def laid_over(common: Mapping[str, Sequence[TableFile]], own: Sequence[TableFile]) -> Layers:
    """A family's files laid over the common tables it uses, with what it does not use taken out.

    `common` holds the files of each common table by its id, shipped first; `own` the family's, shipped first.
    """
    below = [file for name in _used(common, own) for file in common[name]]
    layers = Layers([*below, *own])
    for file in below:
        for key in ("uses", "without"):
            if key in file.tables:
                file.fault("", f'"{key}" belongs in the file of a family.')
    _leave_out(layers, own)
    _take_only_what_is_used(layers, own, _tasks_anywhere(common))
    return layers


def in_order_of_the_walk(layers: Layers, stages: Sequence[str]) -> None:
    """Puts the checks in the order in which a hand takes them: by stage, each after the one it `follows`."""
    checks = _rows(layers, "check")
    order = {stage: index for index, stage in enumerate(stages)}
    by_id = {row_id: raw for raw in checks if (row_id := id_of(raw))}
    walk, waiting = [], []
    for raw in checks:
        followed = by_id.get(_text(raw.get("follows")))
        if followed is not None and followed.get("stage") == raw.get("stage"):
            waiting.append(raw)
            continue
        walk.append(raw)
        if "follows" in raw:
            where = f'check "{id_of(raw)}"'
            layers.fault(where, f'it follows "{raw["follows"]}", which is no check of its stage.')
    walk.sort(key=lambda raw: order.get(str(raw.get("stage")), len(order)))
    while waiting:
        # From the back, so that two that follow the same check stay in the order of the file.
        ready = [raw for raw in waiting if by_id[raw["follows"]] in walk]
        if not ready:
            circle = ", ".join(str(id_of(raw)) for raw in waiting)
            layers.fault(f'check "{id_of(waiting[0])}"', f"checks follow one another in a circle: {circle}.")
            break
        walk.insert(walk.index(by_id[ready[-1]["follows"]]) + 1, ready[-1])
        waiting.remove(ready[-1])
    if checks:
        layers.tables["check"] = [
            {key: value for key, value in raw.items() if key != "follows"} for raw in [*walk, *waiting]
        ]


def _used(common: Mapping[str, Sequence[TableFile]], own: Sequence[TableFile]) -> list[str]:
    """The common tables that the family's files name, each once."""
    uses: list[str] = []
    for file in own:
        for name in _names(file, "uses", 'common tables, such as ["every-set", "tubed"]'):
            if name not in common:
                file.fault("", f'there is no common table "{name}". {did_you_mean(name, sorted(common))}')
            elif name not in uses:
                uses.append(name)
    return uses


def _leave_out(layers: Layers, own: Sequence[TableFile]) -> None:
    """Drops the common checks named in `without`, and the follow-ups that only they open."""
    for key in ("uses", "without"):
        layers.tables.pop(key, None)
    checks = _rows(layers, "check")
    known = sorted(row_id for raw in checks if (row_id := id_of(raw)))
    gone: set[str] = set()
    for file in own:
        for check_id in _names(file, "without", 'checks that this family does not have, such as ["smell"]'):
            if check_id not in known and layers.readable:
                file.fault("", f'"without" names the check "{check_id}". {did_you_mean(check_id, known)}')
            gone.add(check_id)
    while True:
        orphans = {
            str(id_of(raw))
            for raw in checks
            if isinstance(raw.get("shown_if"), dict)
            and _text(raw["shown_if"].get("check")) in gone
            and not _spoken_of(own, f'check "{id_of(raw)}"')
        }
        if orphans <= gone:
            break
        gone |= orphans
    if gone:
        layers.tables["check"] = [raw for raw in checks if id_of(raw) not in gone]


def _take_only_what_is_used(layers: Layers, own: Sequence[TableFile], anywhere: set[str]) -> None:
    """Drops the common parts that no check covers and the common tasks that nothing calls."""
    checks = _rows(layers, "check")
    sizes = [size for place in _rows(layers, "hole_place") for size in _dicts(place.get("size"))]
    covered = {_text(raw.get("part")) for raw in checks}
    called = {task for raw in checks for task in _named(raw.get("option"), "tasks")}
    called |= {_text(size.get("task")) for size in sizes}
    for name, used in (("part", covered), ("task", called)):
        rows = _rows(layers, name)
        kept = [raw for raw in rows if id_of(raw) in used or _spoken_of(own, f'{name} "{id_of(raw)}"')]
        if rows:
            layers.tables[name] = kept
            layers.left_out[name] = [str(id_of(raw)) for raw in rows if raw not in kept]
    # A common task may wait for another that this family has no use for.
    unused = anywhere - {str(id_of(raw)) for raw in _rows(layers, "task")}
    for raw in _rows(layers, "task"):
        if isinstance(raw.get("after"), list) and layers.says(f'task "{id_of(raw)}"', "after") not in own:
            raw["after"] = [task for task in raw["after"] if _text(task) not in unused]


def _names(file: TableFile, key: str, meaning: str) -> list[str]:
    """The list of names under this key of a file; [] with a fault noted when it is something else."""
    listed = file.tables.get(key, [])
    if isinstance(listed, list) and all(isinstance(name, str) for name in listed):
        return listed
    file.fault("", f'"{key}" should be a list of {meaning}.')
    return []


def _rows(layers: Layers, name: str) -> list[Raw]:
    listed = layers.tables.get(name)
    return listed if isinstance(listed, list) and is_rows(listed) else []


def _spoken_of(files: Sequence[TableFile], where: str) -> bool:
    return any(file.speaks_of(where) for file in files)


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""


def _dicts(value: Any) -> list[Raw]:
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def _named(options: Any, key: str) -> list[str]:
    lists = [option.get(key, []) for option in _dicts(options)]
    return [name for listed in lists if isinstance(listed, list) for name in listed if isinstance(name, str)]


def _tasks_anywhere(common: Mapping[str, Sequence[TableFile]]) -> set[str]:
    files = [file for files in common.values() for file in files]
    return {str(id_of(raw)) for file in files for raw in _dicts(file.tables.get("task"))}
