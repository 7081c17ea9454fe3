"""A phone that reaches a server over a real line, which may break."""

import http.client
import json
import secrets
from contextlib import closing
from typing import Any
from urllib.parse import urlsplit

Json = dict[str, Any]


class LinePhone:
    """One key, and a new connection for each request; OSError or HTTPException when the line breaks."""

    def __init__(self, url: str, key: str | None = None) -> None:
        self.key = key or secrets.token_hex(16)
        self._host = urlsplit(url).netloc.replace("localhost", "127.0.0.1")

    def ask(self, method: str, path: str, body: object = None, **headers: str) -> tuple[int, Json]:
        """Give status and JSON of the answer."""
        sent = body if isinstance(body, bytes) else json.dumps(body).encode()
        with closing(self._line()) as line:
            line.request(method, f"/notebook{path}", sent, self._headers() | headers)
            with line.getresponse() as answer:
                text = answer.read()
                return answer.status, json.loads(text) if text else {}

    def open(self) -> "LinePhone":
        """Open or make the notebook."""
        status, said = self.ask("PUT", "", {})
        assert status in (200, 201), said
        return self

    def send(self, *operations: Json, since: int = 0, generation: str | None = None) -> tuple[int, Json]:
        """Exchange these operations."""
        body = {"generation": generation, "since": since, "operations": list(operations)}
        return self.ask("POST", "/exchange", body)

    def send_and_hang_up(self, *operations: Json) -> None:
        """Send these operations and go away before the answer can come."""
        body = {"generation": None, "since": 0, "operations": list(operations)}
        with closing(self._line()) as line:
            line.request("POST", "/notebook/exchange", json.dumps(body).encode(), self._headers())

    def listed(self) -> list[Json]:
        """Give every operation of the notebook in the order of the server, page by page."""
        found: list[Json] = []
        said = self.send()[1]
        while True:
            found += said["operations"]
            if not said["more"]:
                return found
            said = self.send(since=said["cursor"], generation=said["generation"])[1]

    def _line(self) -> http.client.HTTPConnection:
        return http.client.HTTPConnection(self._host, timeout=60)

    def _headers(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.key}", "Content-Type": "application/json"}
