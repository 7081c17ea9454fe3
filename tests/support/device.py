"""A small model of the phone's side: what it knows, what waits to be sent, and its place in the notebook."""

from typing import Any

from webapp.notebook.merging import Record, merged

Json = dict[str, Any]


class Device:
    """One device. Nothing here reaches a server: requests are made, and answers taken in."""

    def __init__(self, number: int, skew: int) -> None:
        self.id = f"{number:024x}"
        self.known: dict[str, Json] = {}
        self.waiting: dict[str, Json] = {}
        self.cursor = 0
        self.generation: str | None = None
        self.acknowledged: set[str] = set()
        self._skew, self._last, self._written = skew, 0, 0

    def records(self) -> dict[tuple[str, str], Record]:
        """Every record as this device sees it."""
        return merged(self.known.values())

    def write(self, wall: int, kind: str, record: str, value: Any) -> None:
        """Write a value in the place of all that this device knows of the record."""
        seen = self.records().get((kind, record))
        self._last = max(wall + self._skew, self._last + 1)
        self._written += 1
        operation = {
            "id": f"{self.id[12:]}{self._written:012x}",
            "device": self.id,
            "by": f"device {self.id[-1]}",
            "time": self._last,
            "at": "2026-11-26T20:30:00.000Z",
            "kind": kind,
            "record": record,
            "after": [head["id"] for head in seen.heads] if seen else [],
            "value": value,
        }
        self.known[operation["id"]] = self.waiting[operation["id"]] = operation

    def request(self) -> Json:
        """What this device would send now."""
        sent = list(self.waiting.values())[:500]
        return {"generation": self.generation, "since": self.cursor, "operations": sent}

    def take_in(self, request: Json, status: int, answer: Json) -> None:
        """Take in the answer to a request of this device."""
        if status == 409:
            # The server begins again from an earlier state, and so does this device's account of it.
            self.cursor, self.generation, self.waiting = 0, None, dict(self.known)
            return
        assert (status, answer["refused"]) == (200, []), answer
        for operation in request["operations"]:
            self.waiting.pop(operation["id"], None)
            self.acknowledged.add(operation["id"])
        for operation in answer["operations"]:
            self.known.setdefault(operation["id"], operation)
            self._last = max(self._last, operation["time"])
        self.cursor, self.generation = answer["cursor"], answer["generation"]
