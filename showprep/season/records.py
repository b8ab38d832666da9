"""What a keeper writes down, as typed records: the yard, the shows, the fish.

Every record is frozen and refuses keys it does not know. Numbers are metric once read
(centimetres, litres, kilograms, degrees Celsius, hours); a value in the files may carry its own
unit. Dates are the keeper's local days; times are wall-clock times in the show's zone.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import (
    BeforeValidator,
    Field,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.speck_return import RETURN_WEEKS
from showprep.season.record import Count, Merit, NotNegative, Positive, Record
from showprep.season.values.fields import (
    Born,
    Day,
    DayOrTime,
    FishKilograms,
    Hours,
    Id,
    Kilograms,
    LengthCm,
    Litres,
    Millimetres,
    Number,
    Share,
    TemperatureC,
    Term,
    Text,
    TimeZone,
    TotalCm,
    WallTime,
    WarmingC,
    Whole,
    YesNo,
    amount_schema,
    units_of,
)
from showprep.season.values.figure_values import OwnFigures
from showprep.season.values.kinds import kind, kind_words
from showprep.season.values.measures import Amount, is_bare, number
from showprep.season.values.quantities import CM_PER_INCH, Units
from showprep.season.values.scales import LENGTH_CM
from showprep.season.values.unit_keys import key_found
from showprep.season.values.wording import shown, wrong
from showprep.season.values.work_days import WorkDay

KindName = Annotated[
    str,
    PlainValidator(kind),
    WithJsonSchema(
        {"anyOf": [{"enum": list(kind_words())}, {"type": "string"}], "examples": ["shimi"]}
    ),
]
_LENGTH = Amount("bound of a size class", "cm", LENGTH_CM, -math.inf, math.inf, {})


def _unit(value: object, info: ValidationInfo) -> object:
    """The unit as written; cm in a metric season that does not say."""
    if value is not None:
        return value
    units = units_of(info)
    if units in ("us", "imperial"):
        right = f"with units: {units} add unit: in or unit: cm, as the show has it"
        raise wrong("it is not said whether the classes are in inches or in cm", right)
    return "cm"


def _bound(value: object, info: ValidationInfo) -> float:
    """A length in the table's unit; one that carries its own unit is brought to it."""
    found = _LENGTH(value)
    if isinstance(value, str) and not is_bare(value) and info.data.get("unit") == "in":
        return float(Fraction(repr(found)) / CM_PER_INCH)
    return found


SizeUnit = Annotated[Literal["cm", "in"], BeforeValidator(_unit)]
Bound = Annotated[float, PlainValidator(_bound), amount_schema("25", 0, 10_000)]


Did = Literal[
    "touch-up",
    "touch-up day",  # the day was set on which the specks are to come off
    "treatment",
    "move",
    "measure",
    "weigh",
    "stop feeding",
    "feed again",
    "entered",
    "sent",
    "travelled",
    "stayed",
    "result",
    "vet",
    "job",
    "not done",
    "sold",
    "lost",
    "cancelled",
    "postponed",
]
Saw = Literal[
    "closed",
    "not closed",
    "clean",
    "not clean",
    "mark left",
    "speck back",
    "new defect",
    "parasites",
    "no parasites",
    "spawned",
    "off food",
    "feeding well",
    "temperature",
    "khv signs",
    "khv clear",  # a vet's negative test after signs
]


# What a value says by itself, when neither did nor saw is given; the first that fits.
IMPLIED: tuple[tuple[str, Literal["did", "saw"], Did | Saw], ...] = (
    ("to_day", "did", "postponed"),
    ("touch_up_on", "did", "touch-up day"),
    ("result", "did", "result"),
    ("to", "did", "move"),
    ("treatment", "did", "treatment"),
    ("measured_cm", "did", "measure"),
    ("weighed_kg", "did", "weigh"),
    ("read_c", "saw", "temperature"),
    ("job", "did", "job"),
    ("parasite", "saw", "parasites"),
)
PLAIN_NOTE = "note"  # the word of an entry that only tells something


ParasiteFound = Literal["flukes", "white spot", "anchor worm", "fish lice", "other"]


class JournalEntry(Record):
    """One dated line of `journal.yaml`: what was done, or what was seen.

    At most one of `did` and `saw`; without either the keys say it, or it is a plain note. `fish`,
    `show` and `water` say what it is about. With `undone` it takes back the last entry before it
    that says the same.
    """

    on: Day
    did: Did | None = None
    saw: Saw | None = None
    fish: Id | None = None
    show: Id | None = None
    water: Text | None = None
    defect: KindName | None = None  # the kind of the defect it is about
    where: Text | None = None
    size_mm: Millimetres | None = None
    merit_lost: Merit | None = None
    measured_cm: LengthCm | None = None
    weighed_kg: FishKilograms | None = None
    read_c: TemperatureC | None = None
    bath_mg_per_l: Positive | None = None
    bath_litres: Litres | None = None
    minutes_to_balance_lost: Positive | None = None
    minutes_to_recovery: Positive | None = None
    treatment: Text | None = None  # what was used, by the name on the label
    by_vet: YesNo | None = None  # a vet ordered that treatment
    parasite: ParasiteFound | None = None  # what was found, or treated against
    to: Text | None = None  # the water moved to
    ramp_c_per_day: WarmingC | None = None
    to_day: DayOrTime | None = None  # the new judging time of a show that moved
    touch_up_on: Day | None = None  # the day the keeper has set for a touch-up
    job: Text | None = None  # the id of a planned job that was done
    result: Text | None = None
    remarks: Text | None = None
    photo: Text | None = None
    note: Text | None = None
    undone: Day | None = None  # the day on which it was taken back

    @model_validator(mode="before")
    @classmethod
    def _implied(cls, data: Any) -> Any:
        if not isinstance(data, dict) or "did" in data or "saw" in data:
            return data
        for key, which, word in IMPLIED:
            if key_found(data, key) is not None:
                return {**data, which: word}
        return data

    @property
    def word(self) -> str:
        """What was done or seen, in the journal's own word for it."""
        return self.did or self.saw or PLAIN_NOTE


class Away(Record):
    """Days on which nobody is at the pond: both ends are included."""

    from_: Day = Field(alias="from")
    to: Day


class Water(Record):
    """A body of water with its temperature through the year.

    Exactly one of `monthly_c` (twelve monthly means) and `steady_c` is given.
    """

    litres: Litres | None = None
    monthly_c: Annotated[tuple[TemperatureC, ...], Field(min_length=12, max_length=12)] | None = (
        None
    )
    steady_c: TemperatureC | None = None
    readings_c: dict[Day, TemperatureC] = {}
    alkalinity_meq_l: Annotated[Number, Field(ge=0, le=20)] | None = None
    ph: Annotated[Number, Field(ge=4, le=11)] | None = None
    algae: YesNo = False  # an algae-rich pond: fish go on grazing, so the fast is longer


class Isolation(Record):
    """Where fish are kept apart, and how many it holds at once."""

    water: Text
    holds: Annotated[Whole, Field(ge=1)]


class Holding(Record):
    """A vat in which the entries alone can be fasted, so that the pond goes on eating."""

    water: Text


class Tub(Record):
    """The inside of the tub that a bath is made in."""

    length_cm: TotalCm
    width_cm: TotalCm
    depth_cm: TotalCm


class TouchUp(Record):
    """Who may take off a speck, and with what.

    `law_checked` is the keeper's own statement, for the country named as `law_country`.
    """

    by: Literal["keeper", "vet", "nobody"] = "nobody"
    law_checked: YesNo = False
    law_country: Text | None = None
    fish_per_day: Annotated[Whole, Field(ge=1)] = 3
    bath_litres: Litres | None = None
    tub: Tub | None = None
    agent: Text = "clove oil"
    strength_percent: Text | None = None  # typed by husbandry: drops and "one in ten" are refused
    strength_mg_per_ml: Text | None = None
    target_mg_per_l: Positive | None = None

    @property
    def law_stated(self) -> bool:
        """Has the keeper said that the law was checked, and where? Unanswered is no."""
        return self.law_checked and self.law_country is not None


class Carrying(Record):
    """What one journey can take: boxes (one fish in each), kilograms of fish, a transport tank."""

    boxes: Count | None = None
    kilograms: Kilograms | None = None
    tank_litres: Litres | None = None


class JourneyPrice(Record):
    """What a journey costs in points of merit: once, by the hour each way, and by the fish."""

    show: NotNegative = 3
    hour: NotNegative = 1
    fish: NotNegative = 1


class ReturnWeeks(Record):
    """The weeks until a speck that was taken off is back: in 5, 50 and 95 of 100 cases."""

    low: Positive
    usual: Positive
    high: Annotated[Number, Field(gt=0, le=1040)]


def _weeks(value: object) -> object:
    """One number is the usual figure, with half of it and twice as much beside it."""
    if isinstance(value, dict | ReturnWeeks):
        return value
    usual = number(value)
    if not 0 < usual <= 520:
        raise wrong(f"{shown(value)} cannot be right", "write more than 0 and at most 520 weeks")
    return {"low": usual / 2, "usual": usual, "high": usual * 2}


SpeckReturns = Annotated[
    ReturnWeeks, BeforeValidator(_weeks, json_schema_input_type=Number | ReturnWeeks)
]


class Preferences(Record):
    """The keeper's own choices; figures that rest on weak evidence among them."""

    # Chances, 0 to 1: from which a fish is ready, and below which no touch-up is planned.
    sure_enough: Annotated[Number, Field(ge=0, le=1)] = 0.8
    least_chance: Annotated[Number, Field(ge=0, le=1)] = 0.7
    speck_returns_after_weeks: SpeckReturns = ReturnWeeks(
        low=RETURN_WEEKS.low, usual=RETURN_WEEKS.usual, high=RETURN_WEEKS.high
    )
    fees_at_most: NotNegative | None = None
    # Points of merit. None: half of the best mark in the yard.
    worth_showing: Annotated[Number, Field(ge=0, le=100)] | None = None
    same_class_share: Annotated[Number, Field(ge=0, le=1)] = 0.5
    touch_up_price: NotNegative = 2
    session_price: NotNegative = 1
    journey_price: JourneyPrice = JourneyPrice()
    fees_in_points: NotNegative = 0  # what one unit of money is worth
    heal_in_vat: YesNo = False  # may a wound heal in the isolation vat, warmed 1 °C a day?
    touch_up_days_per_fish: Annotated[Whole, Field(ge=1)] = 2
    # None: the figure in the table
    days_between_shows: Annotated[Whole, Field(ge=0, le=1000)] | None = None
    alarm_hour: Annotated[Whole, Field(ge=0, le=23)] = 20
    reading_half_life_days: Positive | None = None
    use_own_pace: YesNo | Literal["when enough"] = "when enough"


class MilestoneFigures(Record):
    """A keeper's own requirement for one milestone, in `unit`.

    None: in degree-days above 8 °C, or in days where the table has plain days.
    """

    low: NotNegative
    usual: NotNegative
    high: NotNegative
    unit: Literal["degree-days", "days", "skin-days"] | None = None
    least_days: Annotated[Whole, Field(ge=0, le=1000)] | None = None


class KindFigures(Record):
    """What a keeper changes about one kind of defect."""

    closed: MilestoneFigures | None = None
    clean: MilestoneFigures | None = None


class SizeTableRecord(Record):
    """A show's own size classes: the upper bound of each, in `unit`.

    A season that is not metric has to say which unit it is.
    """

    unit: SizeUnit = Field(default=None, validate_default=True)
    upper: Annotated[tuple[Annotated[Bound, Field(gt=0)], ...], Field(min_length=1)]
    upper_included: YesNo = True
    lowest: Annotated[Bound, Field(ge=0)] | None = None
    above: YesNo = True  # is there a class above the last bound
    labels: tuple[Text, ...] | None = None
    resolution: Annotated[Bound, Field(gt=0)] | None = None


class RationStepRecord(Record):
    """One step of the keeper's own feeding table: percent of body weight a day."""

    from_c: TemperatureC
    below_c: TemperatureC
    low: NotNegative
    typical: NotNegative
    high: NotNegative
    feeds: Text
    diet: Text


class Keeper(Record):
    """The yard: hands, waters, vats and the keeper's settings (`keeper.yaml`)."""

    time_zone: TimeZone
    units: Units = "metric"
    work_days: tuple[WorkDay, ...] = (5, 6)
    also_work_on: tuple[Day, ...] = ()
    away: tuple[Away, ...] = ()
    waters: Annotated[dict[Text, Water], Field(min_length=1)]
    isolation: Isolation | None = None
    holding: Holding | None = None
    touch_up: TouchUp = Field(default_factory=TouchUp)
    carrying: Carrying = Field(default_factory=Carrying)
    preferences: Preferences = Field(default_factory=Preferences)
    figures: OwnFigures = SHIPPED
    defect_kinds: dict[Term, KindFigures] = {}
    size_tables: dict[Text, SizeTableRecord] = {}
    rations: Annotated[tuple[RationStepRecord, ...], Field(min_length=1)] | None = None


class Window(Record):
    """A span of wall-clock time in the show's zone."""

    from_: WallTime = Field(alias="from")
    to: WallTime


class Limits(Record):
    """Every kind of limit a show can set on one exhibitor."""

    fish: Count | None = None
    fish_at_least: Count | None = None
    total_cm: TotalCm | None = None
    total_cm_at_least: TotalCm | None = None
    points: NotNegative | None = None
    points_by_size: tuple[NotNegative, ...] | None = None
    entries_per_class: Count | None = None
    longest_cm: LengthCm | None = None
    shortest_cm: LengthCm | None = None
    oldest: Annotated[Whole, Field(ge=0, le=100)] | None = None  # years, by the year born
    varieties: tuple[Term, ...] | None = None


class ShowRules(Record):
    """What a show says of itself, to every exhibitor alike."""

    name: Text
    judging: WallTime
    arrive: Window | None = None
    benching: WallTime | None = None
    check_out: WallTime | None = None
    entries_close: Day | None = None
    photos_due: Day | None = None
    vat_booked_by: Day | None = None
    place: Text | None = None  # where it is, as a map finds it
    time_zone: TimeZone | None = None
    vats: Literal["own", "shared", "bag"] = "shared"
    water_c: TemperatureC | None = None
    water_ph: Annotated[Number, Field(ge=4, le=11)] | None = None
    altered_fish: Literal["excluded", "not stated", "tolerated"] = "not stated"
    reserve_on_form: Literal["allowed", "not stated", "not allowed"] = "not stated"
    sizes: Text | SizeTableRecord | None = None
    limits: Limits = Field(default_factory=Limits)
    fee: NotNegative = 0  # paid once, if anything is entered
    fee_per_fish: NotNegative = 0
    fast_days: Annotated[Whole, Field(ge=0, le=30)] | None = None
    declaration_months: Annotated[Whole, Field(ge=0, le=120)] | None = None
    health_certificate: YesNo = False
    cancelled: YesNo = False
    note: Text | None = None


class Show(ShowRules):
    """One show (`shows.yaml`); `judging` and `travel_hours` are needed, the rest helps."""

    travel_hours: Hours
    counts: Annotated[Number, Field(gt=0, le=100)] = 1  # how much its entries count beside others


class ShowCard(ShowRules):
    """A show as its organiser hands it out: one small file, in the organiser's units."""

    units: Units = "metric"


class Defect(Record):
    """One blemish of a fish, as the keeper found it."""

    kind: KindName
    where: Text = ""
    size_mm: Millimetres | None = None
    seen: Day
    merit_lost: Merit = 5
    lost_share: Share | None = None  # frayed-fin: how much of the fin is gone, 0 to 1
    vet: Day | None = None  # the day a vet dealt with it; it then heals by itself
    clean: Day | None = None  # the day nothing could be seen any more


class Move(Record):
    """A planned change of water, with an optional warming or cooling ramp."""

    on: Day
    to: Text
    ramp_c_per_day: WarmingC | None = None


class Fish(Record):
    """One fish (`fish/ID.yaml`, or an entry of `fish.yaml`)."""

    name: Text
    variety: Term
    sex: Literal["female", "male", "unknown"] = "unknown"
    born: Born | None = None
    lives_in: Text
    came: Day | None = None  # the day it joined the yard
    tested: YesNo = False  # it came with a negative KHV test or from a certified source
    merit: Merit
    lengths_cm: dict[Day, LengthCm] = {}
    weights_kg: dict[Day, FishKilograms] = {}
    longest_cm: LengthCm | None = None  # the length this fish is expected to end at
    defects: tuple[Defect, ...] = ()
    moves: tuple[Move, ...] = ()
    touch_ups_on: tuple[Day, ...] = ()  # the days the keeper has set for touch-ups
    spawned: Day | None = None
    must_show: tuple[Id, ...] = ()
    never_show: Literal["all"] | tuple[Id, ...] = ()
    note: Text | None = None


class Season(Record):
    """A whole season folder, read and checked."""

    keeper: Keeper
    shows: dict[Id, Show]
    fish: dict[Id, Fish]
    journal: tuple[JournalEntry, ...] = ()
    taken_back: tuple[JournalEntry, ...] = ()  # entries that stand no longer, `undone` in each
