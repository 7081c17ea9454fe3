"""What an exchange is measured against: `bare_server DATA PORT`.

One Flask route that parses the same body and does one durable write of it, behind the same delivery.
"""

import json
import sqlite3
import sys
import threading
from pathlib import Path

from flask import Flask, request

from webapp.serving import run
from webapp.site import Site


def main(data: Path, port: int) -> None:
    """Serve until stopped."""
    database = sqlite3.connect(data / "bare.sqlite3", isolation_level=None, check_same_thread=False)
    database.execute("PRAGMA journal_mode = WAL")
    database.execute("PRAGMA synchronous = FULL")
    database.execute("CREATE TABLE IF NOT EXISTS body (content TEXT)")
    one_at_a_time = threading.Lock()
    app = Flask("webapp", static_folder=None)

    def take() -> dict[str, object]:
        asked = json.loads(request.get_data())
        with one_at_a_time:
            database.execute("INSERT INTO body VALUES (?)", [json.dumps(asked)])
        return {"operations": [], "refused": [], "more": False, "cursor": 0, "generation": "bare"}

    app.add_url_rule("/notebook/exchange", "take", take, methods=["POST"])
    app.add_url_rule("/service-worker.js", "started", lambda: "")
    site = Site("none", data, None)
    site.assets.mkdir(parents=True, exist_ok=True)
    site.root.mkdir(exist_ok=True)
    run(app, site, "127.0.0.1", port)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
