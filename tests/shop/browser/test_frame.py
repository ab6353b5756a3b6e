"""The frame's own pages in a real browser: signing in, with a second factor too, the closed door, what is wrong."""

import base64
import time

import pytest
from axe_playwright_python.sync_playwright import Axe
from django_otp.oath import TOTP

from flueproof.shop.demo_shop.password import DEMO_PASSWORD

pytestmark = pytest.mark.browser


def is_accessible(page):
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), page.url


def code_of(key, later=0):
    made = TOTP(base64.b32decode(key.replace(" ", "")))
    made.time = time.time() + later
    return f"{made.token():06d}"


def type_and_enter(page, text):
    """Type into the field that has the focus, as fast as a scanner, and press Enter; wait for the page that comes."""
    page.keyboard.type(text)
    with page.expect_navigation():
        page.keyboard.press("Enter")


@pytest.mark.parametrize(("width", "height", "scheme"), [(1280, 800, "light"), (820, 1180, "dark")])
@pytest.mark.parametrize("path", ["/me", "/me/password", "/me/second-factor"])
def test_a_persons_own_pages_are_accessible(signed_in, demo_address, path, width, height, scheme):
    page = signed_in("alder", width=width, height=height, scheme=scheme)
    assert page.goto(demo_address + path).status == 200
    is_accessible(page)


@pytest.mark.parametrize(("width", "height", "scheme"), [(1280, 800, "light"), (820, 1180, "dark")])
def test_the_door_and_the_pages_for_what_is_wrong_are_accessible(chromium, demo_address, width, height, scheme):
    context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    page = context.new_page()
    page.goto(demo_address + "/sign-in")
    is_accessible(page)
    for _ in range(5):
        page.locator("#id_username").fill(f"nobody-{scheme}")
        page.locator("#id_password").focus()
        type_and_enter(page, "wrong-one")
    assert page.locator("h1").inner_text().startswith("Wait until ")
    is_accessible(page)
    assert page.goto(demo_address + "/nothing-here").status == 404
    is_accessible(page)
    context.close()


def test_a_second_factor_by_keyboard_from_setting_it_up_to_taking_it_off(signed_in, demo_address):
    page = signed_in("osei", width=820, height=1180, scheme="dark")
    page.goto(demo_address + "/me/second-factor")
    page.get_by_label("Your password").focus()
    type_and_enter(page, DEMO_PASSWORD)
    key = page.locator(".steps .plate").first.inner_text()
    is_accessible(page)
    page.get_by_label("Code now on the phone").focus()
    type_and_enter(page, code_of(key))
    codes = page.locator(".backup-codes li").all_inner_texts()
    assert len(codes) == 10
    is_accessible(page)

    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in")
    page.get_by_label("Name").fill("osei")
    page.get_by_label("Password").focus()
    type_and_enter(page, DEMO_PASSWORD)
    assert "/sign-in/code" in page.url
    is_accessible(page)
    assert page.evaluate("document.activeElement.name") == "code", "the field waits for the figures"
    type_and_enter(page, codes[0])
    assert page.url == demo_address + "/"

    page.goto(demo_address + "/me/second-factor")
    assert "9 backup codes left" in page.locator("main").inner_text()
    is_accessible(page)
    page.get_by_label("Your password").fill(DEMO_PASSWORD)
    page.get_by_role("button", name="Switch off").focus()
    type_and_enter(page, "")
    assert "The second factor is off" in page.locator("#messages").inner_text()


def test_a_password_typed_as_fast_as_a_scan_is_no_search(signed_in, demo_address):
    page = signed_in("vale")
    page.goto(demo_address + "/me/second-factor")
    page.get_by_label("Your password").focus()
    type_and_enter(page, "wrong-but-quick-1")
    assert page.url == demo_address + "/me/second-factor"
    assert "This is not your password." in page.locator("main").inner_text()
