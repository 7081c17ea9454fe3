"""Brings the languages up to date with the texts in the code: `python -m webapp.languages.update`.

What is new comes in without a translation, what the code no longer asks for goes. For a checkout only.
"""

import tempfile
from contextlib import chdir
from pathlib import Path

from babel.messages.frontend import CommandLineInterface

from webapp.languages.catalogs import FOLDER, languages

ROOT = FOLDER.parent.parent
# Which files hold texts, and who reads each kind, stands in pyproject.toml.
SOURCES = ("webapp", "static")


def extract(template: Path) -> None:
    """Write all texts that the code asks for to a file, as gettext's template."""
    # The names of the files that the texts stand in begin here.
    with chdir(ROOT):
        _babel(
            "extract", "--mapping", "pyproject.toml", "--keyword", "_n:1,2", "--keyword", "Sentence",
            "--add-location", "file",
            "--sort-by-file", "--no-wrap", "--project", "Underchassis", "--version", "1",
            "--msgid-bugs-address", "the project", "--output", str(template), *SOURCES,
        )  # fmt: skip


def update() -> None:
    """Bring the file of each language up to date."""
    with tempfile.TemporaryDirectory() as folder:
        template = Path(folder) / "messages.pot"
        extract(template)
        for language in languages():
            _babel(
                "update", "--input-file", str(template), "--output-dir", str(FOLDER), "--locale", language,
                "--no-fuzzy-matching", "--ignore-obsolete", "--ignore-pot-creation-date", "--no-wrap",
            )  # fmt: skip


def _babel(*words: str) -> None:
    CommandLineInterface().run(["pybabel", "--quiet", *words])


if __name__ == "__main__":
    update()
