"""What to pack for one show, scaled to the fish entered: common practice, no source, as marked.

Two bags a fish and half as many again to spare, two bands to a bag, a box of its own for each
fish, oxygen for both ways and half as much again; water for a stop, or for the changes of water of
one way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from showprep.husbandry.bag_size import bags_to_pack, with_reserve
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.reason import Centimetres, Grams, Litres, reason
from showprep.planning.worksheets.bags_records import BagSheet, PackingList, PackItem
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

BANDS_A_BAG = 2
WAYS = 2


def packing_list(yard: Yard, events: Events, bags: Sequence[BagSheet]) -> PackingList:
    """The list for the fish in `bags`, which are those entered in the show."""
    return PackingList(
        events.show,
        (
            ("bags and water", tuple(_bags(yard.figures, bags))),
            ("handling", tuple(_handling(bags))),
            ("health", tuple(_health())),
            ("papers", tuple(_papers(events, len(bags)))),
            ("people and home", tuple(_home(yard, len(bags)))),
        ),
    )


def _bags(figures: FiguresInForce, sheets: Sequence[BagSheet]) -> Iterator[PackItem]:
    tanks = [one.ways.tank for one in sheets if one.ways is not None and one.ways.tank]
    bags = [one for one in sheets if one.bag is not None or one.ways is None]
    if tanks:
        most = Litres(max(tank.litres for tank in tanks))
        yield PackItem(
            len(tanks), reason("pack-tank", litres=most, instead=len(bags) == len(sheets))
        )
    count = bags_to_pack(sum(one.bags_each for one in bags), figures)
    longest = Centimetres(max((one.bag_length_cm or 0 for one in bags), default=0))
    box = Centimetres(max((one.box_length_cm or 0 for one in bags), default=0))
    oxygen = with_reserve(sum((one.gas_l or 0) * _fillings(one) for one in bags) * WAYS, figures)
    salt = sum(one.salt_g or 0 for one in bags) * WAYS
    yield PackItem(count, reason("pack-bags", longest=longest))
    yield PackItem(count * BANDS_A_BAG, reason("pack-bands"))
    yield PackItem(len(bags), reason("pack-boxes", count=len(bags), longest=box))
    yield PackItem(Litres(oxygen), reason("pack-oxygen"))
    spare_l = sum((one.water_l or 0) * max(_fillings(one) - 1, 1) for one in bags)
    yield PackItem(Litres(spare_l), reason("pack-water"))
    yield PackItem(None, reason("pack-padding"))
    if salt:
        yield PackItem(Grams(salt), reason("pack-salt"))


def _fillings(one: BagSheet) -> int:
    """How often the bag is filled on one way."""
    return (one.ways.fillings or 1) if one.ways is not None else 1


def _handling(bags: Sequence[BagSheet]) -> Iterator[PackItem]:
    longest = max((one.ask.length_cm or 0 for one in bags), default=0)
    yield PackItem(1, reason("pack-pan-net"))
    yield PackItem(1, reason("pack-sock-net"))
    yield PackItem(1, reason("pack-bowl", fish=Centimetres(longest) if longest else None))
    yield PackItem(None, reason("pack-jug"))


def _health() -> Iterator[PackItem]:
    yield PackItem(None, reason("pack-tests"))
    yield PackItem(2, reason("pack-buckets"))
    yield PackItem(None, reason("pack-gloves"))


def _papers(events: Events, fish: int) -> Iterator[PackItem]:
    record = events.record
    yield PackItem(None, reason("pack-confirmation"))
    yield PackItem(None, reason("pack-map"))
    if record.declaration_months is not None:
        yield PackItem(None, reason("pack-declaration", months=record.declaration_months))
    if record.health_certificate:
        yield PackItem(None, reason("pack-certificate"))
    if record.photos_due is not None:
        yield PackItem(fish, reason("pack-photos"))


def _home(yard: Yard, fish: int) -> Iterator[PackItem]:
    isolation = yard.keeper.isolation
    place = isolation.water if isolation is not None else None
    yield PackItem(1, reason("pack-helper"))
    yield PackItem(None, reason("pack-home", place=place, fish=fish))
