"""The page as text: one file, nothing fetched, hostile names shown as what they are."""

from __future__ import annotations

import base64
import hashlib
import re
import subprocess
import sys
from datetime import date, datetime
from html.parser import HTMLParser
from pathlib import Path

import pytest
from msgspec import Struct
from msgspec.structs import asdict, replace

from showprep.commands.loading import load_yard_and_plan
from showprep.commands.page import page_of
from showprep.husbandry.reason import Blemish, FishId, reason
from showprep.outputs.json_plan import plan_json
from showprep.outputs.page import Sheet, render_page
from showprep.planning.plan import Choice, Plan
from showprep.season.values.days import MONTHS, WEEKDAYS
from tests.outputs.page import large, plans
from tests.outputs.said import in_reasons

SAMPLE = Path(__file__).resolve().parents[3] / "samples" / "spring-circuit"
PLANS = (plans.first_show, plans.spring_circuit, plans.cold_pond)
FETCHING = {"src", "href", "srcset", "action", "formaction", "data", "poster", "background", "ping"}


class Parsed(HTMLParser):
    """Addresses, text, styles and scripts of a page, by the standard library's parser."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.inline: list[str] = []
        self.told = ""
        self.policy = ""
        self.texts: dict[str, str] = {"style": "", "script": ""}
        self._in = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in = tag
        for name, value in attrs:
            if name in FETCHING:
                self.addresses.append(value or "")
            if name == "style" or name.startswith("on"):
                self.inline.append(name)
            if tag == "meta" and name == "content" and "default-src" in (value or ""):
                self.policy = value or ""

    def handle_data(self, data: str) -> None:
        if self._in in self.texts:
            self.texts[self._in] += data
        else:
            self.told += data

    def handle_endtag(self, tag: str) -> None:
        self._in = ""


@pytest.mark.parametrize("make", PLANS)
def test_nothing_is_fetched_and_the_policy_says_so(make: object) -> None:
    parsed = Parsed(render_page(make()))  # type: ignore[operator]
    assert all(one.startswith(("#", "data:image/")) for one in parsed.addresses)
    assert parsed.inline == []
    assert "url(" not in parsed.texts["style"].replace("url(#", "")
    assert "@import" not in parsed.texts["style"]
    assert parsed.policy.startswith("default-src 'none'; ")
    assert "unsafe" not in parsed.policy and "http" not in parsed.policy


def test_the_policy_allows_this_style_and_this_script_alone() -> None:
    """Hashes as W3C Content Security Policy Level 3, section 6.7.2.3 describes them."""
    parsed = Parsed(render_page(plans.first_show()))
    for kind in ("style", "script"):
        digest = hashlib.sha256(parsed.texts[kind].encode()).digest()
        assert f"{kind}-src 'sha256-{base64.b64encode(digest).decode()}'" in parsed.policy


DAY = re.compile(
    rf"\b(?:{'|'.join(f'{day[:3]}(?:{day[3:]})?' for day in WEEKDAYS)}) (\d{{1,2}}) "
    rf"({'|'.join(MONTHS)})(?: (\d{{4}}))?",
    re.IGNORECASE,
)


def days_told(plan: Plan) -> set[str]:
    """Every day that a reader of the page finds in its text."""
    return days_in(Parsed(render_page(plan)).told, plan.planned_on.year)


def days_in(text: str, this_year: int) -> set[str]:
    months = [month.casefold() for month in MONTHS]
    return {
        f"{year or this_year}-{months.index(month.casefold()) + 1:02}-{int(day):02}"
        for day, month, year in DAY.findall(text)
    }


@pytest.mark.parametrize("make", PLANS)
def test_days_in_the_page_are_days_of_the_plan(make: object) -> None:
    plan: Plan = make()  # type: ignore[operator]
    shown = days_told(plan)
    assert len(shown) > 10 and shown <= _days_of(plan)


@pytest.mark.parametrize("make", PLANS)
def test_every_day_of_the_json_is_in_the_page(make: object) -> None:
    plan: Plan = make()  # type: ignore[operator]
    page = days_told(plan)
    told = plan_json(in_reasons(plan))
    for task in told["tasks"]:
        for end in ("start", "end"):
            assert task[end][:10] in page, task
    for verdict in told["verdicts"]:
        window = verdict["touch_up"] or {}
        days = [window.get(name) for name in ("earliest", "latest", "latest_if_usual", "day")]
        days += [one["usual_on"] for one in verdict["healing"] if one["milestone"] == "clean"]
        assert {day for day in days if day is not None} <= page


def _days_of(found: object) -> set[str]:
    """Every day anywhere in a record."""
    if isinstance(found, datetime | date):
        return {found.isoformat()[:10]}
    if isinstance(found, str):  # a plan made by hand says some in words
        return days_in(found, 2027)
    if isinstance(found, tuple):
        return {day for one in found for day in _days_of(one)}
    if isinstance(found, Struct):
        return {day for one in asdict(found).values() for day in _days_of(one)}
    return set()


def test_hostile_names_are_text() -> None:
    name = "<img src=x onerror=\"document.title='owned'\"></bdi></style></script>'\""
    text = render_page(renamed(plans.spring_circuit(), name))
    assert "<img" not in text
    assert text.count("</style>") == text.count("</script>") == 1
    assert "&lt;img src=x" in text
    assert Parsed(text).inline == []


def renamed(plan: Plan, name: str) -> Plan:
    """The plan with every name of the keeper's replaced."""
    hostile = reason("is-there-already", fish=FishId(name), water=name)
    return replace(
        plan,
        season=name,
        fish=tuple(
            replace(one, name=name, variety=name, lives_in=name, defects=(Blemish("shimi", name),))
            for one in plan.fish
        ),
        shows=tuple(replace(one, name=name, limits=(hostile,)) for one in plan.shows),
        waters=tuple(replace(one, name=name) for one in plan.waters),
        tasks=tuple(
            replace(one, title=name, note=name, cautions=(name,), water=name, late_cost=name)
            for one in plan.tasks
        ),
        warnings=tuple(replace(one, reason=name) for one in plan.warnings),
        verdicts=tuple(
            replace(one, reasons=(hostile,), cautions=(hostile,)) for one in plan.verdicts
        ),
        changes=tuple(replace(one, what=hostile, why=(hostile,)) for one in plan.changes),
        choice=replace(
            plan.choice, left_out=tuple(replace(o, because=name) for o in plan.choice.left_out)
        ),
    )


def test_every_name_stands_in_isolation_of_direction() -> None:
    """A right-to-left name must not turn the words around it: each stands in a `bdi`."""
    name = "\u05d0\u05d5\u05d9 \u202egnorw"
    text = render_page(renamed(plans.spring_circuit(), name))
    body = text[text.index("<body>") : text.index('<div class="sheets">')]
    bare = re.sub(r"<bdi>.*?</bdi>", "", body, flags=re.DOTALL)
    bare = re.sub(r"<text [^>]*>.*?</text>", "", bare)  # each text of a drawing stands alone
    bare = re.sub(r'data-show="[^"]*"', "", bare)  # shown with unicode-bidi: isolate
    assert name not in bare


def test_the_same_page_whatever_the_hash_seed_and_the_language() -> None:
    code = (
        "import sys, hashlib; sys.path.insert(0, '.');"
        "from tests.outputs.page import plans; from showprep.outputs.page import render_page;"
        "print(hashlib.sha256(render_page(plans.spring_circuit()).encode()).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            check=True,
            text=True,
            env={"PYTHONHASHSEED": number, "LC_ALL": language, "TZ": zone, "PATH": ""},
        ).stdout
        for number, language, zone in (("1", "C", "UTC"), ("2", "tr_TR.UTF-8", "Asia/Tokyo"))
    }
    assert len(digests) == 1


def test_a_season_with_nothing_in_it_still_gives_a_page() -> None:
    empty = Plan("bare", date(2027, 1, 2), "Europe/Dublin", "metric", (), (), (), (), (), (),
                 Choice(0, True))  # fmt: skip
    text = render_page(empty)
    assert "No show is planned" in text
    assert "Nothing more needs your hands" in text


def test_two_hundred_fish_and_twelve_shows_stay_under_three_megabytes() -> None:
    assert len(render_page(large.large_plan(200, 12)).encode()) < 3_000_000


def test_units_are_the_keepers() -> None:
    text = render_page(replace(plans.first_show(), units="us"))
    assert "20.5 in" in text and "52 cm" not in text
    assert "°F" in text


def test_worksheets_are_printed_with_the_others() -> None:
    text = render_page(plans.first_show(), sheets=[Sheet("Bath", (("Fill", ("30 L",)),))])
    assert ">Bath<" in text.replace("<bdi>", "").replace("</bdi>", "")
    assert "30 L" in text


def test_a_page_can_be_sent_to_a_phone() -> None:
    """Eight fish and three shows; 120 fish and five shows."""
    yard, plan = load_yard_and_plan(SAMPLE, date(2027, 3, 20), costs=True)
    assert len(page_of(yard, plan, SAMPLE).encode()) < 220_000
    assert len(render_page(large.large_plan(120, 5, 10)).encode()) < 900_000
