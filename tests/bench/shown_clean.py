"""Shown clean or not: the day by chance beside the rules a keeper has, on open water records.

    nice python -m tests.bench.shown_clean [--shows 8] [--sites creek,brussels] [--seed TEXT]

The seed is the commit that is measured, so that nothing can be tuned to it.
"""

from __future__ import annotations

import argparse
import subprocess
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

from tests.bench.advisers import PLANNER, RULES, WITH_PLANNER
from tests.bench.open_waters import SEEN_BY_KERNEL, SiteYear, site_years
from tests.bench.scores import (
    Interval,
    brier_parts,
    over_whole_years,
    reliability_table,
)
from tests.bench.season_played import Nature, Played, invented, oracle, play

PLAIN, BY_CHANCE, KNOWN = "four weeks before", "best day, planned anew", "water known"


@dataclass(frozen=True, slots=True)
class Run:
    """All fish of all seasons under every rule, in the same order."""

    years: tuple[tuple[str, int], ...]
    by_rule: dict[str, list[Played]]
    oracle: list[bool]

    def gain(self, one: str, other: str, drawn: bool = True) -> list[float]:
        """Clean under one rule less clean under another, fish by fish [0 to 1 points]."""
        return [
            float(a.clean) - float(b.clean) if drawn else a.expected - b.expected
            for a, b in zip(self.by_rule[one], self.by_rule[other], strict=True)
        ]


def commit_measured() -> str:
    """The commit checked out here: where the seeds come from."""
    home = Path(__file__).parent
    found = subprocess.run(
        ["git", "-C", str(home), "rev-parse", "HEAD"], capture_output=True, text=True, check=False
    )
    return found.stdout.strip() or "no commit"


def run(
    waters: Sequence[SiteYear],
    shows: int,
    seed: str,
    nature: Nature | None = None,
    planner: bool = False,
) -> Run:
    """Play every site-year with every rule on the same shows and the same hidden truths."""
    years: list[tuple[str, int]] = []
    by_rule: dict[str, list[Played]] = defaultdict(list)
    best: list[bool] = []
    for water in waters:
        season = invented(water, shows, seed, nature)
        years += [(water.site, water.year)] * len(season.shows)
        best += oracle(season)
        for name, rule in (WITH_PLANNER if planner else RULES).items():
            by_rule[name] += play(season, rule(season))
    return Run(tuple(years), dict(by_rule), best)


def _points(found: Interval) -> str:
    return f"{100 * found.mean:+5.1f} ({100 * found.low:+.1f} to {100 * found.high:+.1f})"


def _promised(touched: Sequence[Played]) -> str:
    """What was promised on average, in percent; a plain rule promises nothing."""
    said = fmean(one.promised for one in touched) if touched else 0.0
    return f"{100 * said:.1f}" if said else "-"


def report(found: Run) -> str:
    """The figures as text."""
    count, years = len(found.years), len(set(found.years))
    lines = [
        f"{count} shows of one fish each on {years} site-years; 95 % over whole site-years",
        "",
    ]
    lines.append(
        "rule                     clean %               expected  touched  promised  moves"
    )
    for name, played in found.by_rule.items():
        clean = over_whole_years([float(one.clean) for one in played], found.years)
        touched = [one for one in played if one.touched]
        lines.append(
            f"{name:24} {100 * clean.mean:4.1f} ({100 * clean.low:.1f} to {100 * clean.high:.1f})"
            f"   {100 * fmean(one.expected for one in played):6.1f}"
            f"   {len(touched):6d}"
            f"   {_promised(touched):>8}"
            f"   {fmean(one.moves for one in played):5.2f}"
        )
    lines.append(f"{'oracle':24} {100 * fmean(found.oracle):4.1f}")
    lines += ["", f"{BY_CHANCE} less {PLAIN}, points"]
    for what, drawn in (("drawn", True), ("expected", False)):
        gain = found.gain(BY_CHANCE, PLAIN, drawn)
        lines.append(f"  all, {what:9} {_points(over_whole_years(gain, found.years))}")
    gain = found.gain(BY_CHANCE, PLAIN)
    expected = found.gain(BY_CHANCE, PLAIN, drawn=False)
    months = [one.show.benching.month for one in found.by_rule[PLAIN]]
    for month in sorted(set(months)):
        at = [n for n, one in enumerate(months) if one == month]
        here = [found.years[n] for n in at]
        lines.append(
            f"  month {month}, n {len(at):4d}  drawn"
            f" {_points(over_whole_years([gain[n] for n in at], here))}, expected"
            f" {_points(over_whole_years([expected[n] for n in at], here))}"
        )
    for site in dict.fromkeys(site for site, _ in found.years):
        at = [n for n, (name, _) in enumerate(found.years) if name == site]
        part = over_whole_years([expected[n] for n in at], [found.years[n] for n in at])
        lines.append(f"  {site}, n {len(at)}, expected {_points(part)}")
    for label, seen in (("ponds its kernel came from", True), ("places it has not seen", False)):
        at = [n for n, (site, _) in enumerate(found.years) if (site in SEEN_BY_KERNEL) == seen]
        if at:
            here = [found.years[n] for n in at]
            part = over_whole_years([expected[n] for n in at], here)
            lines.append(f"  {label}, n {len(at)}, expected {_points(part)}")
    lines += ["", f"{BY_CHANCE} less {KNOWN}, points"]
    for what, drawn in (("drawn", True), ("expected", False)):
        part = over_whole_years(found.gain(BY_CHANCE, KNOWN, drawn), found.years)
        lines.append(f"  all, {what:9} {_points(part)}")
    if PLANNER in found.by_rule:
        lines += ["", f"{PLANNER}, points"]
        for other in (PLAIN, KNOWN):
            for what, drawn in (("drawn", True), ("expected", False)):
                part = over_whole_years(found.gain(PLANNER, other, drawn), found.years)
                lines.append(f"  less {other}, {what:9} {_points(part)}")
        gain = found.gain(PLANNER, PLAIN)
        for month in sorted(set(months)):
            at = [n for n, one in enumerate(months) if one == month]
            part = over_whole_years([gain[n] for n in at], [found.years[n] for n in at])
            lines.append(f"  month {month}, n {len(at):4d}, less {PLAIN}, drawn {_points(part)}")
        lines += ["", *lost_to_the_water_known(found)]
        lines += ["", *_reliability(found.by_rule[PLANNER]), "", BY_CHANCE]
    return "\n".join([*lines, "", *_reliability(found.by_rule[BY_CHANCE])])


def lost(plan: Played, known: Played) -> str:
    """By what a touch-up differs from that of a keeper who knew how the water would go."""
    if plan.touched == known.touched:
        return "same day"
    if plan.touched is None:
        return "kept home" if plan.kept_home else "never"
    return "too early" if known.touched is None or plan.touched < known.touched else "too late"


LOST = ("too late", "too early", "never", "kept home", "same day")


def lost_to_the_water_known(found: Run) -> list[str]:
    """Where the program loses: by month and reason, shows and points, the truth averaged out.

    Kept home: barred from the show by a rule that only the program is held to here, such as water
    too warm for the journey.
    """
    pairs = list(zip(found.by_rule[PLANNER], found.by_rule[KNOWN], strict=True))
    months = sorted({known.show.benching.month for _, known in pairs})
    lines = [
        f"{PLANNER} loses against {KNOWN}: shows, and expected points of all in that month",
        "month     n" + "".join(f"{why:>16}" for why in LOST) + "     all",
    ]
    for month in months:
        here = [pair for pair in pairs if pair[1].show.benching.month == month]
        lines.append(_lost_row(str(month), here))
    lines.append(_lost_row("all", pairs))
    going = [p for p in pairs if not p[0].kept_home]
    if len(going) < len(pairs):
        lines.append(_lost_row("going", going))
    return lines


def _lost_row(name: str, pairs: Sequence[tuple[Played, Played]]) -> str:
    row = f"{name:5} {len(pairs):5d}"
    for why in LOST:
        here = [known.expected - plan.expected for plan, known in pairs if lost(plan, known) == why]
        row += f"{len(here):8d}{100 * sum(here) / len(pairs):8.2f}"
    total = sum(known.expected - plan.expected for plan, known in pairs)
    return f"{row}{100 * total / len(pairs):8.2f}"


def _reliability(played: Sequence[Played]) -> list[str]:
    told = [one for one in played if one.touched]
    stated, came = [one.promised for one in told], [one.clean for one in told]
    table = reliability_table(stated, came)
    lines = [f"reliability of {len(told)} promises: n, said %, came %, 99 % of right promises"]
    lines += [
        f"  {row.count:5d}   {100 * row.stated:5.1f}   {100 * row.came:5.1f}"
        f"   {100 * row.low:.1f} to {100 * row.high:.1f}"
        for row in table
    ]
    parts = brier_parts([round(chance, 1) for chance in stated], came)
    lines.append(
        f"Brier {parts.score:.4f} = reliability {parts.reliability:.4f}"
        f" - resolution {parts.resolution:.4f} + uncertainty {parts.uncertainty:.4f}"
        " (statements to one tenth)"
    )
    return lines


def main() -> None:
    """Run and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--shows", type=int, default=8, help="shows in each site-year")
    asked.add_argument("--sites", default="", help="sites by name, with commas; all if left out")
    asked.add_argument("--seed", default="", help="in place of the commit")
    asked.add_argument("--base", type=float, help="one base of healing [°C], known to all")
    asked.add_argument("--planner", action="store_true", help="the whole program as well")
    options = asked.parse_args()
    seed = options.seed or commit_measured()
    sites = tuple(options.sites.split(",")) if options.sites else None
    nature = None if options.base is None else Nature(bases=((options.base, 1.0),))
    print(f"seed {seed}")
    print(report(run(site_years(sites), options.shows, seed, nature, options.planner)))


if __name__ == "__main__":
    main()
