"""Folders of a person's own rules, and what comes of laying them over the shipped ones."""

from pathlib import Path

from tests.support.broken import problems_of
from webapp.paths import rules_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.tables import load

GROUNDS = 'basis = "invented"\nwhy = "Seen at two sales."\n'

NEW_FAMILY = f"""
id = "signal-lamp"
name = "Signal lamp with a box"
about = "A lamp on a box with a key in its lid."
default_aim = "display"
uses = ["every-set", "covers"]
without = ["smell"]

[reference]
median = 40
currency = "USD"
log_sd = 0.3
market_log_sd = 0.2
comparable_log_sd = 0.3
half_life_years = 4
{GROUNDS}
[breaking]
sell_through = 0.5
hours = [1, 2, 3]
{GROUNDS}
[coverage]
in_band_prior = 0.5
in_band = [0, 0]
out_of_band = [0, 0]
{GROUNDS}
[designation]
sets = ["GSQ"]

[[part]]
id = "shutter-scale"
label = "shutter scale"
weight = 3
calibration = true
fits_family = true
salvage = [1, 2, 3]
find = "hard"
{GROUNDS}
[[check]]
id = "shutter-scale"
stage = "front"
follows = "front-panel"
label = "Shutter scale"
help = "A small engraved scale by the shutter."
seconds = 5
part = "shutter-scale"
{GROUNDS}
[[check.option]]
id = "there"
label = "There"
prior = 0.7
state = 1
effect = [0, 0.02]
as_made = true
basis = "invented"

[[check.option]]
id = "gone"
label = "Gone"
prior = 0.3
state = 0
effect = [-0.2, 0.05]
{GROUNDS}
[[task]]
id = "test-output"
label = "Have the lamp tried"
stage = "electrical"
aims = ["bench", "on-air"]
after = ["make-safe"]
hours = [1, 2, 3]
materials = [0, 1, 2]
undo = "can be undone"
{GROUNDS}"""

NEW_SHEET = f"""
id = "sanderling"
family = "signal-lamp"
name = "Sanderling"
about = "The lamp of the Corvane Islands Survey."
absent = ["handbook"]
{GROUNDS}
[[extra_part]]
id = "red-filter"
label = "red filter"
stage = "with-it"
weight = 2
salvage = [1, 2, 3]
buy = [3, 5, 8]
gone_prior = 0.4
gone_effect = -0.08
{GROUNDS}"""


def own_folder(folder: Path, files: dict[str, str]) -> Path:
    """A folder of own rules, named own, with these files."""
    own = folder / "own"
    own.mkdir()
    for name, text in files.items():
        path = own / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return own


def laid(folder: Path, files: dict[str, str]) -> Rulebook:
    """The shipped rules with these own files laid over them."""
    return load(rules_folder(), own_folder(folder, files))


def problems_laying(folder: Path, files: dict[str, str]) -> list[str]:
    """What the loader says of these own files over the shipped rules."""
    return problems_of(rules_folder(), own_folder(folder, files))


def line_of(text: str, row: str) -> int:
    """The line of the row header above the first place where `row` stands."""
    above = text[: text.index(row)].splitlines()
    return max(number for number, line in enumerate(above, start=1) if line.strip().startswith("["))
