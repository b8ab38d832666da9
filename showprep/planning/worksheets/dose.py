"""A dose of clove oil as a syringe measures it out."""

from __future__ import annotations

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from showprep.husbandry.sedation import strongest
from showprep.planning.worksheets.bath_records import BathAsk, BathSheet

SYRINGE = 0.005  # no syringe is read more finely than 1 in 200 (assumption)


def measured_ml(sheet: BathSheet) -> float:
    """The millilitres as a syringe reads them: two decimals below 10 mL, one above.

    Rounded to the nearest, but down where the nearest would make the bath stronger than the limit
    that holds for it, or more than `SYRINGE` stronger than was asked for.
    """
    made, ask = sheet.dose, sheet.ask
    assert made is not None and ask.strength is not None and ask.litres is not None
    step = Decimal("0.01") if made.millilitres < 10 else Decimal("0.1")
    exact = Decimal(repr(round(made.millilitres, 9)))
    amount = exact.quantize(step, ROUND_HALF_UP)
    strong = float(amount) * ask.strength.oil_mg_per_ml / ask.litres
    if strong > min(limit_mg_per_l(ask) + 1e-9, made.oil_mg_per_l * (1 + SYRINGE)):
        amount = exact.quantize(step, ROUND_FLOOR)
    return float(amount)


def limit_mg_per_l(ask: BathAsk) -> float:
    """The strongest bath [mg oil/L] that may be made as things are asked."""
    most = strongest(ask.figures)
    return most if ask.vet_agreed else min(most, ask.figures["clove_block"])
