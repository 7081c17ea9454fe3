"""The engine stays pure and the rulebook below the pages: the imports of both, read from their files."""

import ast
from pathlib import Path

import pytest

import webapp

ROOT = Path(webapp.__file__).parent
ENGINE = sorted((ROOT / "appraisal").rglob("*.py"))
RULEBOOK = sorted((ROOT / "rulebook").glob("*.py"))
ENGINE_MAY = {
    "math", "re", "reprlib", "bisect", "dataclasses", "collections.abc", "typing", "datetime",
    "itertools", "webapp.errors",
}  # fmt: skip
# The one that calls the solver; it tells how long ago it last reported by a clock that no date comes from.
SOLVER, SOLVER_MAY = "programme.py", {"highspy", "time"}
PHOTOS = ROOT / "photos"
GEOMETRY = [
    PHOTOS / f"{name}.py"
    for name in (
        "grey", "linear", "plane", "circle", "ellipse", "edges", "burr", "wall", "rim", "sides", "coin",
        "reference", "measure",
    )
]  # fmt: skip
PHOTOS_MAY_NOT = ("flask", "webapp.pages", "webapp.notebook", "webapp.appraisal", "webapp.app", "webapp.cli")
RULEBOOK_MAY_NOT = ("flask", "webapp.pages", "webapp.notebook", "webapp.photos", "webapp.app", "webapp.cli")
OPENERS = {"open", "print", "input", "exec", "eval", "__import__", "compile"}
CLOCKS = {"now", "today", "utcnow"}


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} imports relatively"
            names.add(node.module or "")
    return names


def called(path: Path) -> set[str]:
    """The names of what a module calls; patterns may be compiled, since `re.compile` runs no code."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            names.add(node.func.id)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            names.add("" if ast.unparse(node.func) == "re.compile" else node.func.attr)
    return names


def test_both_packages_have_files_to_read() -> None:
    assert len(ENGINE) > 10
    assert len(RULEBOOK) > 5


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.name)
def test_the_engine_imports_only_a_short_list(path: Path) -> None:
    foreign = {name for name in imported(path) if not name.startswith("webapp.appraisal")}
    allowed = ENGINE_MAY | (SOLVER_MAY if path.name == SOLVER else set())
    assert foreign - allowed == set()


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.name)
def test_the_engine_opens_no_file_prints_nothing_and_reads_no_clock(path: Path) -> None:
    assert called(path) & (OPENERS | CLOCKS) == set()


@pytest.mark.parametrize("path", GEOMETRY, ids=lambda path: path.name)
def test_the_geometry_of_photos_imports_nothing_but_itself_and_reads_no_file_and_no_clock(path: Path) -> None:
    allowed = {"math", "functools", "dataclasses", "collections.abc", "typing"}
    allowed |= {f"webapp.photos.{other.stem}" for other in GEOMETRY}
    assert imported(path) - allowed == set()
    assert called(path) & (OPENERS | CLOCKS) == set()


@pytest.mark.parametrize("path", sorted(PHOTOS.glob("*.py")), ids=lambda path: path.name)
def test_photos_know_nothing_of_pages_storage_or_the_engine(path: Path) -> None:
    assert {name for name in imported(path) if name.startswith(PHOTOS_MAY_NOT)} == set()


def test_the_twin_has_the_same_modules_for_the_geometry_of_photos() -> None:
    twin = (ROOT.parent / "static" / "js" / "kernel" / "photos").glob("*.js")
    assert sorted(path.stem for path in twin) == sorted(path.stem for path in GEOMETRY)


@pytest.mark.parametrize("path", RULEBOOK, ids=lambda path: path.name)
def test_the_rulebook_knows_nothing_of_pages_or_storage(path: Path) -> None:
    upward = {name for name in imported(path) if name.startswith(RULEBOOK_MAY_NOT)}
    assert upward == set()


@pytest.mark.parametrize("path", [*ENGINE, *RULEBOOK], ids=lambda path: f"{path.parent.name}-{path.name}")
def test_neither_reaches_into_a_private_name_of_another_module(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    taken = [
        alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names
    ]
    assert [name for name in taken if name.startswith("_") and name != "__version__"] == []


def test_the_twin_has_the_same_modules() -> None:
    """`static/js/kernel/` mirrors the engine; `sheet` alone is there for sheets made on the phone."""
    kernel = ROOT.parent / "static" / "js" / "kernel"
    twin = {path.stem for path in kernel.glob("*.js")}
    engine = {path.stem for path in ENGINE if path.parent.name == "appraisal"} - {"__init__"}
    assert engine - twin == set()
    assert twin - engine <= {"sheet"}
    # A phone reads no lot files and solves no programmes.
    lot = {path.stem for path in ENGINE if path.parent.name == "lot"} - {"__init__", "reading", "solving"}
    assert {path.stem for path in (kernel / "lot").glob("*.js")} == lot - {SOLVER.removesuffix(".py")}
