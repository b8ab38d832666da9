"""A dose of clove oil as it is measured out, and by hand against the bath it is for."""

from __future__ import annotations

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from showprep.husbandry.figures import setting
from showprep.husbandry.sedation import strongest
from showprep.planning.worksheets.bath_records import BathAsk, BathSheet
from showprep.season.quantities import show_number

SYRINGE = 0.005  # no syringe is read more finely than 1 in 200 (assumption)


def show_dose(sheet: BathSheet) -> str:
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
    return f"{amount} mL"


def limit_mg_per_l(ask: BathAsk) -> float:
    """The strongest bath [mg oil/L] that may be made as things are asked."""
    most = strongest(ask.own)
    return most if ask.vet_agreed else min(most, setting("clove_block", ask.own))


def by_hand(sheet: BathSheet) -> str:
    """The two products that must be the same: what the bath needs, and what is measured out."""
    ask, target = sheet.ask, sheet.target_mg_per_l
    assert ask.litres is not None and target is not None
    need = (
        f"{show_number(ask.litres, 1)} L x {show_number(target, 2)} mg/L = "
        f"{_milligrams(ask.litres * target)}"
    )
    if sheet.buffered is not None:
        grams = sheet.buffered.grams
        return f"{need}, and {show_number(grams, 2)} g x 1000 = {_milligrams(1000 * grams)}"
    assert ask.strength is not None
    amount, strong = show_dose(sheet), ask.strength.oil_mg_per_ml
    given = float(amount.removesuffix(" mL")) * strong
    return f"{need}, and {amount} x {show_number(strong, 1)} mg/mL = {_milligrams(given)}"


def _milligrams(mg: float) -> str:
    return f"{show_number(mg, 0 if mg >= 100 else 1)} mg"
