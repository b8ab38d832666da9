"""The page beside the pond in a real browser, as wide as a phone: Chromium, with a real season.

Accessibility: axe-core (npm), rules tagged for WCAG 2.0 to 2.2, levels A and AA.
"""

from __future__ import annotations

import shutil
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from showprep.commands import note
from showprep.commands.pondside import STOP, Pond
from showprep.outputs.home.pond_memory import PondMemory
from showprep.outputs.home.pond_server import serving
from tests.commands.test_pondside import FILES, TODAY, entries
from tests.commands.test_pondside_session import AMOUNT, DAY, SAMPLE, read_off
from tests.outputs.page.conftest import FLAGS, PHONE
from tests.outputs.page.conftest import node_module as node_module
from tests.outputs.page.test_browser import TAGS
from tests.outputs.pondside.pictures import photo

Folder = Callable[[Any], Path]


@pytest.fixture(scope="module")
def browser(outside: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """Starts browsers, each with a profile of its own, that reach this computer alone."""
    webdriver = outside.module("selenium.webdriver")
    service = outside.module("selenium.webdriver.chrome.service").Service
    outside.module("waitress")
    drivers: list[Any] = []

    def start(number: int) -> Any:
        while len(drivers) <= number:
            options = outside.module("selenium.webdriver.chrome.options").Options()
            options.binary_location = outside.program("chromium")
            rules = "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"
            flags = [one for one in FLAGS if not one.startswith("--host-resolver")]
            for flag in (*flags, rules, f"--user-data-dir={tmp_path_factory.mktemp('phone')}"):
                options.add_argument(flag)
            options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
            path = outside.program("chromedriver")
            drivers.append(webdriver.Chrome(options=options, service=service(path)))
        driver = drivers[number]
        size = {"width": PHONE, "height": 740, "deviceScaleFactor": 1, "mobile": True}
        driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})
        offline(driver, False)
        driver.get_log("browser")
        return driver

    yield start
    for driver in drivers:
        driver.quit()


@contextmanager
def served(root: Path, on: date = TODAY) -> Iterator[str]:
    """The page of a season, planned anew in a thread as the command does in its own."""
    memory = PondMemory(root)
    pond = Pond(root, memory, lambda: on)
    pond.plan_anew()
    with serving(pond, memory.token, "127.0.0.1", 0, wanted=memory.port) as address:
        memory.keep_port(int(address.split("/")[2].rpartition(":")[2]))
        planner = threading.Thread(target=pond.follow, daemon=True)
        planner.start()
        try:
            yield address
        finally:
            pond.wishes.put(STOP)
            planner.join(timeout=60)


def until(holds: Callable[[], Any], seconds: float = 15) -> Any:
    """What holds in the end, within some seconds."""
    for _ in range(int(seconds / 0.1)):
        if found := holds():
            return found
        time.sleep(0.1)
    raise AssertionError("it did not come to hold")


def tap(driver: Any, label: str) -> None:
    until(lambda: driver.find_elements("css selector", f'button[aria-label="{label}"]'))[0].click()


def fill(driver: Any, label: str, text: str) -> None:
    found = until(lambda: driver.find_elements("css selector", f'input[aria-label="{label}"]'))
    found[0].send_keys(text + "\n")


def line(driver: Any) -> str:
    return driver.find_element("id", "line").text


def offline(driver: Any, gone: bool) -> None:
    driver.execute_cdp_cmd("Network.enable", {})
    driver.execute_cdp_cmd(
        "Network.emulateNetworkConditions",
        {"offline": gone, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1},
    )


def test_a_phone_without_connection_keeps_its_taps(
    folder: Folder, browser: Any, node_module: Callable[[str], Path]
) -> None:
    root, phone = folder(FILES), browser(0)
    with served(root) as address:
        phone.get(address)
        until(lambda: "Connected" in line(phone))
        engine = node_module("axe-core/axe.min.js").read_text("utf-8")
        assert phone.execute_script("return document.documentElement.scrollWidth") <= PHONE
        lowest = "return Math.min(...[...document.querySelectorAll('button,input')]"
        assert phone.execute_script(lowest + ".map(one => one.offsetHeight))") >= 44

        fill(phone, "°C: main pond", "17,5")
        until(lambda: len(entries(root)) == 1)
        offline(phone, True)
        fill(phone, "cm: Ren", "49.5")
        fill(phone, "cm: Aoi", "520")  # cannot be true
        until(lambda: "kept on this phone: 2" in line(phone))
        until(lambda: "No connection" in line(phone))
        assert len(entries(root)) == 1
        offline(phone, False)
        until(lambda: len(entries(root)) == 2)
        until(lambda: "Not noted: Aoi: 520" in phone.find_element("id", "refused").text)
        until(lambda: "kept" not in line(phone))
        phone.execute_cdp_cmd("Page.enable", {})
        found = _checked(phone, engine)
        assert found == []
        tap(phone, "Take it back: Ren: 49.5")
        until(lambda: "undone" in entries(root)[-1])
    kinds = [one.get("saw") or one.get("did") for one in entries(root)]
    assert kinds == ["temperature", "measure", "measure"]
    complaints = [one["message"] for one in phone.get_log("browser")]
    assert [one for one in complaints if "Content Security" in one or "Uncaught" in one] == []


def _checked(driver: Any, engine: str) -> list[str]:
    """What axe finds; it is put in past the page's policy, which would refuse it."""
    driver.execute_cdp_cmd("Runtime.evaluate", {"expression": engine})
    found = driver.execute_async_script(
        "const done = arguments[arguments.length - 1];"
        "axe.run(document, {runOnly: arguments[0], resultTypes: ['violations']}).then(done)",
        TAGS,
    )
    return [f"{one['id']}: {one['nodes'][0]['html']}" for one in found["violations"]]


def test_two_phones_and_a_server_that_goes_away_lose_and_double_nothing(
    folder: Folder, browser: Any
) -> None:
    root, one, other = folder(FILES), browser(0), browser(1)
    with served(root) as address:
        for phone in (one, other):
            phone.get(address)
            until(lambda phone=phone: "Connected" in line(phone))
        fill(one, "°C: main pond", "17.5")
        fill(other, "°C: isolation vat", "22.5")
        until(lambda: len(entries(root)) == 2)
    fill(one, "cm: Ren", "49.5")
    fill(other, "cm: Aoi", "53.5")
    until(lambda: "kept on this phone: 1" in line(one) and "kept on this phone: 1" in line(other))
    with served(root) as again:
        assert again == address
        until(lambda: len(entries(root)) == 4)
        until(lambda: "kept" not in line(one) + line(other))
        # What one has written, the other sees.
        until(lambda: "53.5 cm" in one.find_element("id", "lengths").text, 40)
    assert len(entries(root)) == 4


@pytest.mark.parametrize("why", ["full", "forbidden"])
def test_a_phone_that_keeps_nothing_says_so_and_sends_all_the_same(
    folder: Folder, browser: Any, why: str
) -> None:
    root, phone = folder(FILES), browser(0)
    full = "Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); }"
    none = (
        "Object.defineProperty(window, 'localStorage',"
        " {get() { throw new DOMException('', 'SecurityError'); }})"
    )
    source = full if why == "full" else none
    found = phone.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": source})
    try:
        with served(root) as address:
            phone.get(address)
            until(lambda: "This phone keeps nothing" in line(phone))
            fill(phone, "cm: Ren", "49.5")
            until(lambda: "kept on" not in line(phone) and len(entries(root)) == 1)
            offline(phone, True)
            fill(phone, "°C: main pond", "17.5")
            fill(phone, "cm: Aoi", "53.5")
            until(lambda: "kept on this phone: 2" in line(phone))
            offline(phone, False)
            until(lambda: len(entries(root)) == 3)
            until(lambda: "kept on" not in line(phone))
            until(lambda: "53.5" in phone.find_element("id", "log").text)
    finally:
        phone.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", found)


def test_hostile_names_run_nothing(folder: Folder, browser: Any) -> None:
    owned = "<img src=x onerror=document.title=1>"
    files = {**FILES, "fish.yaml": FILES["fish.yaml"].replace("name: Ren", f'name: "{owned}"')}
    with served(folder(files)) as address:
        phone = browser(0)
        phone.get(address)
        until(lambda: "Connected" in line(phone))
        assert owned in phone.find_element("id", "lengths").text
        assert phone.find_elements("css selector", "img") == []
        assert phone.title != "1"


def take_photo(phone: Any, name: str, path: Path) -> None:
    """What the camera hands the page: a file."""
    field = f'input[type=file][aria-label="Take a photo: {name}"]'
    until(lambda: phone.find_elements("css selector", field))[0].send_keys(str(path))
    until(lambda: "New photo" in phone.find_element("tag name", "main").text)


def pictures(phone: Any) -> list[str]:
    """The pictures that were drawn, by where they are from."""
    return phone.execute_script(
        "return [...document.images].filter(one => one.naturalWidth).map(one => one.src)"
    )


def test_a_photo_taken_without_connection_comes_home_once(
    folder: Folder, browser: Any, node_module: Callable[[str], Path], tmp_path: Path, outside: Any
) -> None:
    image = outside.module("PIL.Image")
    root, phone, other = folder(FILES), browser(0), browser(1)
    camera = tmp_path / "camera.jpg"
    camera.write_bytes(photo(3_000, 2_000, orientation=6))
    with served(root) as address:
        for one in (phone, other):
            one.get(address)
            until(lambda one=one: "Connected" in line(one))
        offline(phone, True)
        take_photo(phone, "Aoi", camera)
        assert len(until(lambda: pictures(phone))) == 1
        # Another is taken, and one left out, before anything is noted.
        tap(phone, "Leave the photo out: Aoi")
        assert pictures(phone) == []
        take_photo(phone, "Aoi", camera)
        tap(phone, "Not yet: Aoi")
        until(lambda: "kept on this phone: 1" in line(phone))
        assert "with a photo" in phone.find_element("id", "log").text
        assert not (root / "photos").exists()
    # The page is closed and the program stopped; both come back, and the photo is still there.
    offline(phone, False)
    with served(root) as again:
        assert again == address
        phone.get(address)
        (entry,) = until(lambda: entries(root))
        until(lambda: "kept" not in line(phone))
        (place,) = (root / "photos").iterdir()
        assert entry == {
            "on": "2027-05-10",
            "saw": "not clean",
            "fish": "aoi",
            "photo": f"photos/{place.name}",
        }
        with image.open(place) as kept:
            assert kept.size == (1_067, 1_600)  # upright, and made small on the phone
            red, _, blue = kept.getpixel((500, 100))
            assert red > 150 > blue
            assert not kept.getexif()
        # Beside the last one the next is taken, on the other phone too.
        for one in (phone, other):
            until(lambda one=one: "Last photo, Mon 10 May" in one.page_source, 40)
            until(lambda one=one: [src for src in pictures(one) if "photo?of=" in src])
        take_photo(other, "Aoi", camera)
        until(lambda: len(pictures(other)) == 2)
        assert _fits(other)
        assert _checked(other, node_module("axe-core/axe.min.js").read_text("utf-8")) == []
        assert (
            phone.execute_async_script(
                "const done = arguments[0];"
                "inStore('readonly', photos => photos.getAllKeys()).then(one => done(one.length))"
            )
            == 0
        )
        # What is no picture is told at once, and never sent.
        wrong = tmp_path / "wrong.jpg"
        wrong.write_bytes(b"no photo")
        field = phone.find_element("css selector", 'input[aria-label="Take a photo: Aoi"]')
        field.send_keys(str(wrong))
        until(lambda: "cannot read that picture" in phone.find_element("tag name", "main").text)
        tap(phone, "Worse: Aoi")
        until(lambda: len(entries(root)) == 2)
        assert "photo" not in entries(root)[1]
    for one in (phone, other):
        complaints = [each["message"] for each in one.get_log("browser")]
        assert [
            each for each in complaints if "Content Security" in each or "Uncaught" in each
        ] == []


def checked_session(phone: Any, address: str) -> Any:
    """A session of which a second person has read jug and label; what the page holds of it."""
    phone.get(address)
    until(lambda: phone.find_elements("css selector", "form.second"))
    told = phone.execute_script("return state.sessions[0]")
    for name, text in read_off(told).items():
        for field in phone.find_elements("css selector", f"form.second input[name={name}]"):
            field.send_keys(text)
    phone.find_element("css selector", "form.second button").click()
    until(lambda: "MEASURE" in phone.find_element("id", "sessions").text)
    return told


def loaded_anew(phone: Any, ahead_ms: int) -> None:
    """The page again, with the phone's clock of the day so far ahead of the true one."""
    found = phone.execute_cdp_cmd(
        "Page.addScriptToEvaluateOnNewDocument",
        {"source": f"{{const now = Date.now; Date.now = () => now() + {ahead_ms};}}"},
    )
    phone.refresh()
    phone.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", found)


def test_clocks_outlive_a_reload_and_a_phone_that_slept(
    tmp_path: Path, browser: Any, node_module: Callable[[str], Path]
) -> None:
    root, phone = tmp_path / "season", browser(0)
    shutil.copytree(SAMPLE, root, ignore=shutil.ignore_patterns(".showprep"))
    fish = root / "fish.yaml"  # of one water Aoi and Fumi heal in the vat together
    fish.write_text(fish.read_text("utf-8").replace("koi house", "garden pond"), "utf-8")
    with served(root, DAY) as address:
        told = checked_session(phone, address)
        name, other = (one["name"] for one in told["fish"][:2])
        tap(phone, f"In the bath now: {name}")

        # Two minutes later the page is loaded anew.
        loaded_anew(phone, 120_000)
        until(lambda: "In the bath 2:0" in phone.find_element("css selector", ".clock").text)
        clocks = phone.find_element("id", "clocks")
        for rule in told["stop"]:
            assert rule in clocks.text
        assert not AMOUNT.search(phone.find_element("tag name", "body").get_property("textContent"))
        assert not AMOUNT.search(phone.execute_script("return JSON.stringify(localStorage)"))
        # The clocks stand before the sheet, and those of the others wait.
        first = "return clocks.compareDocumentPosition(sessions) & Node.DOCUMENT_POSITION_FOLLOWING"
        assert phone.execute_script(first)
        assert phone.find_elements("css selector", f'button[aria-label="In the bath now: {other}"]')

        # The phone slept past the longest bath: its steady clock stood still, that of the day not.
        late = int(told["limits"]["bath_s"] * 1000) + 1000
        loaded_anew(phone, late)
        alert = until(lambda: phone.find_elements("css selector", "[role=alert]"))[0]
        until(lambda: told["stop"][2] in alert.text)
        assert f"STOP: {name}" in phone.find_element("id", "alarm").text
        assert _fits(phone)
        assert _checked(phone, node_module("axe-core/axe.min.js").read_text("utf-8")) == []
        tap(phone, f"Out, on the cloth: {name}")
        until(lambda: "Out of the water 0:0" in phone.find_element("css selector", ".clock").text)

        # The clock of the day was set back: nothing is shown as less than it may be, unsaid.
        loaded_anew(phone, late - 60_000)
        until(lambda: "was set back" in phone.find_element("id", "clocks").text)

        loaded_anew(phone, late + 90_000)
        tap(phone, f"Into clean water: {name}")
        tap(phone, f"Upright: {name}")
        tap(phone, f"Note the touch-up: {name}")
        (entry,) = until(lambda: entries(root))
        assert float(entry["minutes_to_recovery"]) == pytest.approx(1.5, abs=0.4)

        # The page dies between the tap and the clock's own word of it: tapped again it counts once.
        phone.execute_script(
            "for (const key of Object.keys(localStorage)) if (key.startsWith(CLOCK)) {"
            "const one = JSON.parse(localStorage[key]); delete one.at.noted; keep(key, one); }"
        )
        loaded_anew(phone, late + 100_000)
        tap(phone, f"Note the touch-up: {name}")
        until(lambda: "written down before" in phone.find_element("id", "log").text)
        assert len(entries(root)) == 1

        # Put away by two taps, and gone for good.
        away = "#clocks button.quiet"
        phone.find_element("css selector", away).click()
        assert "Tap again" in phone.find_element("css selector", away).text
        phone.find_element("css selector", away).click()
        assert phone.find_elements("css selector", ".clock") == []
        loaded_anew(phone, late + 100_000)
        until(lambda: "Connected" in line(phone))
        assert phone.find_elements("css selector", ".clock") == []


def test_clocks_of_another_day_are_put_away(tmp_path: Path, browser: Any) -> None:
    root, phone = tmp_path / "season", browser(0)
    shutil.copytree(SAMPLE, root, ignore=shutil.ignore_patterns(".showprep"))
    with served(root, DAY) as address:
        told = checked_session(phone, address)
        tap(phone, f"In the bath now: {told['fish'][0]['name']}")
        loaded_anew(phone, 25 * 3_600_000)
        until(lambda: "Connected" in line(phone))
        assert phone.find_elements("css selector", ".clock") == []


def _fits(phone: Any) -> bool:
    return bool(phone.execute_script("return document.documentElement.scrollWidth") <= PHONE)


def test_a_session_from_the_second_person_to_the_journal(
    tmp_path: Path, browser: Any, node_module: Callable[[str], Path]
) -> None:
    root, phone = tmp_path / "season", browser(0)
    shutil.copytree(SAMPLE, root, ignore=shutil.ignore_patterns(".showprep"))
    with served(root, DAY) as address:
        phone.get(address)
        until(lambda: phone.find_elements("css selector", "form.second"))
        sessions = phone.find_element("id", "sessions")
        told = phone.execute_script("return state.sessions[0]")
        read = read_off(told)

        def check(litres: str) -> None:
            for name, text in {**read, "litres": litres}.items():
                for field in phone.find_elements("css selector", f"form.second input[name={name}]"):
                    field.clear()
                    field.send_keys(text)
            phone.find_element("css selector", "form.second button").click()

        check("300")
        until(lambda: "another bath" in sessions.text)
        assert not AMOUNT.search(sessions.get_property("textContent").split("another bath")[0])
        assert phone.find_elements("css selector", ".clock") == []
        check(read["litres"])
        until(lambda: "MEASURE" in sessions.text)
        for rule in told["stop"]:
            assert rule in phone.find_element("id", "clocks").text
        assert _checked(phone, node_module("axe-core/axe.min.js").read_text("utf-8")) == []
        assert phone.execute_script("return document.documentElement.scrollWidth") <= PHONE

        name = told["fish"][0]["name"]
        tap(phone, f"In the bath now: {name}")
        tap(phone, f"Rolled over: {name}")
        until(lambda: "too strong" in phone.find_element("css selector", "[role=alert]").text)
        tap(phone, f"Out, on the cloth: {name}")
        until(lambda: "Out of the water 0:0" in phone.find_element("css selector", ".clock").text)
        # Half an hour later by the phone's clock it is still not upright.
        later = (
            "const now = performance.now.bind(performance); performance.now = () => now() + 18e5"
        )
        phone.execute_script(later)
        tap(phone, f"Into clean water: {name}")
        until(lambda: "call a vet" in phone.find_element("css selector", "[role=alert]").text)
        tap(phone, f"Upright: {name}")
        # Refused, it may be noted again with the minutes of its clock, and is written once.
        fish = told["fish"][0]["id"]
        note.run(root, {"did": "sold"}, [fish], DAY)
        tap(phone, f"Note the touch-up: {name}")
        until(lambda: "Not noted" in phone.find_element("id", "refused").text)
        note.run(root, {"did": "sold"}, [fish], DAY, undo=True)
        until(lambda: "Not noted" in phone.find_element("css selector", ".clock").text)
        tap(phone, f"Note the touch-up: {name}")
        entry = until(lambda: next((e for e in entries(root) if e.get("did") == "touch-up"), None))
        until(lambda: phone.find_element("css selector", ".clock").text == "noted")
        until(lambda: len(entries(root)) == 3)
    assert (entry["did"], entry["fish"]) == ("touch-up", told["fish"][0]["id"])
    assert float(entry["minutes_to_recovery"]) >= 30
