"""Where things lie: the files shipped with the program and the folder for what people enter."""

import os
from pathlib import Path

from webapp.errors import BadFile, BadInput

PACKAGE = Path(__file__).resolve().parent


def static_folder() -> Path:
    """Give the folder of styles, scripts and icons; BadFile when the installation lacks it."""
    return _shipped("static")


def rules_folder() -> Path:
    """Give the folder of the rule tables; BadFile when the installation lacks it."""
    return _shipped("rules")


def demo_photos_folder() -> Path:
    """Give the folder of the demo notebook's photos; BadFile when the installation lacks it."""
    return _shipped("demo_photos")


def own_rules_folder(chosen: Path | None = None) -> Path | None:
    """Give the folder of a person's own rules, to be laid over the shipped ones, or None.

    The one given, else UNDERCHASSIS_RULES. BadInput when there is no such folder.
    """
    named = str(chosen) if chosen is not None else os.environ.get("UNDERCHASSIS_RULES")
    if not named:
        return None
    folder = Path(named).expanduser().absolute()
    if not folder.is_dir():
        source = "--rules" if chosen is not None else "The variable UNDERCHASSIS_RULES"
        raise BadInput(f'{source} names "{named}", which is no folder.', "Check the name.")
    return folder


def data_folder() -> Path:
    """Give the folder for what people enter: UNDERCHASSIS_DATA, else the desktop's folder for data."""
    chosen = os.environ.get("UNDERCHASSIS_DATA")
    if chosen:
        return Path(chosen).expanduser().absolute()
    shared = Path(os.environ.get("XDG_DATA_HOME", ""))
    # The convention says that a relative path there is to be ignored.
    if not shared.is_absolute():
        shared = Path.home() / ".local" / "share"
    return shared / "underchassis"


def _shipped(name: str) -> Path:
    # An installed package carries the folder inside; in a checkout it lies beside the package. Inside comes
    # first: beside an installed package lie other people's packages, and one of them may have that name.
    for folder in (PACKAGE / f"_{name}", PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise BadFile(f'This installation is incomplete: its folder "{name}" is missing.', "Install it again.")
