"""The whole app with other static files than its own: `changed_app.py STATIC DATA PORT`."""

import sys
from pathlib import Path

from webapp.app import create_app, documents
from webapp.paths import rules_folder
from webapp.rulebook.tables import load
from webapp.serving import run
from webapp.site import build

if __name__ == "__main__":
    static, data, port = Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3])
    book = load(rules_folder())
    data.mkdir(parents=True)
    site = build(static, documents(book), data, demo=False)
    run(create_app(book, data, site), site, "127.0.0.1", port)
