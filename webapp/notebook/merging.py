"""What stands in a record, from its operations alone: in any order, with any repetition, the same.

A record's heads are its operations that no other known one replaces; the standing one is the head greatest by
time, device and id. Heads whose values differ are a conflict, which somebody settles by an operation that
replaces them all.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.notebook.operations import canonical

Operation = dict[str, Any]


@dataclass(frozen=True)
class Record:
    """A record's heads, the standing one first."""

    heads: Sequence[Operation]

    @property
    def standing(self) -> Operation:
        """The operation whose value holds."""
        return self.heads[0]

    @property
    def in_conflict(self) -> bool:
        """Whether the heads say different things."""
        return len({canonical(head["value"]) for head in self.heads}) > 1


def merged(operations: Iterable[Operation]) -> dict[tuple[str, str], Record]:
    """Every record by its kind and id."""
    records: dict[tuple[str, str], list[Operation]] = {}
    for operation in operations:
        records.setdefault((operation["kind"], operation["record"]), []).append(operation)
    return {name: Record(heads(known)) for name, known in records.items()}


def heads(known: Sequence[Operation]) -> list[Operation]:
    """The heads among the operations of one record, the standing one first."""
    if len(known) == 1:
        return list(known)
    by_id = {operation["id"]: operation for operation in known}
    replaced = {
        named for operation in by_id.values() for named in operation["after"] if named != operation["id"]
    }
    left = [operation for operation_id, operation in by_id.items() if operation_id not in replaced]
    # Operations that replace one another in a ring come from no phone of ours; then all of them stand.
    return sorted(left or by_id.values(), key=_rank, reverse=True)


def _rank(operation: Operation) -> tuple[int, str, str]:
    return operation["time"], operation["device"], operation["id"]
