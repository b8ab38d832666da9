"""One entry of the journal: what was done, or what was seen."""

from __future__ import annotations

from typing import Literal

from showprep.season.fields import (
    Day,
    DayOrTime,
    FishKilograms,
    Id,
    LengthCm,
    Litres,
    Millimetres,
    TemperatureC,
    Term,
    Text,
    WarmingC,
)
from showprep.season.record import Merit, Positive, Record

Did = Literal[
    "touch-up",
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


class JournalEntry(Record):
    """One dated line of `journal.yaml`: what was done, or what was seen.

    Exactly one of `did` and `saw`. `fish`, `show` and `water` say what it is about.
    """

    on: Day
    did: Did | None = None
    saw: Saw | None = None
    fish: Id | None = None
    show: Id | None = None
    water: Text | None = None
    defect: Term | None = None  # the kind of the defect it is about
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
    treatment: Text | None = None
    to: Text | None = None  # the water moved to
    ramp_c_per_day: WarmingC | None = None
    to_day: DayOrTime | None = None  # the new judging time of a show that moved
    job: Text | None = None  # the id of a planned job that was done
    result: Text | None = None
    remarks: Text | None = None
    photo: Text | None = None
    note: Text | None = None

    @property
    def word(self) -> str:
        """What was done or seen, in the journal's own word for it."""
        return self.did or self.saw or ""
