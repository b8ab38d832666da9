"""What to pack for one show, scaled to the fish entered: common practice, no source, as marked.

Two bags a fish and half as many again to spare, two bands to a bag, a box of its own for each
fish, oxygen for both ways and half as much again.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from showprep.husbandry.figures import setting
from showprep.planning.events import Events
from showprep.planning.words import counted
from showprep.planning.worksheets.bags_records import BagSheet, PackingList, PackItem
from showprep.planning.yard import Yard
from showprep.season.quantities import show_length, show_volume

BANDS_A_BAG = 2
WAYS = 2


def packing_list(yard: Yard, events: Events, bags: Sequence[BagSheet]) -> PackingList:
    """The list for the fish in `bags`, which are those entered in the show."""
    return PackingList(
        events.show,
        (
            ("Bags and water", tuple(_bags(yard, bags))),
            ("Handling", tuple(_handling(yard, bags))),
            ("Health", tuple(_health())),
            ("Papers", tuple(_papers(events, len(bags)))),
            ("People and home", tuple(_home(yard, len(bags)))),
        ),
    )


def _bags(yard: Yard, bags: Sequence[BagSheet]) -> list[PackItem]:
    spare = 1 + setting("bags_spare", yard.keeper.figures) / 100
    count = ceil(sum(one.bags_each for one in bags) * spare)
    units = yard.keeper.units
    longest = max((one.bag_length_cm or 0 for one in bags), default=0)
    box = max((one.box_length_cm or 0 for one in bags), default=0)
    oxygen = sum(one.gas_l or 0 for one in bags) * WAYS * spare
    water = sum(one.water_l or 0 for one in bags)
    salt = sum(one.salt_g or 0 for one in bags) * WAYS
    items = [
        PackItem(str(count), f"clear bags, the longest {show_length(longest, units)} or more"),
        PackItem(str(count * BANDS_A_BAG), "bands"),
        PackItem(str(len(bags)), _boxes(len(bags), show_length(box, units))),
        PackItem(
            show_volume(oxygen, units),
            "oxygen at ordinary pressure, both ways with a reserve (a cylinder holds its litres "
            "times its bar); regulator, hose",
        ),
        PackItem(show_volume(water, units), "clean water of the fish's own, for a stop"),
        PackItem("", "padding, tape, wrapped ice packs in hot weather, dechlorinator"),
    ]
    return [*items, *([PackItem(f"{salt:.0f} g", "salt without additives")] if salt else [])]


def _boxes(count: int, longest: str) -> str:
    if count == 1:
        return f"box with a lid, {longest} inside"
    return f"boxes with lids, the longest {longest} inside"


def _handling(yard: Yard, bags: Sequence[BagSheet]) -> list[PackItem]:
    longest = max((one.ask.length_cm or 0 for one in bags), default=0)
    bowl = f", longer than {show_length(longest, yard.keeper.units)}" if longest else ""
    return [
        PackItem("1", "pan net, labelled"),
        PackItem("1", "sock net open at both ends"),
        PackItem("1", f"bowl{bowl}"),
        PackItem("", "measuring jug, towels, thermometer"),
    ]


def _health() -> list[PackItem]:
    return [
        PackItem("", "tests for pH, ammonia and nitrite"),
        PackItem("2", "buckets, disinfectant for nets and bowl"),
        PackItem("", "gloves, hand lens, slides"),
    ]


def _papers(events: Events, fish: int) -> list[PackItem]:
    record = events.record
    items = [
        PackItem("", "entry confirmation with vat number; variety and length of each fish"),
        PackItem("", "map, unloading times, the show's telephone number"),
    ]
    if record.declaration_months is not None:
        months = record.declaration_months
        items.append(PackItem("", f"signed health declaration over {months} months"))
    if record.health_certificate:
        items.append(PackItem("", "health certificate"))
    if record.photos_due is not None:
        items.append(PackItem(str(fish), "photos, printed"))
    return items


def _home(yard: Yard, fish: int) -> list[PackItem]:
    isolation = yard.keeper.isolation
    place = isolation.water if isolation is not None else "a vat apart"
    return [
        PackItem("1", "helper; water to drink, chair, warm and dry clothes"),
        PackItem(
            "",
            f"at home before leaving: {place} running for {counted(fish, 'fish', 'fish')}, "
            "with a net and bowl of its own",
        ),
    ]
