"""Building the static site: the version follows the content, and a release is there whole or not at all."""

import gzip
import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote

import brotli
import pytest

from webapp.paths import static_folder
from webapp.site import Site, base_url, build

DOCUMENTS = {"packs/index.json": b'{"families": []}', "demo.json": b"[]"}


@pytest.fixture
def static(tmp_path: Path) -> Path:
    folder = tmp_path / "static"
    (folder / "js").mkdir(parents=True)
    (folder / "js" / "main.js").write_text("say('" + "the same words again " * 50 + "');")
    (folder / "js" / "it's odd.js").touch()
    (folder / "shell.html").write_text(
        '<html data-version="{{version}}" data-demo="{{demo}}" href="{{base}}x">'
    )
    (folder / "offline.html").write_text("{{base}}")
    (folder / "manifest.webmanifest").write_text('{"icon": "{{base}}icon"}')
    (folder / "service-worker.js").write_text("'{{version}}' '{{base}}' '{{assets}}'")
    return folder


def releases(data: Path) -> set[str]:
    return {path.name for path in (data / "site").iterdir() if not path.name.startswith(".")}


def use(static: Path, data: Path, content: str, when: int) -> Site:
    """Build with this content as if at that time."""
    (static / "js" / "main.js").write_text(content)
    site = build(static, DOCUMENTS, data, demo=False)
    os.utime(data / "site" / site.version, (when, when))
    return site


def test_the_same_input_gives_the_same_version_and_is_not_built_again(static: Path, tmp_path: Path) -> None:
    first = build(static, DOCUMENTS, tmp_path / "data", demo=False)
    made = (first.root / "index.html").stat().st_ino
    second = build(static, DOCUMENTS, tmp_path / "data", demo=False)
    assert second == first
    assert (second.root / "index.html").stat().st_ino == made
    assert build(static, DOCUMENTS, tmp_path / "other", demo=False).version == first.version


def test_every_input_counts_for_the_version(static: Path, tmp_path: Path) -> None:
    versions = {build(static, DOCUMENTS, tmp_path, demo=demo).version for demo in (False, True)}
    versions.add(build(static, DOCUMENTS | {"demo.json": b"{}"}, tmp_path, demo=False).version)
    versions.add(build(static, {"demo.json": b"[]"}, tmp_path, demo=False).version)
    (static / "shell.html").write_text("changed")
    versions.add(build(static, DOCUMENTS, tmp_path, demo=False).version)
    assert len(versions) == 5


def test_the_release_before_is_kept_and_older_ones_go(static: Path, tmp_path: Path) -> None:
    first, second, third = (use(static, tmp_path, f"version({n})", when=n) for n in (1, 2, 3))
    assert (first.previous, second.previous, third.previous) == (None, first.version, second.version)
    assert releases(tmp_path) == {second.version, third.version}
    assert third.previous_assets == second.assets


def test_going_back_makes_the_newer_release_the_previous_one(static: Path, tmp_path: Path) -> None:
    first, second, back = (use(static, tmp_path, text, n) for n, text in enumerate(["one", "two", "one"]))
    assert (back.version, back.previous) == (first.version, second.version)


def test_the_files_are_filled_in_and_listed(static: Path, tmp_path: Path) -> None:
    site = build(static, DOCUMENTS, tmp_path, demo=True)
    base = base_url(site.version)
    assert base == f"/a/{site.version}/"
    index = (site.root / "index.html").read_text()
    assert index == f'<html data-version="{site.version}" data-demo="yes" href="{base}x">'
    assert (site.assets / "shell.html").read_text() == index
    assert json.loads((site.root / "manifest.webmanifest").read_text()) == {"icon": f"{base}icon"}
    version, kept_base, assets = (site.root / "service-worker.js").read_text().split(" ", 2)
    assert (version, kept_base) == (f"'{site.version}'", f"'{base}'")
    on_disk = {p.relative_to(site.assets).as_posix() for p in site.assets.rglob("*") if p.is_file()}
    listed = json.loads(assets.strip("'"))
    assert {unquote(name) for name in listed} == {n for n in on_disk if not n.endswith((".br", ".gz"))}
    assert set(listed) == {
        "js/it%27s%20odd.js",
        "js/main.js",
        "packs/index.json",
        "demo.json",
        "shell.html",
        "offline.html",
        "manifest.webmanifest",
    }


def test_photos_of_the_demo_lie_there_and_are_left_to_be_fetched_when_nobody_waits(
    static: Path, tmp_path: Path
) -> None:
    photos = {"demo/photos.json": b"[]", "demo/panel.jpg": b"\xff\xd8\xff"}
    site = build(static, DOCUMENTS | photos, tmp_path, demo=True)
    assert {name: (site.assets / name).read_bytes() for name in photos} == photos
    assert "demo/" not in (site.root / "service-worker.js").read_text()
    assert "demo.json" in (site.root / "service-worker.js").read_text()


def test_what_shrinks_lies_there_compressed(static: Path, tmp_path: Path) -> None:
    site = build(static, DOCUMENTS, tmp_path, demo=False)
    plain = (site.assets / "js" / "main.js").read_bytes()
    assert gzip.decompress((site.assets / "js" / "main.js.gz").read_bytes()) == plain
    assert brotli.decompress((site.assets / "js" / "main.js.br").read_bytes()) == plain
    assert not (site.assets / "demo.json.br").exists()


def test_a_killed_build_leaves_no_half_release_and_the_next_one_tidies_up(
    static: Path, tmp_path: Path
) -> None:
    killed = f"""
import os, signal
from pathlib import Path
from urllib.parse import unquote
import webapp.site
webapp.site._compress = lambda folder: os.kill(os.getpid(), signal.SIGKILL)
webapp.site.build(Path({str(static)!r}), {DOCUMENTS!r}, Path({str(tmp_path)!r}), demo=False)
"""
    ended = subprocess.run([sys.executable, "-c", killed], check=False)
    assert ended.returncode == -signal.SIGKILL
    assert releases(tmp_path) == set()
    assert list((tmp_path / "site").glob(".building-*"))
    site = build(static, DOCUMENTS, tmp_path, demo=False)
    assert releases(tmp_path) == {site.version}
    assert not list((tmp_path / "site").glob(".building-*"))


def test_two_programs_starting_at_once_build_one_release(static: Path, tmp_path: Path) -> None:
    script = f"""
from pathlib import Path
from urllib.parse import unquote
from webapp.site import build
print(build(Path({str(static)!r}), {DOCUMENTS!r}, Path({str(tmp_path)!r}), demo=False).version)
"""
    both = [subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE) for _ in range(2)]
    versions = {program.communicate()[0].decode().strip() for program in both}
    assert [program.returncode for program in both] == [0, 0]
    assert releases(tmp_path) == versions
    assert len(versions) == 1


def test_the_shipped_static_folder_builds_with_no_placeholder_left(tmp_path: Path) -> None:
    site = build(static_folder(), DOCUMENTS, tmp_path, demo=False)
    for name in ("index.html", "service-worker.js", "manifest.webmanifest"):
        assert "{{" not in (site.root / name).read_text()
    manifest = json.loads((site.root / "manifest.webmanifest").read_text())
    for icon in manifest["icons"]:
        assert (site.assets / icon["src"].removeprefix(base_url(site.version))).is_file()


def test_scripts_and_styles_are_sent_without_what_only_their_readers_need(
    static: Path, tmp_path: Path
) -> None:
    script = """/**
 * Why.
 * @param {string} one
 */
export function said(one) {
  // An aside.
  const kind = /** @type {string} */ ('image/*');

  return `two  ${one ? ` · ${one}` : ''} // ${kind} */`;
}
"""
    (static / "js" / "main.js").write_text(script)
    (static / "look.css").write_text("/* Why. */\nbody {\n  color: black;\n}\n")
    site = build(static, DOCUMENTS, tmp_path, demo=False)
    assert (site.assets / "js" / "main.js").read_text() == (
        "export function said(one) {\nconst kind = ('image/*');\n"
        "return `two  ${one ? ` · ${one}` : ''} // ${kind} */`;\n}\n"
    )
    assert (site.assets / "look.css").read_text() == "body {\ncolor: black;\n}\n"


def test_a_text_over_several_lines_is_refused_before_it_loses_its_indentation(
    static: Path, tmp_path: Path
) -> None:
    (static / "js" / "main.js").write_text("say(`one\n  two`);\n")
    with pytest.raises(ValueError, match="template literal over several lines"):
        build(static, DOCUMENTS, tmp_path, demo=False)
