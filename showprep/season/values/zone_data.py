"""Which edition of the time zone data the dates are worked out by: the newest on this machine."""

from __future__ import annotations

import zoneinfo
from functools import cache
from pathlib import Path

SYSTEM_EDITION = "tzdata.zi"  # its first line is "# version 2026a", in every system that has it
_FIRST_LINE = "# version "


@cache
def use_newest_zone_data() -> None:
    """Read zones from the package `tzdata` from now on, where the system's are older.

    Python looks at the system's first (PEP 615), which may be years behind the laws: a clock that
    is no longer changed would ring an hour off. Zones that were read before stay as they are.
    """
    import tzdata

    if edition_of_system(zoneinfo.TZPATH) < tzdata.IANA_VERSION:
        zoneinfo.reset_tzpath(())


def edition_of_system(folders: tuple[str, ...]) -> str:
    """The edition of the data in the first of `folders` that has any, such as "2026a"; the empty
    text, which is older than any, where it does not say."""
    for folder in folders:
        if not Path(folder).is_dir():
            continue
        try:
            with (Path(folder) / SYSTEM_EDITION).open(encoding="ascii", errors="replace") as data:
                line = data.readline(40)
        except OSError:
            return ""
        return line.removeprefix(_FIRST_LINE).strip() if line.startswith(_FIRST_LINE) else ""
    return ""
