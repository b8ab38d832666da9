"""The times of a show that the keeper may leave out, and what is then assumed."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from showprep.season.records import Show

JUDGED_AND_OUT = timedelta(hours=4)  # assumption: from the start of judging to check-out


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
    """The check-out; without one, that evening of a one-day show, else 13:00 the day after judging.

    A show is of one day when fish arrive on the day of judging. Its evening is 17:00, or four hours
    after judging begins if that is later, but still that day. All of it is an assumption.
    """
    if show.check_out is not None:
        return show.check_out
    if arrival_of(show)[0].date() == show.judging.date():
        evening = max(show.judging.replace(hour=17, minute=0), show.judging + JUDGED_AND_OUT)
        return min(evening, show.judging.replace(hour=23, minute=59))
    return show.judging.replace(hour=13, minute=0) + timedelta(days=1)


def day_of(moment: date | datetime) -> date:
    """The local day of a day or wall-clock time."""
    return moment.date() if isinstance(moment, datetime) else moment
