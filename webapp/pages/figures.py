"""Figures as they are written everywhere, before the reader's decimal sign is put in."""

from decimal import ROUND_HALF_UP, Decimal


def rounded_figure(value: Decimal, step: str) -> str:
    """Rounded to a step such as "0.001", halves upward; thin spaces between thousands."""
    written = f"{value.quantize(Decimal(step), ROUND_HALF_UP):,f}"
    return written.rstrip("0").rstrip(".").replace(",", "\u202f")


def plain_figure(value: float) -> str:
    """A figure with at most three decimals."""
    # Browsers round the figure as it is written, not the double behind it, with halves upward.
    return rounded_figure(Decimal(str(value)), "0.001")
