"""Figures for feeding, growth, spawning, illness, wounds and lead times: rows of `figures`."""

from __future__ import annotations

from showprep.husbandry.figure_record import ASSUMED, CHOICE, DERIVED, PRACTICE, PUBLISHED, Figure

GARCIA = "Garcia and Adelman 1985, Journal of Fish Biology, common carp in the field"
GUIDES = "rules and guides of koi shows"
JORDAN = "a US judge's guide to preparing koi, not read again"
HOBBY = "a hobby table of koi length by age"
SPAWNERS = "koi breeders' and dealers' pages, from memory"
RASHEED = "pellet-fed carp empty about half as fast, Rasheed and Salman 2018"

# fmt: off
_FASTING = (
    Figure("fast_safety", 1.5, 2.0, 2.5, "", DERIVED, RASHEED, "higher"),
    Figure("fast_safety_transport", 1.5, 1.5, 2.5, "", DERIVED, RASHEED, "higher"),
    Figure("fast_show_warm", 3, 5, 6, "d", PRACTICE,
           f"22 °C and more, {GUIDES}; another reading gives 3, the longer travels emptier"),
    Figure("fast_show_mild", 4, 6, 7, "d", PRACTICE,
           f"18 to 22 °C, {GUIDES}; another reading gives 3, the longer travels emptier"),
    Figure("fast_show_cool", 5, 7, 10, "d", PRACTICE,
           f"below 18 °C, {GUIDES}; another reading gives 3, the longer travels emptier"),
    Figure("fast_show_least", 3, 3, 3, "d", PRACTICE, GUIDES, "higher"),
    Figure("fast_show_cap", 7, 7, 7, "d", PRACTICE, GUIDES),
    Figure("fast_show_cap_cold", 10, 10, 10, "d", DERIVED, f"below 10 °C; {GARCIA}, extended"),
    Figure("fast_algae_pond", 7, 10, 14, "d", PRACTICE, "a Dutch show's rules of 2017"),
    Figure("fast_transport_min", 2, 2, 7, "d", PRACTICE, "the trade's 2 to 4 days", "higher"),
    Figure("fast_warn_before", 8, 8, 8, "d", DERIVED, "lipid lost in the first week of a fast",
           "lower"),
    Figure("fast_warn_total_mild", 10, 10, 10, "d", DERIVED,
           "above 15 °C; lipid lost in the first week of a fast", "lower"),
    Figure("fast_warn_total", 12, 12, 12, "d", DERIVED,
           "20 °C and more; lipid lost in the first week of a fast", "lower"),
    Figure("fast_loss", 0.1, 0.4427, 0.4427, "%/d", PUBLISHED,
           "22 % in 56 days at 25.8 °C, 12.5 g gibel carp; large cool koi lose less"),
)

_FEEDING = (
    Figure("feed_stop_c", 6, 8, 10, "°C", PUBLISHED,
           "feeding practically stops below about 8 °C, FAO AFFRIS common carp", "higher"),
    Figure("feed_cut_first", 42, 60, 60, "d", PRACTICE, JORDAN, "lower"),
    Figure("feed_cut_first_share", 0.5, 0.5, 0.5, "of ration", PRACTICE, JORDAN, "higher"),
    Figure("feed_cut_second", 21, 30, 30, "d", PRACTICE, JORDAN, "lower"),
    Figure("feed_cut_second_share", 0.25, 0.25, 0.25, "of ration", PRACTICE, JORDAN, "higher"),
    Figure("colour_stop", 30, 60, 90, "d", PRACTICE,
           "guides say 30, 42, 60 and 90; the two readings give 42 and 60, the longer is used"),
    Figure("refeed_wait", 1, 2, 3, "d", PRACTICE, "show-farm practice", "higher"),
    Figure("refeed_share", 0.25, 1 / 3, 0.5, "of ration", PRACTICE, "show-farm practice", "lower"),
    Figure("refeed_share_later", 0.5, 0.6, 0.75, "of ration", ASSUMED, "from memory", "lower"),
    Figure("refeed_ramp", 5, 7, 10, "d", ASSUMED, "from memory", "higher"),
)

_GROWTH = (
    Figure("linf", 60, 80, 95, "cm", PRACTICE, HOBBY),
    Figure("k_growth", 0.16, 0.347, 0.55, "1/yr", DERIVED, HOBBY),
    Figure("growth_year", 1485, 1659, 2800, "°C.d", DERIVED,
           "a year above 8 °C of a pond at 11.5 ± 8 °C, by which a yearly rate is made thermal"),
    Figure("sigma_length", 0.3, 0.5, 1.0, "cm", ASSUMED, "bowl and rule, from memory"),
    Figure("class_margin", 0.5, 1.0, 1.0, "cm", DERIVED, "twice the error of a measured length"),
)

_SPAWNING = (
    Figure("spawns_from_cm", 45, 45, 45, "cm", PRACTICE, f"females, {SPAWNERS}", "lower"),
    Figure("spawns_from_years", 3, 3, 3, "yr", PRACTICE, f"females, {SPAWNERS}", "lower"),
    Figure("spawns_from_c", 17, 17, 20, "°C", PRACTICE, f"warming water, {SPAWNERS}", "lower"),
    Figure("spawns_to_c", 24, 24, 24, "°C", PRACTICE, f"warming water, {SPAWNERS}", "higher"),
    Figure("spawned_not_ready", 14, 14, 14, "d", PRACTICE,
           f"torn fins and lost scales are open still, as for a sedation, {SPAWNERS}", "higher"),
    Figure("spawned_recovers", 28, 42, 42, "d", PRACTICE,
           f"4 to 6 weeks, the longer is used, {SPAWNERS}", "higher"),
)

_ILLNESS = (
    Figure("treatment_warn", 14, 14, 14, "d", PRACTICE,
           "'never in the last 14 days' before leaving is the laxest of the shows' guides",
           "higher"),
    Figure("treatment_stop", 7, 7, 7, "d", PRACTICE,
           "permanganate or formalin before leaving: a week after a treatment before handling, "
           "common practice, no source", "higher"),
    Figure("red_spots_wait", 1, 3, 3, "d", PRACTICE,
           "a stress flush is gone within a day or three, common practice, no source", "lower"),
)

_LEAD_TIMES = (
    Figure("last_bath_treatment", 14, 60, 60, "d", PRACTICE,
           "treatment_warn is the latest any guide allows, a US judge says 60 (not read again);"
           " the longer is used"),
    Figure("parasite_clear_check", 7, 14, 28, "d", DERIVED,
           "after the last dose: two rounds of eggs at 7 days", "higher"),
)

_WOUNDS = (
    Figure("stitched_warm", 17, 20, 20, "°C", CHOICE,
           "cuts with thread or a tag were more often open, sore or without their tag"
           " at 17 to 20 °C than at 10 to 13 °C; Chinook salmon, Deters et al. 2010, Transactions"
           " of the American Fisheries Society 139:888, and Robinson et al. 2021, Animal"
           " Biotelemetry 9:22; trout, Bunnell & Isely 1999, North American Journal of Fisheries"
           " Management 19:152 (all read)", "lower"),
)
# fmt: on

PREPARING: tuple[Figure, ...] = (
    *_FASTING,
    *_FEEDING,
    *_GROWTH,
    *_SPAWNING,
    *_ILLNESS,
    *_LEAD_TIMES,
    *_WOUNDS,
)
