"""Take the handbook's pictures of the living demo shop: its pages as a person sees them.

Run `.venv/bin/python scripts/screenshots.py` after a change of the pages' looks; it needs what dev.lock lists and a
Chromium, Chrome or Edge. The demo's seed is fixed; days and times in the pictures are those of the day they are taken.
"""

from __future__ import annotations

import io
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import Page, sync_playwright

from flueproof.shop.demo_shop.password import DEMO_PASSWORD
from flueproof.simulate.live.analyzer import LiveAnalyzer

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "scripts")]
from browser_for_tests import installed_browser  # noqa: E402 -- beside this script

from shop.browser import from_request_to_return as way  # noqa: E402 -- the steps that a test clicks too
from shop.serving import running_shop  # noqa: E402 -- the tests' own server

FOLDER = ROOT / "docs" / "images"
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 820, "height": 1180}
COLORS = 128
FLUE = "/flue/?fuel=natural-gas-us&unit=degF&o2=5.0&stack=392&air=68&co=100"
WAY_PICTURES = {"box-recognized", "box-condition", "answer-by-link", "asked-on-the-phone", "promises", "pack-out"}
BUILD = """
from django.utils import timezone
from flueproof.shop.demo_shop.building import build_demo_shop
build_demo_shop(timezone.localtime())
"""
ON_GAS = """
from flueproof.shop.records.models import Job
rows = Job.objects.filter(state="arrived", analyzer__profile="two-cell-residential", owner__call_first=False)
print(rows.order_by("-pk").first().analyzer.serial)
"""
LOW = """
from flueproof.shop.records.models import Duty
print(Duty.objects.filter(kind="co-low").order_by("pk").first().analyzer_id)
"""
FIELD_LOG = "date,site,O2,CO,stack degF,air degF\n" + "".join(
    f"2026-{1 + number % 9:02d}-{1 + 7 * number % 27:02d},House {number} (invented),"
    f"{4 + number * 7 % 6}.{number % 10},{(20, 45, 95, 150, 240, 330)[number % 6]},{340 + 11 * number % 120},70\n"
    for number in range(1, 25)
)


def main() -> None:
    """Build a demo shop, serve it, and take each picture."""
    with (
        tempfile.TemporaryDirectory(prefix="flueproof-pictures-") as folder,
        running_shop(Path(folder), make=BUILD) as shop,
        sync_playwright() as tool,
    ):
        chromium = tool.chromium.launch(executable_path=installed_browser(), args=["--no-sandbox"])
        for who, name, path in (
            ("marsh", "jobs", "/"),
            ("vale", "gas-rack", "/gas/"),
            ("vale", "parts", "/parts/"),
            ("vale", "flue", FLUE),
        ):
            page = signed_in(chromium, shop.address, who)
            page.goto(shop.address + path)
            take(page, name)
        page = signed_in(chromium, shop.address, "vale")
        page.goto(shop.address + "/?state=bench")
        page.goto(shop.address + str(page.locator("a[href^='/bench/J']").first.get_attribute("href")))
        take(page, "bench")
        page = signed_in(chromium, shop.address, "alder")
        page.goto(shop.address + "/?state=to-sign")
        page.goto(shop.address + str(page.locator("a[href^='/papers/sign']").first.get_attribute("href")))
        page.locator(".pictures img").first.wait_for()
        take(page, "signing")
        page = signed_in(chromium, shop.address, "marsh")
        page.goto(shop.address + "/duties/")
        take(page, "duties")
        page.locator(".call .act").first.click()
        page.locator("svg.shown-true").wait_for()
        take(page, "duty")
        field_log(page, shop.address, shop.python(LOW).strip())
        page = signed_in(chromium, shop.address, "vale", TABLET, "dark")
        put_on_gas(page, shop.address, shop.python(ON_GAS).strip())
        take(page, "live-dark")
        through_the_counter(chromium, shop)
        chromium.close()


def field_log(page: Page, address: str, analyzer: str) -> None:
    """Show what was found of an analyzer, and work an owner's log through against a limit of the owner's."""
    page.goto(f"{address}/impact/{analyzer}/")
    page.locator(".channel svg").first.scroll_into_view_if_needed()
    page.locator("#found-head").evaluate("one => scrollTo(0, one.getBoundingClientRect().top + scrollY - 24)")
    take(page, "impact")
    page.locator("#log_text").fill(FIELD_LOG)
    page.get_by_label("Limit 1, name").fill("House rule (invented)")
    page.get_by_label("Limit 1, value").fill("250")
    page.get_by_role("button", name="Work it through").click()
    page.locator("#result").wait_for()
    page.locator("#result").evaluate("one => scrollTo(0, one.getBoundingClientRect().top + scrollY - 24)")
    take(page, "field-log")


def signed_in(chromium: Any, address: str, who: str, size: dict[str, int] | None = None, scheme: Any = "light") -> Page:
    """Return a page on which a person of the demo has signed in."""
    page: Page = chromium.new_context(viewport=size or DESK, color_scheme=scheme).new_page()
    page.goto(address + "/sign-in")
    page.fill("[name=username]", who)
    page.fill("[name=password]", DEMO_PASSWORD)
    page.click("main button")
    page.wait_for_load_state("networkidle")
    return page


def through_the_counter(chromium: Any, shop: Any) -> None:
    """Ask for a service, let the box come without its slip, ask about it, promise it; pack another and ship it."""
    who, owner = way.chosen(shop), chromium.new_context(viewport=DESK).new_page()
    way.ask_for_it(owner, shop.address, who, unseen)
    way.send_it(owner, shop.address, shop, who, unseen)
    page = signed_in(chromium, shop.address, "marsh")
    way.recognize(page, shop.address, who, seen)
    way.ask_for_the_hose(page, seen)
    way.answer_by_link(owner, shop.address, shop, seen)
    number = shop.python(way.JOB, who["serial"]).strip()
    way.ask_for_a_rush(page, shop.address, number, seen)
    page.locator("svg.week, main svg[role=img]").first.scroll_into_view_if_needed()
    take(page, "promises-week")
    way.send_back(page, shop.address, shop.python(way.TO_GO_BACK).strip(), seen)


def seen(name: str, page: Page) -> None:
    """Take the picture of a moment on the way, without the message that passes by."""
    page.evaluate("document.getElementById('messages')?.replaceChildren()")
    if name in WAY_PICTURES:
        take(page, name)


def unseen(_name: str, _page: Page) -> None:
    """Leave a moment without a picture."""


def put_on_gas(page: Page, address: str, serial: str) -> None:
    """Take an analyzer to its first gas and let the simulator's readings arrive as a logger's file."""
    page.goto(f"{address}/bench/")
    page.fill("#scan-text", serial)
    page.press("#scan-text", "Enter")
    for field in ("[name=water][value=dry]", None, None):
        page.wait_for_load_state("networkidle")
        was = page.locator("#next-head").inner_text()
        page.keyboard.press("F4")
        form = page.locator("#step-here form")
        form.wait_for()
        if field:
            form.locator(field).check()
        elif form.locator("[name=air]").count():
            for name, value in (("air", "70"), ("humidity_pct", "40"), ("pressure_hpa", "1010"), ("room_co_ppm", "0")):
                form.locator(f"[name={name}]").fill(value)
        page.keyboard.press("F2")
        form.wait_for(state="detached")
        page.wait_for_function("was => document.querySelector('#next-head')?.innerText !== was", arg=was)
    page.locator("form.begin [name=code]").select_option("cyl-co-500")
    page.locator("form.begin [name=vent_open][value=yes]").check()
    page.keyboard.press("F4")
    page.locator("[data-start] button").wait_for()
    page.keyboard.press("F7")
    page.keyboard.press("F7")  # it still warms up and asks once; a picture needs no warm unit
    page.locator(".live-timer.on").wait_for()
    page.wait_for_load_state("networkidle")
    page.locator("[data-by-itself]").uncheck()
    page.locator(".live-ending summary").click()
    log = {"name": "log.csv", "mimeType": "text/csv", "buffer": logged(LiveAnalyzer(seed=6))}
    page.set_input_files("input[type=file][name=file]", files=[log])
    page.get_by_role("button", name="Take the file in").click()
    page.locator(".channel .digits").first.wait_for()
    page.evaluate("for (const one of document.querySelectorAll('.live-ending details')) one.open = false")
    page.evaluate("document.getElementById('messages').replaceChildren()")
    page.locator(".live-head").scroll_into_view_if_needed()
    time.sleep(1.0)


def logged(analyzer: Any, seconds: int = 46) -> bytes:
    """Return what a logger kept of the first seconds on the demo's bottle."""
    analyzer.step(60.0)
    rows = ["time_s,co_ppm,o2_%"]
    analyzer.gas_on("cyl-co-500")
    for second in range(seconds):
        shown = {one.channel: one.shown for one in analyzer.step(1.0)}
        rows.append(f"{second},{shown['co']},{shown['o2']}")
    return "\n".join(rows).encode()


def take(page: Page, name: str) -> None:
    """Keep the picture of a page, in few colors so that it stays small."""
    page.wait_for_load_state("networkidle")
    picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    target = FOLDER / f"{name}.png"
    picture.quantize(COLORS, dither=Image.Dither.NONE).save(target, optimize=True)
    print(f"{target.name}: {target.stat().st_size / 1024:.0f} kB")


if __name__ == "__main__":
    main()
