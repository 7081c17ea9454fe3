"""Which sentences the engine and its twin speak, and the blanks each may use."""

import re
from collections.abc import Mapping
from typing import Any

from webapp.errors import did_you_mean
from webapp.rulebook.layers import Layers

_BLANK = re.compile(r"{([^{}]*)}")

_MONEY = {"worth", "low", "high", "asking", "offer", "way"}

_SALE = {"ask", "low", "mid", "high", "worth", "floor"}

WORDS: dict[str, set[str]] = {
    "verdict-no-price": _MONEY,
    "verdict-look-first": _MONEY,
    "verdict-leave-it": _MONEY,
    "verdict-offer-less": _MONEY,
    "verdict-no-offer": _MONEY,
    "verdict-pay-it": _MONEY,
    "verdict-gift": _MONEY,
    "meanwhile-leave-it": {"asking"},
    "meanwhile-offer-less": {"asking", "offer"},
    "meanwhile-no-offer": {"asking"},
    "meanwhile-pay-it": {"asking"},
    "way-as-is": set(),
    "way-restored": set(),
    "way-parts": set(),
    "coverage-fine": {"overlap", "from", "to", "region"},
    "coverage-misfit": {"from", "to", "region"},
    "coverage-unknown": set(),
    "coverage-no-region": {"from", "to"},
    "crystal-fine": {"crystal", "harmonic", "points"},
    "crystal-misfit": {"crystal", "from", "to"},
    "crystal-unknown": set(),
    "heaters-fine": {"low", "high"},
    "heaters-volts": {"string", "volts", "low", "high"},
    "heaters-amps": {"string", "least", "most"},
    "heaters-unknown": set(),
    "heaters-no-supply": set(),
    "serial-fine": {"serial"},
    "serial-misfit": {"serial", "book"},
    "serial-by-model": set(),
    "serial-unknown": set(),
    "designation-fine": {"designation"},
    "designation-misfit": {"designation", "families"},
    "designation-unread": set(),
    "designation-unknown": set(),
    "finish-fine": {"finish", "service"},
    "finish-misfit": {"finish", "service", "expected"},
    "finish-sheet-fine": {"finish"},
    "finish-sheet-misfit": {"finish", "expected"},
    "finish-unknown": set(),
    "or": set(),
    "look-coverage": set(),
    "look-crystal": set(),
    "look-heaters": set(),
    "look-serial": set(),
    "look-designation": set(),
    "look-finish": set(),
    "own-sheet-why": set(),
    "name-coverage": set(),
    "name-crystal": set(),
    "name-heaters": set(),
    "name-serial": set(),
    "name-designation": set(),
    "name-finish": set(),
    "reason-holes": set(),
    "reason-coverage": set(),
    "reason-crystal_foreign": set(),
    "reason-book_foreign": set(),
    "reason-heaters_misfit": set(),
    "reason-designation_misfit": set(),
    "reason-finish_misfit": set(),
    "reason-open": set(),
    "say-finding": {"check", "answer"},
    "say-holes": {"holes"},
    "say-coverage": set(),
    "say-crystal_foreign": set(),
    "say-book_foreign": set(),
    "say-heaters_misfit": set(),
    "say-designation_misfit": set(),
    "say-finish_misfit": set(),
    "sell-as-is": _SALE,
    "sell-restored": _SALE,
    "sell-parts": _SALE,
    "sell-floor": _SALE,
    "sell-no-floor": set(),
    "reason-reference": set(),
    "reason-scatter": set(),
    "extra-there": set(),
    "extra-gone": set(),
    "extra-help": {"part"},
    "extra-find": {"part"},
    "title-kind": {"family"},
    "title-type": {"type", "family"},
    "heading-what-is-it": set(),
    "heading-there": set(),
    "heading-missing": set(),
    "heading-altered": set(),
    "heading-holes": set(),
    "heading-calibration": set(),
    "heading-condition": set(),
    "heading-with-it": set(),
    "heading-story": set(),
    "heading-not-checked": set(),
    "heading-effort": set(),
    "heading-price": set(),
    "heading-dates": set(),
    "heading-cautions": set(),
    "heading-reasons": set(),
    "heading-own-words": set(),
    "heading-photos": set(),
    "tell-answer": {"check", "answer"},
    "tell-kind": {"family"},
    "tell-type": {"type", "family"},
    "tell-about": {"about"},
    "tell-nameplate": {"text"},
    "tell-as-read": {"text"},
    "tell-year": {"year"},
    "tell-serial": {"number"},
    "tell-book": {"number"},
    "tell-service": {"noted"},
    "tell-finish": {"noted"},
    "tell-coverage": {"from", "to"},
    "tell-coverage-type": {"from", "to"},
    "tell-in-band": {"overlap", "region"},
    "tell-out-of-band": {"region"},
    "tell-crystal": {"crystal"},
    "tell-none-missing": set(),
    "tell-none-altered": set(),
    "tell-find-easy": {"parts"},
    "tell-find-takes-patience": {"parts"},
    "tell-find-hard": {"parts"},
    "tell-find-not-to-be-had": {"parts"},
    "tell-mend": {"finding", "hours", "materials"},
    "tell-lasting": {"findings"},
    "tell-hole-open": {"size", "place"},
    "tell-hole-plugged": {"size", "place"},
    "tell-hole-enlarged": {"size", "place"},
    "tell-holes-open": {"count", "size", "place"},
    "tell-holes-plugged": {"count", "size", "place"},
    "tell-holes-enlarged": {"count", "size", "place"},
    "tell-holes-mend": {"hours", "materials"},
    "tell-holes-partly": {"hours", "materials"},
    "tell-holes-lasting": set(),
    "tell-not-checked": {"stage", "checks"},
    "tell-unseen": {"checks"},
    "tell-all-checked": set(),
    "tell-not-compared": {"names"},
    "tell-effort": {"aim", "least", "most", "low", "high"},
    "tell-effort-open": set(),
    "tell-asked": {"asked"},
    "tell-range": {"low", "high", "mid"},
    "tell-looked": {"first", "last"},
    "tell-looked-day": {"day"},
    "tell-written": {"day"},
    "tell-more-one": set(),
    "tell-more": {"count"},
    "tell-open": {"count", "all"},
    "heading-short": set(),
    "caution-look": {"look"},
    "photo-whole": set(),
    "face-drawn": {"size"},
    "hole-open": set(),
    "hole-plugged": set(),
    "hole-enlarged": set(),
    "hole-spot": {"size", "left_as", "left", "top"},
    "words-apart": set(),
    "how-made": set(),
    "reasons-lead": set(),
}
"""Sentence id → blanks such as {offer} that the sentence may hold."""


def read_words(file: Layers, known: Mapping[str, set[str]]) -> dict[str, str]:
    """The sentences of the table [words]; each must be there and use only blanks that its place can fill."""
    found = file.tables.get("words")
    if not isinstance(found, dict):
        file.fault("", "the table [words] is missing.")
        return {}
    for key in sorted(set(found) - set(known)):
        file.fault("words", f'unknown sentence "{key}". {did_you_mean(key, sorted(known))}')
    for key, blanks in known.items():
        _sentence(file, key, found.get(key), blanks)
    return {key: text for key, text in found.items() if isinstance(text, str)}


def blanks_of(text: str) -> set[str]:
    """The blanks of a text, such as offer for {offer}."""
    return set(_BLANK.findall(text))


def unpaired_brace(text: str) -> bool:
    """Whether a text holds a brace that belongs to no blank."""
    return bool(set(_BLANK.sub("", text)) & set("{}"))


def _sentence(file: Layers, key: str, text: Any, blanks: set[str]) -> None:
    if not isinstance(text, str) or not text:
        file.fault("words", f'the sentence "{key}" is missing.')
        return
    if unpaired_brace(text):
        file.fault("words", f'the sentence "{key}" has a brace without its partner.')
    for blank in sorted(blanks_of(text) - blanks):
        file.fault("words", f'the sentence "{key}" uses the blank {{{blank}}}, which is not filled there.')
