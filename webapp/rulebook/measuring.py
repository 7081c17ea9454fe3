"""How holes are measured in photos: the figures behind it, and the sentences said about a result."""

from dataclasses import dataclass
from typing import Any

from webapp.errors import did_you_mean
from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Constant, Grounded
from webapp.rulebook.words import read_words

NOTES = (
    "too-oblique", "small-hole", "small-reference", "far-off", "lens-edge", "outline-not-found",
    "rim-in-part",
)  # fmt: skip
REFUSALS = ("no-rim", "no-plane", "no-coin", "rim-too-few", "rim-askew")
SETTINGS = {
    "rays", "ray_sigma_px", "least_rise", "edge_over_noise", "least_radius_px", "edges_a_ray",
    "greatest_radius_mm", "agree_px", "triples", "circles_tried", "tap_within", "window_px", "least_share",
    "directions", "fine_rays", "rim_sigma", "wall_slope", "wall_cosine", "thick_mm", "thick_steps",
    "thick_price", "ring_gain", "ring_width", "ring_widths", "blur_least", "blur_step", "blurs",
    "shift_least", "shift_step", "shifts", "profile_reach", "side_reach_px", "side_reach_share",
    "side_reach_most_px", "label_reach_px", "label_reach_share", "side_hint_px", "label_hint_px",
    "coin_hint_px", "scans_a_side", "side_begin", "edges_a_scan", "least_side_score", "given_px",
    "refined_px", "scatter_share", "card_share",
    "label_share", "coin_share", "coin_thick_mm", "height_usual", "height_share", "lens_share",
    "usual_focal", "focal_spread", "axes_noise", "coin_axis_px", "coin_steps", "found_px", "tap_px",
    "neighbours_alike", "edge_px", "oblique_deg", "small_radius_px", "small_side_px", "far_off",
    "lens_edge", "whole_share",
}  # fmt: skip
"""Every figure that the geometry of photos reads."""


@dataclass(frozen=True)
class Measuring:
    """The table as read; `file` reports faults found later."""

    constants: list[Constant]
    words: dict[str, str]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        return [(f'constant "{row.id}"', row) for row in self.constants]


def read_measuring(file: Layers) -> Measuring:
    """The typed table of measuring.toml; what is wrong in it is noted in the file."""
    file.only({"words", "constant"})
    constants = file.rows("constant", Constant)
    given = {row.id for row in constants}
    for missing in sorted(SETTINGS - given):
        file.fault("", f'the constant "{missing}" is missing.')
    for extra in sorted(given - SETTINGS):
        guess = did_you_mean(extra, sorted(SETTINGS))
        file.fault(f'constant "{extra}"', f'unknown constant "{extra}". {guess}')
    blanks: dict[str, set[str]] = {key: set() for key in (*NOTES, *REFUSALS)}
    return Measuring(constants, read_words(file, blanks), file)


def compiled(found: Measuring) -> dict[str, Any]:
    """The document of the pack: figures by id, sentences by id, and what each figure rests on."""
    return {
        "settings": {row.id: row.value for row in found.constants},
        "words": found.words,
        "rows": {row.id: row.model_dump(exclude_none=True) for row in found.constants},
    }
