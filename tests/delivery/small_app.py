"""The real delivery with a small app behind it: `small_app.py STATIC DATA PORT`."""

import sys
from pathlib import Path

from flask import Flask

from webapp.serving import run
from webapp.site import build

FORM = "<!doctype html><title>Form</title><link rel=icon href=data:,><input name=csrf_token value=once>"


def small_app() -> Flask:
    """Give an app with one page of its own."""
    app = Flask("small", static_folder=None)
    app.add_url_rule("/form", "form", lambda: FORM)
    return app


if __name__ == "__main__":
    static, data, port = sys.argv[1:]
    site = build(Path(static), {"packs/index.json": b"[]"}, Path(data), demo=False)
    run(small_app(), site, "127.0.0.1", int(port))
