"""The real delivery with the notebook's routes alone behind it: `notebook_server DATA PORT [ADDRESS]`.

It starts in half the time of the whole app, which reads its rules and builds its site first.
"""

import sys
from pathlib import Path

from flask import Flask

from tests.support.server import LiveServer, free_port
from webapp.notebook.limits import Limits
from webapp.notebook.migrating import opened
from webapp.pages import notebook, reading_habits, refusals
from webapp.serving import run
from webapp.site import Site


def notebook_server(data: Path, *more: str) -> LiveServer:
    """The routes on a data folder, or on the database of an address; not started yet."""
    port = free_port()
    command = [sys.executable, "-m", "tests.support.notebook_server", str(data), str(port), *more]
    return LiveServer(command, port, data)


def main(data: Path, port: int, address: str | None = None) -> None:
    """Serve until stopped."""
    app = Flask("webapp", static_folder=None, template_folder="pages/templates")
    app.config.update(NOTEBOOKS=opened(data, address), NOTEBOOK_LIMITS=Limits())
    app.jinja_env.globals["base"] = "/"
    reading_habits.install(app)
    app.register_blueprint(notebook.pages)
    refusals.install(app)
    site = Site("none", data, None)
    site.assets.mkdir(parents=True, exist_ok=True)
    site.root.mkdir(exist_ok=True)
    run(app, site, "127.0.0.1", port)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), *sys.argv[3:])
