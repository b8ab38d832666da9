"""Figures for sedation, the journey and the time apart: rows of the table in `figures`."""

from __future__ import annotations

from math import floor

from showprep.husbandry.figure_record import (
    ASSUMED,
    CHOICE,
    DERIVED,
    PRACTICE,
    PUBLISHED,
    Figure,
)
from showprep.husbandry.mortality import LC50, strength_killing

HAJEK = "Hajek et al. 2006, Acta Ichthyologica et Piscatoria 36:93-97, common carp"
VELISEK = (
    "Velíšek et al. 2005, Effects of clove oil anaesthesia on common carp, Veterinarni Medicina "
    "50:269-275, 10 minutes"
)
GRASS_CARP = (
    "five half-lives in the liver (55.3 h) are 11.5 days: grass carp, 24 h at 10 mg/L, Elimination "
    "kinetics of eugenol in grass carp, BMC Veterinary Research 2017, doi 10.1186/s12917-017-1273-3"
)
DEAD_MOST = 0.01  # of carp, in ten minutes
GLADDEN = "Gladden et al. 2010, American Journal of Veterinary Research 71(8), juvenile koi"
XU = "from the half-lives and the proposed withdrawal of Xu et al. 2023, Frontiers in Vet. Science"
HANDBOOK = "fish-health practice, no published trial"
BLY = "after Bly and Clem's work on cold shock and immunity in channel catfish"
MEMORY = "from memory of veterinary handbooks, not re-read"
PACKERS = (
    "no source gives hours for a koi in a bag: the CITES packers' guideline Ps/2, for fishes that"
    " would damage polythene bags, asks for new oxygen within 36 h (read)"
)
HIGHWAY = "a national highway code: 15 minutes every two hours, from memory"
CLUBS = "national koi societies' guides to transporting koi"
KHV_TIMES = (
    "days from exposure to death at 16, 23 and 28 °C, Yuasa, Ito & Sano 2008, Effect of water "
    "temperature on mortality and virus shedding in carp experimentally infected with koi "
    "herpesvirus, Fish Pathology 43:83-85 (abstract read, authors from memory)"
)
KHV_GROWTH = (
    "no or minimal growth at 30 °C, Gilad et al. 2003, Molecular comparison of isolates of an "
    "emerging fish pathogen, koi herpesvirus, and the effect of water temperature on mortality of "
    "experimentally infected koi, Journal of General Virology 84:2661-2667 (abstract read)"
)
KHV_COLD = (
    "carriers from 11 °C fell ill at 22 °C, Sunarto et al. 2014, Characteristics of cyprinid "
    "herpesvirus 3 in different phases of infection, Virus Research 188:45-53 (abstract read)"
)

# fmt: off
_SEDATION = (
    Figure("eugenol_fraction", 0.6, 0.85, 0.95, "of oil", PUBLISHED,
           "FDA CVM Update, 14 June 2002"),
    Figure("clove_target", 25, 35, 50, "mg/L", PUBLISHED,
           f"30 to 50 is general anaesthesia, {HAJEK}; 35 the best of 20, 35, 75, Xu et al. 2023",
           "lower"),
    Figure("clove_warn", 50, 50, 50, "mg/L", CHOICE,
           f"a round figure below the LC0.1, 51.6, {VELISEK}", "lower"),
    Figure("clove_block", 50, 50, 50, "mg/L", CHOICE,
           f"above it only with a vet: a round figure below the LC0.1, 51.6, {VELISEK}", "lower"),
    Figure("clove_dead_most", DEAD_MOST, DEAD_MOST, DEAD_MOST, "of carp", CHOICE,
           "no bath that would kill more in ten minutes, vet or not, however short it is", "lower"),
    Figure("clove_refuse", 51.6, floor(strength_killing(DEAD_MOST)),
           floor(strength_killing(DEAD_MOST)), "mg/L", CHOICE,
           "where 1 carp in 100 would die (56.4), rounded down; the line through the points of "
           f"{VELISEK}",
           "lower"),
    Figure("clove_lc50", LC50, LC50, LC50, "mg/L", PUBLISHED,
           f"{VELISEK}; a lower one shifts the whole line", "lower"),
    Figure("clove_ct_warn", 300, 400, 400, "mg.min/L", DERIVED,
           "between 30 mg/L x 10 min, borne, and 51.6 x 10, LC0.1; one exposure time only; "
           f"{VELISEK}",
           "lower"),
    Figure("toxic_load_exponent", 0.8, 4.5, 4.5, "", DERIVED,
           f"n of C^n x t: LC50 74.3 for 10 min and 18.1 for 96 h give 4.5, {VELISEK}; 0.8 to 3.5 "
           "for vapours, ten Berge et al. 1986, Journal of Hazardous Materials 13, from memory",
           "higher"),
    Figure("clove_trial_start", 25, 25, 25, "mg/L", PRACTICE, HANDBOOK, "lower"),
    Figure("clove_trial_step", 5, 5, 5, "mg/L", PRACTICE, HANDBOOK, "lower"),
    Figure("induction", 2, 4, 7, "min", PUBLISHED, f"{HAJEK}; {GLADDEN}"),
    Figure("induction_too_fast", 1, 1, 1, "min", PUBLISHED, GLADDEN, "higher"),
    Figure("bath_max", 5, 10, 10, "min", CHOICE,
           f"30 mg/L was borne for ten minutes, {VELISEK}; a limit for every strength is ours",
           "lower"),
    Figure("out_of_water", 20, 30, 60, "s", ASSUMED, MEMORY, "lower"),
    Figure("recovery", 2, 4, 10, "min", PUBLISHED, HAJEK),
    Figure("recovery_alarm", 10, 10, 10, "min", PRACTICE, HANDBOOK, "lower"),
    Figure("recovery_vet", 15, 15, 15, "min", PRACTICE, HANDBOOK, "lower"),
    Figure("bath_difference", 1, 1, 2, "°C", PRACTICE, "same water as the fish came from", "lower"),
    Figure("bath_oxygen", 6, 7, 7, "mg/L", ASSUMED, MEMORY, "higher"),
    Figure("bath_litres_per_kg", 10, 20, 20, "L/kg", ASSUMED, "no published figure", "higher"),
    Figure("bath_litres_per_kg_least", 10, 10, 10, "L/kg", ASSUMED, "no published figure",
           "higher"),
    Figure("bath_litres_most", 300, 300, 300, "L", CHOICE,
           "more is a vat, not a tub, unless the tub's own size is given", "lower"),
    Figure("bath_litres_tub", 1000, 1000, 1000, "L", CHOICE, "no more even in a tub of known size",
           "lower"),
    Figure("bath_litres_no_fish", 100, 100, 100, "L", CHOICE,
           "asked about when no fish is named: a tenth of it holds a fish of 1 kg", "lower"),
    Figure("bath_fish", 1, 3, 3, "fish", ASSUMED, "fresh bath after so many fish", "lower"),
    Figure("bath_minutes", 30, 60, 60, "min", ASSUMED, "fresh bath after so long", "lower"),
    Figure("sedation_spacing", 12, 12, 14, "d", DERIVED, GRASS_CARP, "higher"),
    Figure("sedation_spacing_cold", 12, 14, 14, "d", DERIVED,
           f"below 15 °C all goes slower, so two days more; {GRASS_CARP}", "higher"),
    Figure("sedate_to_show_warn", 14, 14, 14, "d", DERIVED, XU, "higher"),
    Figure("sedate_to_show_gap", 5, 7, 14, "d", DERIVED, XU, "higher"),
    Figure("block_after_move", 7, 14, 30, "d", PRACTICE, HANDBOOK, "higher"),
    Figure("warn_after_move", 14, 30, 30, "d", PRACTICE, "quarantine of a month", "higher"),
    Figure("block_after_spawn", 7, 14, 30, "d", ASSUMED, "no published figure", "higher"),
    Figure("cold_drop", 8, 8, 8, "°C", DERIVED, BLY, "lower"),
    Figure("cold_drop_days", 35, 35, 35, "d", DERIVED, BLY, "higher"),
    Figure("sed_cold_warn", 15, 15, 15, "°C", ASSUMED,
           "clove oil mixes poorly below 15 °C, from memory of Woody et al. 2002, not read again",
           "higher"),
    Figure("sed_cold_block", 10, 10, 10, "°C", PRACTICE, HANDBOOK, "higher"),
    Figure("sed_hot_warn", 26, 26, 26, "°C", DERIVED, "oxygen, and Oyugi et al. 2012", "lower"),
    Figure("sed_hot_block", 28, 28, 28, "°C", DERIVED, "oxygen, and Oyugi et al. 2012", "lower"),
    Figure("ms222_anaesthesia", 50, 50, 50, "mg/L", PUBLISHED,
           "it produced anaesthesia: Mohamed 1999, Acta Ichthyologica et Piscatoria 29:91, carp",
           "lower"),
    Figure("ms222_refuse", 150, 150, 150, "mg/L", ASSUMED, MEMORY, "lower"),
    Figure("ms222_buffer", 1, 2, 2, "parts", ASSUMED, MEMORY),
)

_JOURNEY = (
    Figure("o2_r20", 60, 150, 300, "mg/kg/h", DERIVED,
           "between the resting rate of FAO Training Series, Transport of live fish, and fed fish",
           "higher"),
    Figure("rq", 0.8, 0.9, 1.0, "", ASSUMED, "from memory", "higher"),
    Figure("o2_store_use", 50, 50, 50, "%", DERIVED, "half the oxygen kept in hand", "lower"),
    Figure("o2_purity", 0.9, 0.95, 0.99, "", ASSUMED, "some air stays in the bag", "lower"),
    Figure("co2_warn", 20, 60, 60, "mg/L", ASSUMED,
           "from memory of Piper et al. 1982, Fish Hatchery Management (20 for tanks), not read"
           " again", "lower"),
    Figure("co2_stop", 60, 140, 140, "mg/L", ASSUMED,
           "from memory of Berka 1986, EIFAC Technical Paper 48, not read again", "lower"),
    Figure("tan_stop", 9, 17, 17, "mg N/L", PUBLISHED,
           "acute criterion at pH 7 and 20 °C, US EPA 2013, EPA-822-R-13-001", "lower"),
    Figure("nh3_limit", 0.02, 0.02, 0.05, "mg N/L", CHOICE,
           "below a guideline, no law in force: 0.025 mg NH3/L (0.0206 as N) stood"
           " in Directive 2006/44/EC, repealed in December 2013", "lower"),
    Figure("tan20_bag", 4, 10, 15, "mg N/kg/h", DERIVED,
           "the high figure for fasted fish, since a netted fish is not at rest",
           "higher"),
    Figure("bag_length_extra", 20, 23, 30, "cm", PRACTICE, CLUBS, "higher"),
    Figure("box_length_extra", 15, 15, 20, "cm", PRACTICE, CLUBS, "higher"),
    Figure("bag_water_share", 0.25, 1 / 3, 0.5, "of volume", PRACTICE, CLUBS),
    Figure("bag_litres_per_kg", 2.5, 2.5, 2.5, "L/kg", ASSUMED, "water to cover the back",
           "higher"),
    Figure("bag_hours", 12, 24, 24, "h", CHOICE, PACKERS, "lower"),
    Figure("bag_hours_stop", 24, 36, 36, "h", CHOICE, PACKERS, "lower"),
    Figure("bags_each", 2, 2, 3, "bags", PRACTICE, CLUBS, "higher"),
    Figure("bags_spare", 50, 50, 50, "%", PRACTICE, CLUBS, "higher"),
    Figure("lift_by_two", 16, 25, 25, "kg", ASSUMED,
           "a guideline for lifting by hand, from memory: more is for two people", "lower"),
    Figure("lift_most", 40, 45, 45, "kg", ASSUMED,
           "two people carry less than twice what one does: from memory of guidelines for lifting"
           " by hand; one bag is never heavier, water and fish", "lower"),
    Figure("o2_least", 4, 6, 7, "mg/L", ASSUMED,
           "least oxygen for koi, after UF/IFAS FA-27 and keepers' guides", "higher"),
    Figure("tank_air_reserve", 0.5, 0.5, 1, "h", PRACTICE,
           "common practice, no source: time to stop and mend the air", "higher"),
    Figure("tank_transfer", 5, 10, 15, "%", DERIVED,
           "share of the oxygen that a diffuser brings into the water: what makers of transport"
           " tanks advise, 2 L/min for 100 kg of carp at 20 °C, comes to 10", "lower"),
    Figure("tank_most", 300, 600, 600, "L", ASSUMED,
           "what a van carries beside its people; the vehicle's plate decides", "lower"),
    Figure("bag_hours_spare", 20, 20, 50, "%", PRACTICE,
           "common practice, no source: hours in hand for a jam or a breakdown", "higher"),
    Figure("direct_transfer_hours", 2, 4, 4, "h", DERIVED,
           "ammonia released as carbon dioxide leaves an opened bag", "lower"),
    Figure("step_direct", 1, 2, 3, "°C", PRACTICE, "keepers' guides", "lower"),
    Figure("step_direct_falling", 1, 1, 2, "°C", PRACTICE,
           "loading difference; a fall is harder on the fish than a rise", "lower"),
    Figure("step_warn", 3, 3, 3, "°C", PRACTICE, "keepers' guides, 3 to 5; the lower", "lower"),
    Figure("step_block", 6, 6, 6, "°C", PRACTICE, "keepers' guides, 5.6; none above 6", "lower"),
    Figure("temper_rate", 1, 2, 4, "°C/h", PRACTICE,
           "keepers' protocols; the one rule for all of a step too great to be taken at once:"
           " guides float up to 5 and even 11 °C, which begins many times as fast", "lower"),
    Figure("temp_ramp", 0.5, 1, 2, "°C/d", ASSUMED, "from memory", "lower"),
    Figure("float_bag", 15, 20, 45, "min", PRACTICE, "shows' rules, at least 20", "higher"),
    Figure("ph_direct", 0.2, 0.2, 0.2, "pH", PRACTICE, "keepers' guides", "lower"),
    Figure("ph_total", 0.5, 0.5, 0.5, "pH", CHOICE,
           "after a guideline, no law in force: it stood in Directive 2006/44/EC,"
           " Annex I, repealed in December 2013", "lower"),
)

_ROAD = (
    Figure("stop_every", 1.5, 2, 2, "h", ASSUMED, HIGHWAY, "lower"),
    Figure("stop_minutes", 15, 15, 45, "min", ASSUMED, HIGHWAY, "higher"),
    Figure("oxygen_stop_hours", 4, 6, 6, "h", ASSUMED,
           "from memory of keepers' guides: a bottle to top up with from six hours on", "lower"),
    Figure("drive_from", 5, 5, 6, "h", PRACTICE,
           "common practice, no source: no lone driver before five in the morning", "higher"),
)

_APART = (
    Figure("apart_own_warm", 21, 28, 42, "d", DERIVED, f"own vat, 22 to 28 °C; {KHV_TIMES}",
           "higher"),
    Figure("apart_own_mild", 42, 42, 42, "d", DERIVED, f"own vat, 18 to 22 °C; {KHV_TIMES}",
           "higher"),
    Figure("apart_own_cool", 52, 60, 90, "d", DERIVED, f"own vat, 16 to 18 °C; {KHV_TIMES}",
           "higher"),
    Figure("apart_shared_warm", 28, 42, 60, "d", DERIVED, f"shared, 22 to 28 °C; {KHV_TIMES}",
           "higher"),
    Figure("apart_shared_mild", 42, 60, 60, "d", DERIVED,
           "shared, 18 to 22 °C: 42 to 60 with a test; the longer", "higher"),
    Figure("apart_shared_cool", 60, 90, 90, "d", DERIVED,
           "shared, 16 to 18 °C: 52 to 90; the longest", "higher"),
    Figure("apart_least_c", 16, 16, 22, "°C", DERIVED,
           f"colder water clears nothing; {KHV_COLD}; {KHV_TIMES}", "higher"),
    Figure("apart_most_c", 25, 28, 28, "°C", DERIVED,
           f"warmer water clears nothing, heat hides the virus; {KHV_GROWTH}; {KHV_TIMES}",
           "lower"),
    Figure("khv_window_low", 16, 16, 16, "°C", PUBLISHED,
           "Fish Health Inspectorate, England and Wales: 16 to 28 °C", "lower"),
    Figure("khv_window_high", 28, 28, 28, "°C", PUBLISHED,
           "Fish Health Inspectorate, England and Wales: 16 to 28 °C", "higher"),
    Figure("days_between_shows", 35, 42, 56, "d", DERIVED, "apart, then feed, then fast"),
    Figure("vat_litres_large", 700, 1000, 2000, "L/fish", ASSUMED, "a fish of 50 cm or more",
           "higher"),
    Figure("vat_litres_middle", 350, 500, 1000, "L/fish", ASSUMED, "a fish of 35 to 50 cm",
           "higher"),
    Figure("vat_litres_small", 190, 250, 500, "L/fish", ASSUMED, "a fish of less than 35 cm",
           "higher"),
)
# fmt: on

OF_BATHS = frozenset(row.name for row in _SEDATION)
OF_JOURNEYS = frozenset(row.name for row in _JOURNEY)
HANDLING: tuple[Figure, ...] = (*_SEDATION, *_JOURNEY, *_ROAD, *_APART)
