"""The bags worksheet as JSON, with the keys that docs/worksheets.md names."""

from __future__ import annotations

import json
from math import isfinite
from typing import Any

from showprep.husbandry.acclimation import TemperatureStep
from showprep.husbandry.transport import Bag
from showprep.outputs.words.bags_sheet import refused_text as refused_words
from showprep.outputs.words.bags_sheet import speaker_of
from showprep.outputs.words.packing import HEADINGS, amount_text, thing_text
from showprep.outputs.words.speaker import Speaker, codes_of
from showprep.planning.worksheets.bags_records import (
    BagSheet,
    JourneySheet,
    OnTheWay,
    PackingList,
)

FIGURES = (
    "oxygen_used_share",
    "co2_mg_per_l",
    "ph",
    "tan_mg_per_l",
    "nh3_n_mg_per_l",
    "nh3_n_when_opened_mg_per_l",
    "kg_per_l",
    "load_limit_kg_per_l",
    "longest_hours",
    "stop_hours",
)

FORMAT = 1  # of the JSON


def refused_text(reason: str) -> str:
    """The JSON of a bag that could not be asked for: something is missing, or cannot be read."""
    return _text({**_figures(None, Speaker()), "refused": reason, "cautions": []})


def bag_text(sheet: BagSheet) -> str:
    """The JSON of one bag, flat."""
    return _text(bag_json(sheet))


def journey_text(sheet: JourneySheet) -> str:
    """The JSON of one journey: its show, its bags, its packing list."""
    return _text(
        {
            "show": sheet.show,
            "name": sheet.name,
            "departure": sheet.departure.isoformat(),
            "latest_departure": sheet.latest_departure.isoformat(),
            "travel_hours": _rounded(sheet.travel_hours),
            "stops": sheet.stops,
            "road_hours": _rounded(sheet.road_hours),
            "hours_in_bag": _rounded(sheet.in_bag_hours),
            "bags": [
                {"fish": one.ask.fish, "name": one.ask.name, **bag_json(one)} for one in sheet.bags
            ],
            "packing": _packing(sheet.packing, Speaker(units=sheet.units)),
        }
    )


def bag_json(sheet: BagSheet) -> dict[str, Any]:
    """One bag as a plain mapping; amounts are metric."""
    ask = sheet.ask
    speaker = speaker_of(ask)
    told = () if sheet.refused is None else (sheet.refused,)
    return {
        **_figures(sheet.bag, speaker),
        "refused": refused_words(sheet),
        "refused_codes": codes_of(told),
        "cautions": list(speaker.texts(sheet.cautions)),
        "caution_codes": codes_of(sheet.cautions),
        "kg": _rounded(sheet.kg),
        "kg_estimated": sheet.kg_estimated,
        "length_cm": _rounded(ask.length_cm),
        "hours": _rounded(ask.hours),
        "water_c": _rounded(ask.water_c),
        "bag_water_l": _rounded(sheet.water_l),
        "bag_gas_l": _rounded(sheet.gas_l),
        "bag_length_cm": _rounded(sheet.bag_length_cm),
        "box_length_cm": _rounded(sheet.box_length_cm),
        "bags_each": sheet.bags_each,
        "salt_g": _rounded(sheet.salt_g),
        "step": _step(sheet.step),
        "step_words": list(speaker.texts(sheet.step_told)),
        "home": _figures(sheet.home, speaker) if sheet.home is not None else None,
        "hours_of_a_filling": _rounded(sheet.hours),
        "ways": _ways(sheet.ways) if sheet.ways is not None else None,
    }


def _figures(bag: Bag | None, speaker: Speaker) -> dict[str, Any]:
    if bag is None:
        return {**dict.fromkeys(FIGURES), "limited_by": None, "stops": []}
    return {
        **{name: _rounded(getattr(bag, name)) for name in FIGURES},
        "limited_by": bag.limited_by,
        "stops": list(speaker.texts(bag.stops)),
    }


def _step(step: TemperatureStep | None) -> dict[str, Any] | None:
    if step is None:
        return None
    return {
        "change_c": _rounded(step.change_c),
        "how": step.how,
        "minutes": step.minutes,
        "hours": _rounded(step.hours),
        "days": step.days,
        "blocked": step.blocked,
    }


def _ways(ways: OnTheWay) -> dict[str, Any]:
    """What is to be done where one bag is not enough."""
    tank = ways.tank
    return {
        "bag_water_l": _rounded(ways.water_l),
        "good_for_hours": _rounded(ways.good_for_h),
        "limited_by": ways.limited_by,
        "fillings": ways.fillings,
        "change_after_hours": [_rounded(hours) for hours in ways.change_after_h],
        "change_at": [at.isoformat() for at in ways.change_at],
        "tank": None
        if tank is None
        else {
            "litres": _rounded(tank.litres),
            "fillings": tank.fillings,
            "hours_each": _rounded(tank.hours_each),
            "decided_by": tank.decided_by,
            "nh3_n_mg_per_l": _rounded(tank.nh3_n_mg_per_l),
            "oxygen_l_per_min": _rounded(tank.oxygen_l_per_min),
            "minutes_without_air": _rounded(tank.minutes_without_air),
        },
    }


def _packing(packing: PackingList, speaker: Speaker) -> list[dict[str, str]]:
    return [
        {
            "group": HEADINGS[group],
            "amount": amount_text(speaker, item),
            "what": thing_text(speaker, item),
        }
        for group, items in packing.groups
        for item in items
    ]


def _rounded(value: float | None) -> float | None:
    """Six decimals, for free ammonia is small; None for what has no bound."""
    return None if value is None or not isfinite(value) else round(value, 6)


def _text(found: dict[str, Any]) -> str:
    return json.dumps({**found, "format": FORMAT}, ensure_ascii=False, indent=2) + "\n"
