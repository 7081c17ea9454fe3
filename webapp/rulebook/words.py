"""Which sentences the engine and its twin speak, and the blanks each may use."""

_MONEY = {"worth", "low", "high", "asking", "offer", "way"}

WORDS: dict[str, set[str]] = {
    "verdict-no-price": _MONEY,
    "verdict-look-first": _MONEY,
    "verdict-leave-it": _MONEY,
    "verdict-offer-less": _MONEY,
    "verdict-no-offer": _MONEY,
    "verdict-pay-it": _MONEY,
    "verdict-gift": _MONEY,
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
}
"""Sentence id → blanks such as {offer} that the sentence may hold."""
