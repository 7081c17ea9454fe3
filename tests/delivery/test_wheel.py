"""Installed from a wheel, outside the checkout, the app finds its files, templates and rules."""

import ast
import json
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from importlib.metadata import PathDistribution, packages_distributions, requires
from pathlib import Path
from urllib.request import Request, urlopen

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.support.server import LiveServer, free_port

CHECKOUT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    pip = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "-qq",
        "--no-deps",
        "--wheel-dir",
        str(folder),
        str(CHECKOUT),
    ]
    subprocess.run(pip, check=True)
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a folder that holds nothing but the unpacked wheel."""
    folder = tmp_path_factory.mktemp("installed")
    install = [
        "-m",
        "pip",
        "install",
        "-qq",
        "--no-compile",
        "--no-deps",
        "--target",
        str(folder),
        str(wheel),
    ]
    subprocess.run([sys.executable, *install], check=True)
    return folder


@pytest.fixture
def server(installed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[LiveServer]:
    # Away from the checkout, so that nothing is found there by chance.
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PYTHONPATH", str(installed))
    port, data = free_port(), tmp_path / "data"
    command = [str(installed / "bin" / "underchassis"), "serve", "--port", str(port), "--data", str(data)]
    live = LiveServer(command, port, data)
    live.start()
    yield live
    live.stop()


def test_the_wheel_asks_for_every_package_that_its_modules_import(installed: Path) -> None:
    wanted = [
        Requirement(text) for text in PathDistribution(next(installed.glob("*.dist-info"))).requires or []
    ]
    known = set()
    while wanted:
        one = wanted.pop()
        if canonicalize_name(one.name) not in known and (
            one.marker is None or one.marker.evaluate({"extra": ""})
        ):
            known.add(canonicalize_name(one.name))
            wanted += [Requirement(text) for text in requires(one.name) or []]
    providers = packages_distributions()
    own = {"webapp", "_typeshed", *sys.stdlib_module_names}
    imported = {
        name.split(".")[0]
        for path in (installed / "webapp").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        for name in names_in(node)
    }
    assert {"flask", "sqlalchemy", "alembic", "PIL", "zxingcpp"} <= imported
    foreign = imported - own
    missing = {name for name in foreign if not known & {*map(canonicalize_name, providers[name])}}
    assert not missing


def test_the_wheel_carries_static_files_and_rules_inside_the_package(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    expected = [f"webapp/_static/{path.relative_to(CHECKOUT / 'static')}" for path in sources("static")]
    expected += [f"webapp/_rules/{path.relative_to(CHECKOUT / 'rules')}" for path in sources("rules")]
    photos = [path.name for path in (CHECKOUT / "demo_photos").glob("*.jpg")]
    expected += [f"webapp/_demo_photos/{name}" for name in (*photos, "photos.json")]
    migrations = CHECKOUT / "webapp" / "notebook" / "migrations"
    expected += [str(path.relative_to(CHECKOUT)) for path in migrations.rglob("*.py")]
    assert set(expected) <= set(names)
    assert not any(name.startswith("webapp/_demo_photos/") and name.endswith(".py") for name in names)
    assert {name.split("/")[0].split("-")[0] for name in names} == {"webapp", "underchassis"}


def test_the_installed_command_serves_files_pages_and_packs(server: LiveServer) -> None:
    shell = read(server, "/").decode()
    version = shell.split('data-version="')[1].split('"')[0]
    addresses = re.findall(rf'"(/a/{version}/[^"]+)"', shell)
    assert len(addresses) >= 3
    assert all(read(server, address) for address in addresses)
    families = json.loads(read(server, f"/a/{version}/packs/index.json"))["families"]
    assert families
    form = read(server, "/form").decode()
    assert all(family["name"] in form for family in families)
    assert "Was für ein Gerät ist es?" in read(server, "/form?language=de").decode()
    assert len(json.loads(read(server, f"/a/{version}/key-words.json"))) == 2048
    opening = Request(
        server.url + "/notebook", method="PUT", headers={"Authorization": f"Bearer {'0a' * 16}"}
    )
    with urlopen(opening, timeout=10) as answer:
        assert answer.status == 201


def names_in(node: ast.AST) -> list[str]:
    """The modules that an import statement names; none of the project's own relative ones."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    return [node.module] if isinstance(node, ast.ImportFrom) and node.module and not node.level else []


def sources(folder: str) -> list[Path]:
    return [path for path in (CHECKOUT / folder).rglob("*") if path.is_file()]


def read(server: LiveServer, path: str) -> bytes:
    with urlopen(server.url + path, timeout=10) as answer:
        content: bytes = answer.read()
        return content
