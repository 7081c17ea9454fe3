"""The rules in two languages, for what the rulebook says of them."""

from pathlib import Path

import pytest

from tests.support.other_language import rules_in_two_languages
from webapp.rulebook.books import Books
from webapp.rulebook.tables import load_all


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two shipped families, one of them complete in the other language; not to be changed."""
    return rules_in_two_languages(tmp_path_factory.mktemp("two languages"))


@pytest.fixture(scope="session")
def books(rules: Path) -> Books:
    """The same, read."""
    return load_all(rules)
