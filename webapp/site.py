"""Builds the static site: every file the phone keeps, named by a version that follows from their content."""

import fcntl
import hashlib
import json
import os
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from whitenoise.compress import Compressor

# Files of the static folder that carry placeholders. They are filled in; the phone never sees them raw.
SHELL, OFFLINE, MANIFEST, WORKER = "shell.html", "offline.html", "manifest.webmanifest", "service-worker.js"
TEMPLATES = (SHELL, OFFLINE, MANIFEST, WORKER)
# Documents of this form hold the texts of a language.
LANGUAGE = re.compile(r"lang/([a-z]+)\.json")


@dataclass(frozen=True)
class Site:
    """A built site: its version, the data folder it was built in, and the release before it, if kept."""

    version: str
    data: Path
    previous: str | None

    @property
    def assets(self) -> Path:
        """Files for /a/<version>/, which never change."""
        return site_folder(self.data) / self.version / "assets"

    @property
    def root(self) -> Path:
        """Files for /, which are new with each version."""
        return site_folder(self.data) / self.version / "root"

    @property
    def previous_assets(self) -> Path | None:
        """Files of the previous release, which tabs still open may ask for."""
        return site_folder(self.data) / self.previous / "assets" if self.previous else None


def site_folder(data: Path) -> Path:
    """Give the folder of a data folder that holds the built releases."""
    return data / "site"


def base_url(version: str) -> str:
    """Give the address under which a version's files never change."""
    return f"/a/{version}/"


def build(static: Path, documents: Mapping[str, bytes], data: Path, *, demo: bool) -> Site:
    """Build the site, or take the one built from the same input before; OSError when it cannot be written."""
    sources = _sources(static)
    version = _version(sources, documents, demo)
    folder = site_folder(data)
    folder.mkdir(parents=True, exist_ok=True)
    with _alone(folder):
        if not (folder / version).is_dir():
            _make(folder / version, sources, documents, version, demo)
        # The time of last use tells which release was the previous one.
        os.utime(folder / version)
        return Site(version, data, _keep_one_more(folder, version))


def _sources(static: Path) -> dict[str, bytes]:
    files = sorted(path for path in static.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {path.relative_to(static).as_posix(): _lean(path) for path in files}


# Comments that fill lines of their own, type notes in front of a bracket, indentation, empty lines.
_WORDS_FOR_READERS = re.compile(
    r"^[ \t]*/\*.*?\*/[ \t]*\n|^[ \t]*//[^\n]*\n|/\*\* @[^*]*\*/ ?|^[ \t]+|^\n", re.DOTALL | re.MULTILINE
)


def _lean(path: Path) -> bytes:
    """A file's content; scripts and styles without what only their readers need, since a visit pays for it.

    Nothing inside a line is touched: minifiers that understood more were seen to change what a script does.
    Raises ValueError for a text over several lines, whose indentation would be lost.
    """
    if path.suffix not in (".js", ".css"):
        return path.read_bytes()
    lean = _WORDS_FOR_READERS.sub("", path.read_text(encoding="utf-8"))
    if any(line.count("`") % 2 for line in lean.splitlines()):
        raise ValueError(f"{path.name} has a template literal over several lines; keep each on one line")
    return lean.encode()


def _version(sources: Mapping[str, bytes], documents: Mapping[str, bytes], demo: bool) -> str:
    # This module is an input too: a change to how the site is built makes a new version.
    parts = {"demo": str(demo).encode(), "builder": Path(__file__).read_bytes()}
    parts |= {f"file {name}": content for name, content in sources.items()}
    parts |= {f"document {name}": content for name, content in documents.items()}
    digest = hashlib.sha256()
    for name, content in sorted(parts.items()):
        digest.update(f"{name}\0{len(content)}\0".encode() + content)
    return digest.hexdigest()[:12]


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    # The lock ends with the process, however it ends, so what a killed build left is told from a live one.
    with (folder / ".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        for leftover in folder.glob(".building-*"):
            shutil.rmtree(leftover)
        yield


def _make(
    target: Path, sources: Mapping[str, bytes], documents: Mapping[str, bytes], version: str, demo: bool
) -> None:
    draft = Path(tempfile.mkdtemp(prefix=".building-", dir=target.parent))
    assets = {name: content for name, content in sources.items() if name not in TEMPLATES} | dict(documents)
    places = {"base": base_url(version), "version": version, "demo": "yes" if demo else "no"}
    places["languages"] = " ".join(found[1] for name in sorted(assets) if (found := LANGUAGE.fullmatch(name)))
    # The worker keeps these under versioned addresses: a shell never comes with another version's scripts.
    assets |= {name: _filled(sources[name], places) for name in (SHELL, OFFLINE, MANIFEST)}
    # As addresses, the names cannot hold a quotation mark that would end the list early.
    places["assets"] = json.dumps([quote(name) for name in sorted(assets) if _is_kept(name)])
    root = {
        "index.html": assets[SHELL],
        MANIFEST: assets[MANIFEST],
        WORKER: _filled(sources[WORKER], places),
    }
    _write(draft / "assets", assets)
    _write(draft / "root", root)
    _compress(draft)
    # Without this, a power cut after the renaming could leave a complete folder of empty files.
    os.sync()
    draft.rename(target)


def _is_kept(name: str) -> bool:
    # The system takes the PNG icons when it installs the app; the app itself shows none of them. Photos of
    # the demo come when nobody waits, and are kept in the notebook like any others.
    return not name.endswith(".png") and not name.startswith("demo/")


def _filled(template: bytes, places: Mapping[str, str]) -> bytes:
    text = template.decode()
    for name, value in places.items():
        text = text.replace("{{" + name + "}}", value)
    return text.encode()


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _compress(folder: Path) -> None:
    compressor = Compressor(quiet=True)
    files = [
        str(path) for path in folder.rglob("*") if path.is_file() and compressor.should_compress(path.name)
    ]
    with ThreadPoolExecutor() as pool:
        list(pool.map(compressor.compress, files))


def _keep_one_more(folder: Path, version: str) -> str | None:
    others = [path for path in folder.iterdir() if path.is_dir() and path.name != version]
    others.sort(key=lambda path: path.stat().st_mtime, reverse=True)
    for path in others[1:]:
        shutil.rmtree(path)
    return others[0].name if others else None
