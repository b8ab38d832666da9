"""Keys that name another unit than the metric one: `monthly_f` for `monthly_c`.

The records have the metric keys alone. A value under another key is put under the metric one with
its unit written out, so that both are read by the same rules.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Mapping
from typing import Any, NamedTuple

from showprep.season.values import measures
from showprep.season.values.quantities import Units


class OtherKey(NamedTuple):
    """A key whose bare numbers are in `unit`, and the `metric` key it stands for.

    `amount` reads the values of both.
    """

    name: str
    metric: str
    unit: str
    amount: measures.Amount


OTHER_KEYS: tuple[OtherKey, ...] = (
    OtherKey("monthly_f", "monthly_c", "F", measures.temperature_c),
    OtherKey("steady_f", "steady_c", "F", measures.temperature_c),
    OtherKey("readings_f", "readings_c", "F", measures.temperature_c),
    OtherKey("water_f", "water_c", "F", measures.temperature_c),
    OtherKey("read_f", "read_c", "F", measures.temperature_c),
    OtherKey("from_f", "from_c", "F", measures.temperature_c),
    OtherKey("below_f", "below_c", "F", measures.temperature_c),
    OtherKey("ramp_f_per_day", "ramp_c_per_day", "F", measures.warming_c),
    OtherKey("gallons", "litres", "gal", measures.litres),
    OtherKey("tank_gallons", "tank_litres", "gal", measures.litres),
    OtherKey("bath_gallons", "bath_litres", "gal", measures.litres),
    OtherKey("lengths_in", "lengths_cm", "in", measures.length_cm),
    OtherKey("longest_in", "longest_cm", "in", measures.length_cm),
    OtherKey("shortest_in", "shortest_cm", "in", measures.length_cm),
    OtherKey("total_in", "total_cm", "in", measures.total_cm),
    OtherKey("total_in_at_least", "total_cm_at_least", "in", measures.total_cm),
    OtherKey("length_in", "length_cm", "in", measures.total_cm),
    OtherKey("width_in", "width_cm", "in", measures.total_cm),
    OtherKey("depth_in", "depth_cm", "in", measures.total_cm),
    OtherKey("measured_in", "measured_cm", "in", measures.length_cm),
    OtherKey("size_in", "size_mm", "in", measures.size_mm),
    OtherKey("weights_lb", "weights_kg", "lb", measures.fish_kilograms),
    OtherKey("weighed_lb", "weighed_kg", "lb", measures.fish_kilograms),
    OtherKey("pounds", "kilograms", "lb", measures.kilograms),
)
OTHER = {key.name: key for key in OTHER_KEYS}
OF_METRIC = {key.metric: key for key in OTHER_KEYS}


def with_metric_keys(data: Mapping[str, Any], known: Container[str]) -> dict[str, Any]:
    """`data` with the values of other keys under the metric ones, where those are `known`.

    Where a metric key and its other one are both given, both stay: one of them is too many.
    """
    if OTHER.keys().isdisjoint(data):
        return dict(data)
    moved: dict[str, Any] = {}
    for key, value in data.items():
        other = OTHER.get(key)
        if other is None or other.metric not in known or other.metric in data:
            moved[key] = value
        else:
            moved[other.metric] = _in_unit(value, other.unit)
    return moved


def _in_unit(value: Any, unit: str) -> Any:
    """The value with its unit written out at each amount that has none."""
    if isinstance(value, str):
        return f"{value.strip()} {unit}" if measures.is_bare(value) else value
    if isinstance(value, int | float) and not isinstance(value, bool):
        return f"{value!r} {unit}"
    if isinstance(value, dict):
        return {key: _in_unit(one, unit) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_in_unit(one, unit) for one in value]
    return value


def metric_key(key: object) -> object:
    """The metric key that `key` stands for; any other element of a path as it is."""
    return OTHER[key].metric if isinstance(key, str) and key in OTHER else key


def key_found(given: Collection[object], key: object) -> object | None:
    """`key`, or the other key for it, whichever is among those `given`."""
    if key in given:
        return key
    other = OF_METRIC.get(key) if isinstance(key, str) else None
    return other.name if other is not None and other.name in given else None


def key_in(metric: str, units: Units) -> str:
    """The key a keeper with these units would write for a metric one."""
    other = OF_METRIC.get(metric)
    if other is None or units == "metric" or (units == "imperial" and other.unit == "F"):
        return metric
    return other.name
