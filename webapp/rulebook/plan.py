"""Order among things that wait for one another."""

from collections.abc import Mapping, Sequence
from graphlib import CycleError, TopologicalSorter


def loops(waits: Mapping[str, Sequence[str]]) -> list[list[str]]:
    """The first circle among things that wait for one another, or nothing."""
    try:
        TopologicalSorter({key: list(value) for key, value in waits.items()}).prepare()
    except CycleError as error:
        return [list(dict.fromkeys(error.args[1]))]
    return []


def in_order(ids: Sequence[str], waits: Mapping[str, Sequence[str]]) -> list[str]:
    """The ids so that each follows all it waits for, otherwise in the order given.

    Raises ValueError when they wait in a circle.
    """
    sorter = TopologicalSorter({key: [w for w in waits.get(key, ()) if w in ids] for key in ids})
    sorter.prepare()
    place = {key: index for index, key in enumerate(ids)}
    ready: list[str] = []
    ordered: list[str] = []
    while sorter.is_active():
        ready = sorted([*ready, *sorter.get_ready()], key=place.__getitem__)
        first = ready.pop(0)
        ordered.append(first)
        sorter.done(first)
    return ordered
