"""Fish, shows and waters by their names, wherever a command asks for one.

Capitals and accents do not count, nor do hyphens for spaces; some whole words of a name are
enough where they are those of one alone, the first words before others.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from showprep.outputs.failure import Failure
from showprep.season.values.wording import choose, folded, listed, shown


def named(noun: str, written: str, names: Mapping[str, str]) -> str:
    """The id of the one meant, of `names` by id.

    Raises Failure (wrong usage) where there is none, or where it may be several: they are named.
    """
    found = meant(written, names)
    if len(found) == 1:
        return found[0]
    if found:
        several = listed((f"{one} ({names[one]})" for one in found), "and")
        raise Failure(f"{shown(written)} may be the {noun} {several}: give one's id.", status=2)
    right = choose(written, names)
    raise Failure(f"There is no {noun} {shown(written)[1:-1]}: {right}", status=2)


def meant(written: str, names: Mapping[str, str]) -> list[str]:
    """The ids that may be meant: the id itself, else all whose id or name is alike."""
    if written in names:
        return [written]
    wanted = folded(written)
    if not wanted:
        return []
    ways: tuple[Callable[[str], bool], ...] = (
        lambda one: one == wanted,
        lambda one: one.startswith(f"{wanted} "),
        lambda one: f" {wanted} " in f"{one} ",
    )
    for is_it in ways:
        found = [one for one, name in names.items() if is_it(folded(one)) or is_it(folded(name))]
        if found:
            return found
    return []
