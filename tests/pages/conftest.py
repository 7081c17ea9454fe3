"""The real app, asked by a script."""

import pytest
from flask.testing import FlaskClient

from webapp.app import create_app, documents
from webapp.paths import rules_folder, static_folder
from webapp.rulebook.tables import load
from webapp.site import build


@pytest.fixture(scope="package")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """A script before the real app, which keeps no cookie and has no form token."""
    data = tmp_path_factory.mktemp("data")
    book = load(rules_folder())
    app = create_app(book, data, build(static_folder(), documents(book), data, demo=False))
    return app.test_client(use_cookies=False)
