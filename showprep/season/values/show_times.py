"""The times of a show that the keeper may leave out, and what is then assumed."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from showprep.season.records import Show


def benching_of(show: Show) -> datetime:
    """The wall-clock time of benching; without one, 13:00 the day before judging (assumption)."""
    if show.benching is not None:
        return show.benching
    return arrival_of(show)[0]


def arrival_of(show: Show) -> tuple[datetime, datetime]:
    """The arrival window; without one benching, or 13:00 to 20:00 the day before judging.

    What is left out is an assumption.
    """
    if show.arrive is not None:
        return show.arrive.from_, show.arrive.to
    if show.benching is not None:
        return show.benching, show.benching
    eve = show.judging.replace(hour=13, minute=0) - timedelta(days=1)
    return eve, eve.replace(hour=20)


def check_out_of(show: Show) -> datetime:
    """The check-out; without one, 13:00 the day after judging (assumption)."""
    if show.check_out is not None:
        return show.check_out
    return show.judging.replace(hour=13, minute=0) + timedelta(days=1)


def day_of(moment: date | datetime) -> date:
    """The local day of a day or wall-clock time."""
    return moment.date() if isinstance(moment, datetime) else moment
