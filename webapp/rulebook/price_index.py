"""The index of consumer prices that puts sales of other years into today's money."""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Id, Positive, Reasoned, Text

Month = Annotated[str, Field(pattern=r"^(0[1-9]|1[0-2])$", description="a month from 01 to 12")]


class Series(Reasoned):
    """What the index measures, and the one currency it may be used for."""

    id: Id
    name: Text
    currency: str = Field(pattern=r"^[A-Z]{3}$", description="an ISO 4217 code such as USD")


class Year(Grounded):
    """The months of one year; a month that was never published is left out."""

    id: str = Field(pattern=r"^\d{4}$", description="a year such as 2025")
    months: Annotated[dict[Month, Positive], Field(min_length=1, description="index by month")]


@dataclass(frozen=True)
class PriceIndex:
    """The index as read; `file` reports faults found later."""

    series: Series | None
    years: list[Year]
    file: Layers

    def grounds(self) -> list[tuple[str, Grounded]]:
        """Every row that says what it rests on, with the words that name it."""
        rows: list[tuple[str, Grounded]] = [(f'year "{year.id}"', year) for year in self.years]
        return [*rows, *([("series", self.series)] if self.series is not None else [])]


def read_price_index(file: Layers) -> PriceIndex:
    """The typed table of price_index.toml; what is wrong in it is noted in the file."""
    file.only({"series", "year"})
    return PriceIndex(file.table("series", Series), file.rows("year", Year), file)


def compiled(found: PriceIndex) -> dict[str, Any]:
    """Index by month (YYYY-MM), the series it is, and what each year rests on, as keys of the pack."""
    months = {f"{year.id}-{month}": value for year in found.years for month, value in year.months.items()}
    series = found.series.model_dump(exclude_none=True) if found.series is not None else {}
    years = {year.id: year.model_dump(exclude_none=True, exclude={"months"}) for year in found.years}
    return {"index": dict(sorted(months.items())), "index_series": series, "index_years": years}
