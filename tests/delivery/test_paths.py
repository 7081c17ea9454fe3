"""Where things lie, in a checkout and installed, and where people's data go."""

from pathlib import Path

import pytest

from webapp import paths
from webapp.errors import BadFile, BadInput


def test_a_checkout_uses_its_own_folders() -> None:
    checkout = Path(__file__).resolve().parents[2]
    assert paths.static_folder() == checkout / "static"
    assert paths.rules_folder() == checkout / "rules"


def test_an_installed_package_uses_what_it_carries(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name in ("site/webapp/_static", "site/static"):
        (tmp_path / name).mkdir(parents=True)
    monkeypatch.setattr(paths, "PACKAGE", tmp_path / "site" / "webapp")
    assert paths.static_folder() == tmp_path / "site" / "webapp" / "_static"
    with pytest.raises(BadFile, match='its folder "rules" is missing'):
        paths.rules_folder()


@pytest.mark.parametrize(
    ("chosen", "shared", "expected"),
    [
        ("/media/card", "/home/me/data", "/media/card"),
        ("~/radio", "", "/home/me/radio"),
        (None, "/home/me/data", "/home/me/data/underchassis"),
        (None, None, "/home/me/.local/share/underchassis"),
        (None, "not/absolute", "/home/me/.local/share/underchassis"),
    ],
)
def test_the_data_folder_follows_the_environment(
    monkeypatch: pytest.MonkeyPatch, chosen: str | None, shared: str | None, expected: str
) -> None:
    for name, value in (("UNDERCHASSIS_DATA", chosen), ("XDG_DATA_HOME", shared), ("HOME", "/home/me")):
        if value is None:
            monkeypatch.delenv(name, raising=False)
        else:
            monkeypatch.setenv(name, value)
    assert paths.data_folder() == Path(expected)


@pytest.mark.parametrize(
    ("option", "variable", "expected"),
    [
        ("mine", "theirs", "mine"),
        (None, "theirs", "theirs"),
        (None, "~/theirs", "theirs"),
        (None, "", None),
        (None, None, None),
    ],
)
def test_the_folder_of_own_rules_is_the_one_asked_for_or_none(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    option: str | None,
    variable: str | None,
    expected: str | None,
) -> None:
    for name in ("mine", "theirs"):
        (tmp_path / name).mkdir()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("UNDERCHASSIS_RULES", raising=False)
    if variable is not None:
        monkeypatch.setenv("UNDERCHASSIS_RULES", variable)
    chosen = paths.own_rules_folder(Path(option) if option else None)
    assert chosen == (tmp_path / expected if expected else None)


def test_a_folder_of_own_rules_that_is_not_there_is_refused(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match=r'--rules names ".*nowhere", which is no folder'):
        paths.own_rules_folder(tmp_path / "nowhere")
    monkeypatch.setenv("UNDERCHASSIS_RULES", "nowhere")
    with pytest.raises(BadInput, match='The variable UNDERCHASSIS_RULES names "nowhere", which is no folder'):
        paths.own_rules_folder()
