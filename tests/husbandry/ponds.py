"""The water of an invented pond, and monthly means of any record of daily ones."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from statistics import fmean

POND = (4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5)


def monthly_means(daily: dict[date, float]) -> list[float]:
    months: dict[int, list[float]] = defaultdict(list)
    for day, c in daily.items():
        months[day.month].append(c)
    return [fmean(months[month]) for month in range(1, 13)]
