"""Wires everything: rule tables, packs, static site, pages, server."""

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from webapp.errors import BadInput
from webapp.languages.catalogs import languages, phone_catalog
from webapp.notebook.database import Database
from webapp.notebook.demo import demo_lot, demo_notebook, demo_photos
from webapp.notebook.key_words import word_list
from webapp.notebook.limits import Limits
from webapp.notebook.migrating import opened
from webapp.pages import (
    asked_too_often,
    description,
    form,
    lots,
    notebook,
    photos,
    reading_habits,
    refusals,
    rules,
    shares,
    tags,
)
from webapp.paths import demo_photos_folder, static_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.books import Books
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.delivery import FOLDER, phone_documents
from webapp.rulebook.sheets import sheet_overrides
from webapp.secret import secret_key
from webapp.serving import run
from webapp.site import Site, base_url, build


def create_app(
    book: Rulebook,
    data: Path,
    site: Site,
    notebooks: Database | None = None,
    further: Iterable[Rulebook] = (),
) -> Flask:
    """The pages that the server answers itself; everything else is the static site.

    `further` are the tables in other languages; BOOKS gives those to use. Notebooks are kept in the data
    folder where no database is given. Raises StoreRefused and OSError.
    """
    app = Flask("webapp", static_folder=None)
    app.config.update(
        SECRET_KEY=secret_key(data),
        MAX_CONTENT_LENGTH=1_000_000,
        WTF_CSRF_TIME_LIMIT=None,
        SESSION_COOKIE_SAMESITE="Lax",
        BOOKS=Books(book, further),
        NOTEBOOKS=notebooks or opened(data),
        NOTEBOOK_LIMITS=Limits(),
    )
    app.jinja_env.globals["base"] = base_url(site.version)
    reading_habits.install(app)
    # Photos and lots are read and forgotten: nothing stored, no cookie read that a forged post could misuse.
    forged = CSRFProtect(app)
    forged.exempt(photos.pages)
    forged.exempt(lots.pages)
    forged.exempt(notebook.pages)
    forged.exempt(shares.pages)
    app.register_blueprint(description.pages)
    app.register_blueprint(form.pages)
    app.register_blueprint(lots.pages)
    app.register_blueprint(notebook.pages)
    app.register_blueprint(photos.pages)
    app.register_blueprint(rules.pages)
    app.register_blueprint(shares.pages)
    app.register_blueprint(tags.pages)
    refusals.install(app)
    asked_too_often.install(app)
    return app


def documents(book: Rulebook, *, demo: bool = False, further: Iterable[Rulebook] = ()) -> dict[str, bytes]:
    """What the phone needs beside scripts and styles: packs, sheets, languages, the demo and its photos.

    `further` are the tables in other languages.
    """
    books = Books(book, further)
    files: dict[str, Any] = {}
    for spoken in books.in_every_language():
        files |= _packs(books, spoken)
    files |= {"demo.json": demo_notebook(), "demo_lot.json": demo_lot()}
    files["key-words.json"] = word_list()
    files |= {f"lang/{language}.json": phone_catalog(language) for language in languages()}
    photos = demo_photos(demo_photos_folder()) if demo else {}
    return {name: _json(document) for name, document in files.items()} | photos


def _packs(books: Books, book: Rulebook) -> dict[str, Any]:
    """The packs of the families that are complete in a language, and what there is to choose from in it."""
    code = book.language.code
    folder = FOLDER if book is books.english else f"{FOLDER}/{code}"
    packs = {family: compile_family(book, family) for family in books.complete[code]}
    files: dict[str, Any] = phone_documents(packs, folder) if packs else {}
    kinds = {name: sheet.head.family for name, sheet in sorted(book.sheets.items())}
    sheets = {name: books.book_for(code, family).sheets[name] for name, family in kinds.items()}
    files[f"{folder}/index.json"] = {
        "families": [{"id": row.id, "name": row.name, "about": row.about} for row in book.families.values()],
        "sheets": {name: sheet_overrides(sheet) for name, sheet in sheets.items()},
        "counts": rows_by_basis(book),
        "languages": books.listed(),
    }
    return files


def serve(
    books: Books,
    data: Path,
    host: str,
    port: int,
    demo: bool,
    database: str | None = None,
    proxies: int = 0,
) -> None:
    """Builds what the phone needs and serves until stopped.

    `database` is the address of a PostgreSQL database for the notebooks, `proxies` how many proxies stand
    before the server. Raises PortBusy, BadInput and StoreRefused.
    """
    try:
        data.mkdir(parents=True, exist_ok=True)
        notebooks = opened(data, database)
        book, further = books.english, books.further.values()
        site = build(static_folder(), documents(book, demo=demo, further=further), data, demo=demo)
        app = create_app(book, data, site, notebooks, further)
    except OSError as error:
        raise BadInput(
            f"The data folder {data} cannot be used: {error.strerror}.", "Choose another with --data."
        ) from error
    run(app, site, host, port, proxies)


def _json(document: Any) -> bytes:
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
