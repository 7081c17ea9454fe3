"""Documents that a command writes to a file."""

from pathlib import Path

from webapp.errors import BadFile


def write_document(document: str, path: Path) -> None:
    """Writes a document to a file. Raises BadFile when it cannot be written."""
    try:
        path.write_text(document + "\n", encoding="utf-8")
    except OSError as error:
        raise BadFile(
            f'"{path}" cannot be written: {error.strerror}.', "Choose another with --out."
        ) from error
