"""How many rows rest on what."""

from typing import get_args

from webapp.rulebook.book import Rulebook
from webapp.rulebook.grounds import grounded_rows
from webapp.rulebook.rows import Basis


def rows_by_basis(book: Rulebook) -> dict[str, int]:
    """Basis → number of rows that rest on it, over all tables.

    A row that families share counts once; what a family, or a person's own folder, lays over a row counts as
    a row of its own only where it says anew what it rests on, and what no table uses does not count.
    """
    counted = {(file.says(where, "basis"), where): row.basis for file, where, row in grounded_rows(book)}
    found = list(counted.values())
    return {basis: found.count(basis) for basis in get_args(Basis)}
