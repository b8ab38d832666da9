"""The lasting name of a job in every calendar."""

from __future__ import annotations

import uuid

# Drawn once at random. Changing it would double every job on every phone.
NAMESPACE = uuid.UUID("6a0f3a0e-6f1d-4a56-9c7b-0f9b1f6a4d21")


def uid_of(task_id: str, season: str = "") -> str:
    """The UID of the job with this id in one season: 36 characters out of `0-9A-F-`.

    `season` is the season's identity, a random text: two seasons with shows of one name share no
    job. The empty one is that of seasons which had calendars before there were identities.

    RFC 5545 §3.8.4.7 asks for a persistent, globally unique name, and RFC 7986 §5.3 for one that
    gives away neither user nor machine. The id of a job holds no date, title or place in a list,
    so a job that moves or is renamed keeps its UID.
    """
    space = uuid.uuid5(NAMESPACE, season) if season else NAMESPACE
    return str(uuid.uuid5(space, task_id)).upper()
