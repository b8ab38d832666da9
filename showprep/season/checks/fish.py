"""Checks of the fish: where they live, what is written of their blemishes, lengths and shows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from itertools import chain

from showprep.season.checks.checked import Checked, Finding
from showprep.season.facts import shipped_facts
from showprep.season.values.quantities import show_length

MEASURING_ERROR_CM = 1.0  # assumption: two readings of one live fish in a bowl


def waters_exist(checked: Checked) -> Iterator[Finding | None]:
    waters = checked.season.keeper.waters
    for name, fish in checked.season.fish.items():
        yield checked.unknown(("fish", name, "lives_in"), "water", fish.lives_in, waters)
        for at, move in enumerate(fish.moves):
            yield checked.unknown(("fish", name, "moves", at, "to"), "water", move.to, waters)


def kinds_exist(checked: Checked) -> Iterator[Finding | None]:
    for name, fish in checked.season.fish.items():
        for at, defect in enumerate(fish.defects):
            yield checked.kind(("fish", name, "defects", at, "kind"), defect.kind)


def varieties_known(checked: Checked) -> Iterator[Finding | None]:
    """An unknown variety is no fault: there are more than any table holds."""
    varieties = shipped_facts().varieties
    for name, fish in checked.season.fish.items():
        path = ("fish", name, "variety")
        yield checked.unknown(path, "variety", fish.variety, varieties, "warning")


def shows_exist(checked: Checked) -> Iterator[Finding | None]:
    """The shows a fish must or must never go to exist, and none is both."""
    shows = checked.season.shows
    for name, fish in checked.season.fish.items():
        never = () if fish.never_show == "all" else fish.never_show
        for key, wanted in (("must_show", fish.must_show), ("never_show", never)):
            for at, show in enumerate(wanted):
                yield checked.unknown(("fish", name, key, at), "show", show, shows)
        for at, show in enumerate(fish.must_show):
            if fish.never_show == "all" or show in never:
                what = f"{name} must and must never go to {show}"
                path = ("fish", name, "must_show", at)
                yield Finding(path, what, "take it out of must_show or never_show")


def nothing_ahead(checked: Checked) -> Iterator[Finding | None]:
    """Nothing seen or measured is dated after the day of the plan; no defect can have been."""
    on = checked.on
    for name, fish in checked.season.fish.items():
        for at, defect in enumerate(fish.defects):
            if defect.seen > on:
                what = f"it was seen on {defect.seen}, after the day of this plan, {on}"
                path = ("fish", name, "defects", at, "seen")
                yield Finding(path, what, f"put the date right, or plan with --on {defect.seen}")
            for key, day in (("vet", defect.vet), ("clean", defect.clean)):
                if day is not None and day > on:
                    yield checked.future(("fish", name, "defects", at, key), day)
        dated: chain[tuple[str, date]] = chain(
            (("lengths_cm", day) for day in fish.lengths_cm),
            (("weights_kg", day) for day in fish.weights_kg),
        )
        for key, day in dated:
            if day > on:
                yield checked.future(("fish", name, key, day), day)
        yield checked.future(("fish", name, "spawned"), fish.spawned)


def marks_in_order(checked: Checked) -> Iterator[Finding | None]:
    """A blemish is seen before a vet deals with it and before it is gone."""
    for name, fish in checked.season.fish.items():
        for at, defect in enumerate(fish.defects):
            for key, day in (("vet", defect.vet), ("clean", defect.clean)):
                if day is not None and day < defect.seen:
                    what = f"{day} comes before the day it was seen, {defect.seen}"
                    path = ("fish", name, "defects", at, key)
                    yield Finding(path, what, "put the wrong one right")


def shares_only_of_fins(checked: Checked) -> Iterator[Finding | None]:
    """The share lost is asked for where a part grows back, and means nothing elsewhere."""
    kinds = shipped_facts().kinds
    for name, fish in checked.season.fish.items():
        for at, defect in enumerate(fish.defects):
            kind = kinds.get(defect.kind)
            if kind is None:
                continue
            path = ("fish", name, "defects", at)
            if kind.by_lost_share and defect.lost_share is None:
                what = f"how much of the fin is gone is not said ({defect.kind})"
                yield Finding(path, what, "add lost_share, such as 0.2 or 20 %", "warning")
            elif defect.lost_share is not None and not kind.by_lost_share:
                what = f"lost_share says nothing about {defect.kind}"
                yield Finding((*path, "lost_share"), what, "take the line out", "warning")


def lengths_do_not_shrink(checked: Checked) -> Iterator[Finding | None]:
    shown_cm = partial(show_length, units=checked.season.keeper.units)
    for name, fish in checked.season.fish.items():
        if len(fish.lengths_cm) < 2:
            continue
        longest = 0.0
        for day, length in sorted(fish.lengths_cm.items()):
            if length < longest - MEASURING_ERROR_CM - 1e-9:
                what = f"{shown_cm(length)} on {day} is shorter than the {shown_cm(longest)} before"
                path = ("fish", name, "lengths_cm", day)
                yield Finding(path, what, "a fish does not shrink: put the wrong one right")
            longest = max(longest, length)


FISH_CHECKS = (
    waters_exist,
    kinds_exist,
    varieties_known,
    shows_exist,
    nothing_ahead,
    marks_in_order,
    shares_only_of_fins,
    lengths_do_not_shrink,
)
