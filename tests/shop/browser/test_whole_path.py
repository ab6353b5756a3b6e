"""The whole path in a real browser: from the box on the counter to the signed certificate.

The simulator is the analyzer: what it shows on the demo's gas is brought in as a logger's file or typed. The profile
asks for two minutes of warm-up after switching on, and the test waits for them as a person would.
"""

import time

import pytest
from playwright.sync_api import expect

from flueproof.shop.demo_shop.password import DEMO_PASSWORD
from flueproof.simulate.live.analyzer import LiveAnalyzer

pytestmark = pytest.mark.browser

ARRIVED = """
from flueproof.shop.records.models import Job
job = Job.objects.filter(state="arrived", analyzer__profile="two-cell-residential", owner__due_agreed=True,
                         owner__call_first=False).order_by("-pk").first()
print(job.analyzer.serial, job.number)
"""


class Bench:
    """A person at the bench page, by keys, with a simulated analyzer in the hand."""

    def __init__(self, page):
        self.page = page
        self.analyzer = LiveAnalyzer(seed=6)

    def next_is(self, words):
        head = self.page.locator("#next-head")
        expect(head).to_contain_text(words, timeout=30_000)

    def open_form(self):
        self.page.wait_for_load_state("networkidle")
        self.page.keyboard.press("F4")
        self.page.locator("#step-here form").wait_for()
        return self.page.locator("#step-here form")

    def record(self):
        self.page.keyboard.press("F2")
        self.page.locator("#step-here form").wait_for(state="detached")

    def shown(self, channel):
        """What the display shows once it has settled."""
        for _ in range(240):
            readings = self.analyzer.step(1.0)
        return str(next(one.shown for one in readings if one.channel == channel))

    def log_on_gas(self, bottle):
        """Put a bottle on and return what the display shows, second by second, as a logger's file."""
        self.analyzer.step(60.0)
        rows = ["time_s,co_ppm,o2_%"]
        self.analyzer.gas_on(bottle)
        for second in range(121):
            shown = {one.channel: one.shown for one in self.analyzer.step(1.0)}
            rows.append(f"{second},{shown['co']},{shown['o2']}")
        self.analyzer.gas_off()
        return "\n".join(rows).encode()


@pytest.fixture
def bench(signed_in):
    return Bench(signed_in("reed"))


def test_from_the_box_to_the_signed_certificate(bench, demo_shop):
    serial, number = demo_shop.python(ARRIVED).split()
    page = bench.page
    page.goto(f"{demo_shop.address}/bench/")
    page.locator("#scan-text:focus").wait_for()
    page.keyboard.insert_text(serial)
    page.keyboard.press("Enter")

    bench.next_is("Drain trap and hose")
    bench.open_form().locator("[name=water][value=dry]").check()
    bench.record()
    bench.next_is("Log the room")
    form = bench.open_form()
    for name, value in (("air", "70"), ("humidity_pct", "40"), ("pressure_hpa", "1010"), ("room_co_ppm", "0")):
        form.locator(f"[name={name}]").fill(value)
    bench.record()
    bench.next_is("Switch on")
    bench.open_form()
    bench.record()
    switched_on = time.monotonic()
    bench.next_is("Put cyl-co-500 on at the probe tip.")
    time.sleep(max(121.0 - (time.monotonic() - switched_on), 0.0))

    page.locator("form.begin [name=code]").select_option("cyl-co-500")
    page.locator("form.begin [name=vent_open][value=yes]").check()
    page.keyboard.press("F4")
    page.locator("[data-start] button").wait_for()
    page.keyboard.press("F7")
    page.locator(".live-timer.on").wait_for()
    page.wait_for_load_state("networkidle")
    page.locator(".live-ending summary").click()
    log = {"name": "log.csv", "mimeType": "text/csv", "buffer": bench.log_on_gas("cyl-co-500")}
    page.set_input_files("input[type=file][name=file]", files=[log])
    page.get_by_role("button", name="Take the file in").click()
    page.locator(".live-trace .enough").first.wait_for()
    page.locator("[data-finish] button").click()

    bench.next_is("Plug the tip")
    form = bench.open_form()
    form.locator("[name=pump][value=stalls]").check()
    form.locator("[name=hiss][value=yes]").check()
    bench.record()
    bench.next_is("a reference between 212 and 752 °F")
    form = bench.open_form()
    bench.analyzer.temperature(200.0)
    form.locator("[name=reference_value]").fill("392")
    form.locator("[name=shown_1]").fill(bench.shown("stack"))
    bench.record()
    bench.next_is("Draft, one point of suction")
    form = bench.open_form()
    bench.analyzer.draft(-25.0)
    form.locator("[name=reference_value]").fill("-0.1004")
    form.locator("[name=shown_1]").fill(bench.shown("draft"))
    bench.record()

    bench.next_is("ready to sign")
    page.get_by_role("button", name="to the signature").first.click()
    page.wait_for_url("**/papers/sign/**")
    page.locator(".pictures img").first.wait_for()
    assert "Conforms at all points tested." in page.locator("main").inner_text()
    page.locator("[name=password]").fill(DEMO_PASSWORD)
    page.get_by_role("button", name="Sign the certificate").click()
    page.get_by_role("heading", name="FP-").first.wait_for()
    files = page.locator("main").inner_text()
    for name in ("certificate.pdf", "sticker.pdf", "record.json", "judgement.json"):
        assert name in files
    assert (
        demo_shop.python(
            f"from flueproof.shop.records.models import Job; print(Job.objects.get(number={number!r}).state)"
        )
        == "to-return\n"
    )
