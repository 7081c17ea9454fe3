"""What a benchmark gives: rows of one table."""

from collections.abc import Iterable
from dataclasses import dataclass

HEAD = ("measure", "target", "this run", "met?")


@dataclass(frozen=True)
class Row:
    """One measure; `met` is None for a figure that has no target and only explains another."""

    measure: str
    target: str
    this_run: str
    met: bool | None = None

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """The row as it is printed."""
        return self.measure, self.target, self.this_run, {True: "yes", False: "NO", None: ""}[self.met]


def at_most(measure: str, limit: float, figure: float, unit: str, beside: str = "") -> Row:
    """A row whose figure is to stay at or below a limit, with a remark beside the figure."""
    remark = f" ({beside})" if beside else ""
    return Row(measure, f"≤ {_said(limit)} {unit}", f"{_said(figure)} {unit}{remark}", figure <= limit)


def at_least(measure: str, limit: float, figure: float, unit: str, beside: str = "") -> Row:
    """A row whose figure is to stay at or above a limit, with a remark beside the figure."""
    remark = f" ({beside})" if beside else ""
    return Row(measure, f"≥ {_said(limit)} {unit}", f"{_said(figure)} {unit}{remark}", figure >= limit)


def note(measure: str, figure: float, unit: str, beside: str = "") -> Row:
    """A row that only tells."""
    return Row(measure, "", f"{_said(figure)} {unit}" + (f" ({beside})" if beside else ""))


def printed(rows: Iterable[Row]) -> str:
    """The rows under their heading, in columns."""
    lines = [HEAD, *(row.cells for row in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(HEAD))]
    texts = [
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in lines
    ]
    return "\n".join([texts[0], "  ".join("-" * width for width in widths), *texts[1:]])


def _said(figure: float) -> str:
    return f"{figure:.0f}" if figure >= 100 else f"{figure:.3g}"
