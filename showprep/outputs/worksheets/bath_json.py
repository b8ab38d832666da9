"""The bath worksheet as JSON, with the keys that docs/worksheets.md names."""

from __future__ import annotations

import json
from math import floor
from typing import Any

from showprep.husbandry.sedation_course import Minutes
from showprep.outputs.words.bath_sheet import refused_text as refused_words
from showprep.outputs.words.bath_sheet import speaker_of
from showprep.outputs.words.speaker import codes_of
from showprep.planning.worksheets.bath_records import BathSheet

UNKNOWN: dict[str, Any] = {
    "millilitres": None,
    "oil_mg_per_l": None,
    "if_undiluted_mg_per_l": None,
    "share_dead": None,
}

FORMAT = 1  # of the JSON


def refused_text(reason: str) -> str:
    """The JSON of a sheet that could not be asked for: something is missing, or cannot be read."""
    return _text({**UNKNOWN, "refused": reason, "cautions": []})


def bath_text(sheet: BathSheet) -> str:
    """The JSON of one sheet; the same bytes for the same sheet."""
    return _text(bath_json(sheet))


def confirmed_text(sheet: BathSheet | None, refused: str | None) -> str:
    """The JSON of the second person's check: the sheet's keys, and whether the word was right."""
    if sheet is None:
        return _text({**UNKNOWN, "refused": refused, "cautions": [], "confirmed": False})
    return _text({**bath_json(sheet), "confirmed": True})


def bath_json(sheet: BathSheet) -> dict[str, Any]:
    """The sheet as plain lists and mappings; amounts are metric, dates ISO 8601."""
    ask = sheet.ask
    speaker = speaker_of(ask)
    return {
        **_dose(sheet),
        "refused": refused_words(sheet) or None,
        "refused_codes": codes_of(sheet.refused),
        "cautions": list(speaker.texts(sheet.cautions)),
        "caution_codes": codes_of(sheet.cautions),
        "gate": ask.gate,
        "vet_agreed": ask.vet_agreed,
        "agent": ask.agent,
        "litres": _rounded(ask.litres),
        "water": ask.water,
        "water_c": _rounded(ask.water_c),
        "day": ask.day.isoformat() if ask.day is not None else None,
        "trial": [
            {"mg_per_l": _rounded(mg), "millilitres": _rounded(ml)} for mg, ml in sheet.trial
        ],
        "minutes_to_balance_lost": _minutes(sheet.down),
        "minutes_to_recovery": _minutes(sheet.up),
        "longest_minutes": _rounded(sheet.longest_minutes),
        "longest_by": sheet.longest_by,
        "check_word": sheet.check_word if not sheet.refused else None,
        "fast_days": sheet.fast_days,
        "unfed_from": sheet.unfed_from.isoformat() if sheet.unfed_from is not None else None,
        "look_back": [day.isoformat() for day in sheet.look_backs],
        "fish": [
            {
                "name": fish.name,
                "length_cm": _rounded(fish.length_cm),
                "kg": _rounded(fish.kg),
                "kg_estimated": fish.kg_estimated,
                "marks": [speaker.say(one) for one in fish.blemishes],
                "heals_in": fish.heals_in,
            }
            for fish in sheet.fish
        ],
        "fish_per_bath": sheet.fish_per_bath,
        "baths": sheet.baths,
    }


def _dose(sheet: BathSheet) -> dict[str, Any]:
    made, buffered = sheet.dose, sheet.buffered
    found = {**UNKNOWN, "share_dead": _share(sheet.share_dead)}
    if made is not None:
        found |= {
            "millilitres": _down(made.millilitres),
            "oil_mg_per_l": _rounded(made.oil_mg_per_l),
            "if_undiluted_mg_per_l": _rounded(made.if_undiluted_mg_per_l),
            "eugenol_mg_per_l": _rounded(made.eugenol_mg_per_l),
            "times_lc50": _rounded(made.times_lc50),
            "if_undiluted_times_lc50": _rounded(made.if_undiluted_times_lc50),
            "if_undiluted_share_dead": _share(made.if_undiluted_share_dead),
        }
    if buffered is not None:
        found |= {
            "ms222_mg_per_l": _rounded(sheet.target_mg_per_l),
            "grams": _rounded(buffered.grams),
            "bicarbonate_grams": _rounded(buffered.bicarbonate_grams),
        }
    return found


def _share(share: float | None) -> float | None:
    """Six decimals: below 0.001 the line is an extrapolation, and no more is known."""
    return None if share is None else round(share, 6)


def _minutes(minutes: Minutes | None) -> dict[str, float | None] | None:
    if minutes is None:
        return None
    return {
        "low": _rounded(minutes.low),
        "typical": _rounded(minutes.typical),
        "high": _rounded(minutes.high),
    }


def _rounded(value: float | None) -> float | None:
    """Four decimals: finer than any syringe, and free of the noise of binary fractions."""
    return None if value is None else round(value, 4)


def _down(millilitres: float) -> float:
    """Four decimals, never more than the dose, so that no rounding passes a limit."""
    return floor(millilitres * 1e4 + 1e-6) / 1e4


def _text(found: dict[str, Any]) -> str:
    return json.dumps({**found, "format": FORMAT}, ensure_ascii=False, indent=2) + "\n"
