"""The form of every row of the rule tables.

A field's description is shown to the person who mistyped it, so it says what is expected.
"""

from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

Basis = Literal["published", "common practice", "from memory", "invented"]
Id = Annotated[
    str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="lower-case words joined by dashes")
]


@dataclass(frozen=True)
class Spoken:
    """Marks a text that language tables translate; one that is not `needed` may also stay as it is."""

    needed: bool = True


_TEXT = Field(min_length=1, max_length=400, description="a short text")
Text = Annotated[str, _TEXT, Spoken()]
Label = Annotated[str, Field(min_length=1, max_length=40, description="at most 40 letters"), Spoken()]
Name = Annotated[str, _TEXT, Spoken(needed=False)]
# Printed somewhere, a notation, or the label of another row: alike in every language.
Kept = Annotated[str, _TEXT]
Share = Annotated[float, Field(ge=0, le=1, allow_inf_nan=False, description="0 to 1")]
Number = Annotated[float, Field(allow_inf_nan=False, description="a number")]
Positive = Annotated[float, Field(gt=0, allow_inf_nan=False, description="a number above 0")]
NotNegative = Annotated[float, Field(ge=0, allow_inf_nan=False, description="0 or more")]


def _rising(values: list[float]) -> list[float]:
    if values != sorted(values):
        raise ValueError("the three numbers must rise: low, likely, high")
    return values


def _no_negative_spread(effect: list[float]) -> list[float]:
    if effect[1] < 0:
        raise ValueError("the standard deviation of an effect is never below 0")
    return effect


def _from_low_to_high(coverage: list[float]) -> list[float]:
    if coverage[0] >= coverage[1]:
        raise ValueError("the lower frequency comes first")
    return coverage


def _not_falling(pair: list[float]) -> list[float]:
    if pair[0] > pair[1]:
        raise ValueError("the lower figure comes first")
    return pair


Triple = Annotated[
    list[NotNegative],
    Field(min_length=3, max_length=3, description="[low, likely, high], none below 0"),
    AfterValidator(_rising),
]
LogEffect = Annotated[
    list[Number],
    Field(min_length=2, max_length=2, description="[mean, standard deviation] of a log effect"),
    AfterValidator(_no_negative_spread),
]
Asks = Literal[
    "holes",
    "coverage",
    "crystal",
    "serial",
    "book",
    "nameplate",
    "order",
    "service",
    "finish",
    "heaters",
    "stamp",
]


class Row(BaseModel):
    """A row with no numbers of its own."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class Grounded(Row):
    """A row with numbers: it says what they rest on."""

    basis: Basis = Field(description="published, common practice, from memory or invented")
    source: Id | None = Field(default=None, description="an id of sources.toml, with basis published")
    why: Text | None = Field(default=None, description="one sentence")

    @model_validator(mode="after")
    def _published_has_a_source(self) -> Self:
        if self.basis == "published" and self.source is None:
            raise ValueError('basis "published" needs a source (an id of sources.toml)')
        return self


class Reasoned(Grounded):
    """A grounded row that must say why."""

    why: Text = Field(description="one sentence")


class Source(Row):
    id: Id
    title: Kept
    where: Kept


class Stage(Row):
    id: Id
    title: Text
    hint: Text


class Aim(Row):
    id: Id
    label: Text
    meaning: Text


class PlanStage(Row):
    id: Id
    label: Text


class Caution(Grounded):
    id: Id
    title: Text
    look: Text = Field(description="what it looks like")
    text: Text = Field(description="what not to do")
    who: Text = Field(description="who decides: local code, trained or licensed person")
    sign: str = Field(pattern=r"^[WM]\d{3}$", description="an ISO 7010 code such as W012")
    standing: bool = Field(description="true: shown before the first check")


class Band(Grounded):
    id: Id
    region: Literal[1, 2, 3] = Field(description="ITU region: 1, 2 or 3")
    name: Name
    from_khz: Positive
    to_khz: Positive


class Constant(Reasoned):
    id: Annotated[str, Field(pattern=r"^[a-z0-9_]+$")]
    value: Number


class Reference(Reasoned):
    median: Positive
    currency: str = Field(pattern=r"^[A-Z]{3}$", description="an ISO 4217 code such as USD")
    log_sd: Positive
    market_log_sd: NotNegative
    comparable_log_sd: Positive
    half_life_years: Positive


class Asked(Reasoned):
    """How far asked prices stand above sold ones."""

    effect: LogEffect


class State(Reasoned):
    id: Id
    label: Text
    offset: Number


class Breaking(Reasoned):
    sell_through: Share
    hours: Triple


class Coverage(Reasoned):
    in_band_prior: Share
    in_band: LogEffect
    out_of_band: LogEffect


class Crystal(Reasoned):
    """The part that calibrates by its frequency, and what one of another set does."""

    part: Id
    foreign: LogEffect


class Book(Reasoned):
    """The part that belongs to one set by its serial number, and what one of another set does."""

    part: Id
    foreign: LogEffect


class Heaters(Reasoned):
    """The supply that the heater strings must suit, and what a string that does not suit does."""

    supply_volts: Annotated[
        list[Positive],
        Field(min_length=2, max_length=2, description="[lowest, highest] supply in volts"),
        AfterValidator(_not_falling),
    ]
    misfit: LogEffect


class Designation(Reasoned):
    """Type designations that name this family, and what a plate of another family does.

    `sets`: the three letters of a set, "?" for any; `units`: the letters of a component.
    """

    sets: list[Annotated[str, Field(pattern=r"^[A-Z?]{3}$", description="three letters such as ART")]] = []
    units: list[Annotated[str, Field(pattern=r"^[A-Z]{1,2}$", description="one or two letters")]] = []
    misfit: LogEffect


class Kind(Row):
    """A kind of something, its label and the other words that people have for it."""

    id: Id
    label: Text
    words: list[Text] = []

    def goes_by(self, name: str | None) -> bool:
        """Whether this is its id, its label or one of its words."""
        return name in (self.id, self.label, *self.words)


class FinishKind(Kind):
    """A finish as people write it; `id` is an option of the check that asks for the finish."""


class Service(Kind, Reasoned):
    """A service, the words people have for it, and the finishes it ordered; weak evidence either way."""

    finishes: list[Id]


class FinishMismatch(Reasoned):
    effect: LogEffect


class Part(Reasoned):
    id: Id
    label: Text
    weight: Positive
    calibration: bool
    fits_family: bool = Field(description="true: fits other model sheets of the family")
    salvage: Triple
    buy: Triple | None = Field(default=None, description="[low, likely, high]; left out: nobody sells it")
    find: Literal["easy", "takes patience", "hard", "not to be had"]


class ShownIf(Row):
    check: Id
    options: list[Id] = Field(min_length=1)


class Option(Grounded):
    id: Id
    label: Label
    prior: float = Field(
        gt=0, le=1, allow_inf_nan=False, description="above 0 to 1; the options of a check add up to 1"
    )
    state: Share | None = None
    effect: LogEffect
    fixable: bool = False
    originality: Share = Field(default=0.0, description="deduction, 0 to 1")
    tasks: list[Id] = []
    cautions: list[Id] = []
    as_made: bool = False
    say: Annotated[str, Field(min_length=1, max_length=140), Spoken()] | None = Field(
        default=None, description="what a buyer may truthfully say of it, at most 140 letters"
    )
    tell: Annotated[str, Field(min_length=1, max_length=200), Spoken()] | None = Field(
        default=None, description="what a seller tells a stranger of it, at most 200 letters"
    )
    aspect: Literal["there", "missing", "altered", "condition"] | None = Field(
        default=None, description="what it is told among; left out, it follows from state and originality"
    )

    @model_validator(mode="after")
    def _an_effect_says_why(self) -> Self:
        if (self.effect[0] != 0 or self.originality != 0) and self.why is None:
            raise ValueError("an option that moves the price or the originality needs a `why`")
        return self


class Check(Reasoned):
    id: Id
    stage: Id
    label: Label
    help: Annotated[
        str, Field(min_length=1, max_length=200, description="where to look, how it looks"), Spoken()
    ]
    seconds: Positive
    part: Id | None = None
    asks: Asks | None = None
    shown_if: ShownIf | None = None


class Task(Reasoned):
    id: Id
    label: Text
    part: Id | None = Field(default=None, description="the part it finds and fits, paid by its materials")
    stage: Id
    aims: list[Id] = Field(min_length=1)
    after: list[Id] = []
    hours: Triple
    materials: Triple
    each_hours: Triple | None = None
    each_materials: Triple | None = None
    undo: Literal["can be undone", "partly", "cannot be undone"]
    cautions: list[Id] = []

    @model_validator(mode="after")
    def _per_item_both_or_neither(self) -> Self:
        if (self.each_hours is None) != (self.each_materials is None):
            raise ValueError("give both each_hours and each_materials, or neither")
        return self


class HoleLaw(Reasoned):
    a: Positive
    b: Positive
    c: NotNegative


class HoleSize(Grounded):
    label: Text
    up_to_mm: Positive | None = None
    severity: NotNegative
    severity_plugged: NotNegative
    fixable: Share
    task: Id | None = None

    @model_validator(mode="after")
    def _plugged_is_no_worse(self) -> Self:
        if self.severity_plugged > self.severity:
            raise ValueError("severity_plugged is above severity; a plugged hole is never worse")
        return self


class HolePlace(Row):
    id: Id
    label: Text


Length = Annotated[
    float, Field(gt=0, le=3000, allow_inf_nan=False, description="millimetres, above 0 to 3000")
]
Pair = Annotated[list[Length], Field(min_length=2, max_length=2, description="two lengths in millimetres")]


class FaceFeature(Row):
    """What a face carries from the works, so that people find their way on its drawing: a circle or a box."""

    label: Annotated[str, Field(min_length=1, max_length=24, description="at most 24 letters"), Spoken()]
    at_mm: Pair = Field(description="[from the left, from the top] of its middle, in mm")
    round_mm: Length | None = Field(default=None, description="the diameter of a circle, in mm")
    box_mm: Pair | None = Field(default=None, description="[width, height] of a box, in mm")

    @model_validator(mode="after")
    def _circle_or_box(self) -> Self:
        if (self.round_mm is None) == (self.box_mm is None):
            raise ValueError("a feature is either round (round_mm) or a box (box_mm)")
        return self


class Face(Reasoned):
    """The face of a hole place as it is drawn, seen from outside; `id` is that of the place."""

    id: Id
    width_mm: Length
    height_mm: Length
    twice: (
        Annotated[list[Text], Field(min_length=2, max_length=2, description="the words for the two of them")]
        | None
    ) = Field(default=None, description="two alike, drawn side by side, the second mirrored")


class HeaterTube(Row):
    """One heater of a series string, or several shunted ones counted together."""

    volts: Positive
    amps: Positive


class SheetReference(Reasoned):
    """What a model sheet changes of its family's reference."""

    median: Positive | None = None
    log_sd: Positive | None = None
    market_log_sd: NotNegative | None = None


class SheetPart(Reasoned):
    """What a model sheet changes of a part; figures left out stay the family's."""

    id: Id
    weight: Positive | None = None
    salvage: Triple | None = None
    buy: Triple | None = None


class ExtraPart(Reasoned):
    """A part that this type has beyond its family, looked at in one check: there or gone."""

    id: Id
    label: Label
    stage: Id
    weight: Positive
    salvage: Triple
    buy: Triple | None = None
    gone_prior: Annotated[float, Field(gt=0, lt=1, description="between 0 and 1: how often it is gone")]
    gone_effect: Annotated[float, Field(le=0, ge=-3, description="a log effect, 0 or below")]


class SheetHead(Reasoned):
    id: Id
    family: Id
    name: Name
    about: Text
    coverage_khz: (
        Annotated[
            list[Positive],
            Field(min_length=2, max_length=2, description="[from, to] in kHz"),
            AfterValidator(_from_low_to_high),
        ]
        | None
    ) = None
    crystal_khz: Positive | None = None
    service: Kept | None = None
    finish: Kept | None = None
    book: Literal["by serial", "by model", "none"] | None = Field(
        default=None, description="how the calibration book belongs: by serial, by model or none"
    )
    supply_volts: (
        Annotated[
            list[Positive],
            Field(min_length=2, max_length=2, description="[lowest, highest] supply in volts"),
            AfterValidator(_not_falling),
        ]
        | None
    ) = None
    heater_strings: list[list[HeaterTube]] = []
    absent: list[Id] = []
