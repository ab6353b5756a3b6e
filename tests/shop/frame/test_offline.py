"""The shop works on a network without a way out: no page reaches for anything that is not the shop's own."""

import datetime as dt
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.test import Client
from django.utils import timezone
from django_otp.plugins.otp_totp.models import TOTPDevice

from flueproof.shop.demo_shop.building import build_demo_shop
from flueproof.shop.demo_shop.filling.letters import PUBLIC_ADDRESS
from flueproof.shop.records.models import Job, Person, Reference, Webhook
from flueproof.shop.records.visits.applications import begin_application, running
from shop.conftest import signed_in
from shop.cylinders import make_cylinder
from shop.every_page import doors

from .crawling import Page, leaves_the_shop, walk

# From where every page can be reached by links; a measurement runs, so that its panel is one of them.
STARTS = {
    "marsh": ["/", "/jobs/new", "/me", "/me/password", "/me/second-factor", "/search?q=inv"],
    "vale": ["/bench/", "/gas/morning", "/live/set"],
    "alder": ["/papers/"],
    "reed": ["/", "/house/", "/house/people", "/house/tokens", "/house/webhooks", "/house/rights", "/api/v1/docs"],
    "quay": ["/papers/"],
    "osei": ["/"],
}
# An e-mail carries its own styles, and is shown in a locked frame under a policy of its own.
E_MAILS = {"mail:letter-html", "mail:preview"}
PLAN = {
    "kind": "test-gas", "phase": "as-found", "point": None, "path": {"feed": "tip", "probe": "owner"}, "extra": {},
    "feed": {"supply_l_min": 1.8, "vent_open": True}, "channels": [{"channel": "co", "unit": "ppm", "step": 1}],
}  # fmt: skip


def begin(visit, **group):
    """Let a measurement run at a visit."""
    vale = Person.objects.get(username="vale")
    gas = Reference.objects.filter(kind="test-gas", state="in-use").first()
    begin_application(visit, PLAN, gas, vale, timezone.now(), **group)


@pytest.fixture
def pages(db):
    """Every page of the demo shop as every person, and as a stranger: (view, page)."""
    build_demo_shop(dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC))
    visits = [job.visits.last() for job in Job.objects.filter(state="bench") if job.visits.exists()]
    alone, in_a_set = [visit for visit in visits if running(visit) is None][:2]
    begin(alone)
    begin(in_a_set, group="group-1")
    make_cylinder("CYL-NEW", state="new")
    Webhook.objects.create(url="https://receiver.example/", secret="s" * 40)
    osei = Person.objects.get(username="osei")
    TOTPDevice.objects.create(user=osei, name="phone", confirmed=True)
    more = [f"/bench/{alone.job.number}/", f"/live/{alone.pk}/follow", "/live/set/group-1", "/gas/compare/CYL-NEW"]
    starts = {**STARTS, "vale": [*STARTS["vale"], *more]}
    found = list(walk(Client(), ["/sign-in", "/sign-in?next=/gas/"]))
    for name, addresses in starts.items():
        found += walk(signed_in(Person.objects.get(username=name)), addresses)
    return found


def test_no_page_leaves_the_shop_or_holds_inline_script_or_style(pages):
    """The one address with a host stands in an e-mail as it is shown: the link that leads its owner to this shop."""
    out = {
        f"{page.address}: <{tag} {attribute}={address!r}>"
        for _, page in pages
        for tag, attribute, address in page.reaches
        if leaves_the_shop(address) and not (tag == "a" and address.startswith(f"{PUBLIC_ADDRESS}/answer/"))
    }
    assert out == set()
    held = {(view, f"{page.address}: {what}") for view, page in pages for what in page.forbidden}
    assert {what for view, what in held if not (view in E_MAILS and what.endswith("<style>"))} == set()
    seen, known = {view for view, _ in pages}, {door.name for door in doors()}
    assert len(seen & known) > 65, sorted(known - seen)
    assert {"live:panel", "live:set-running", "frame:code", "gas_rack:compare", "house:webhook"} <= seen


def test_no_error_page_leaves_the_shop(client, shop):
    client.raise_request_exception = False
    page = Page("/nothing-here")
    page.feed(client.get("/nothing-here").content.decode())
    assert [reached for reached in page.reaches if leaves_the_shop(reached[2])] == page.forbidden == []
    assert page.reaches


def static_files(*ends):
    for finder in finders.get_finders():
        for path, storage in finder.list([]):
            if path.endswith(ends):
                yield path, storage.path(path)


def ours():
    """Return (path, text) of every style sheet, script and drawing of our own."""
    files = [(path, Path(full)) for path, full in static_files(".css", ".js", ".svg")]
    return [(path, full.read_text(encoding="utf-8")) for path, full in files if "flueproof" in full.parts]


def test_no_style_sheet_script_or_drawing_of_ours_names_a_foreign_address():
    files = ours()
    assert len(files) > 30
    for path, text in files:
        named = re.findall(r"""(?:https?:|["'(])//[^\s"')]+""", text)
        assert [one for one in named if not one.startswith("http://www.w3.org/")] == [], path


def test_no_script_of_ours_makes_code_from_text_or_sets_inline_styles():
    made = re.compile(r"""\beval\(|new Function\(|setAttribute\(\s*["'](style|on\w+)["']""")
    assert [path for path, text in ours() if path.endswith(".js") and made.search(text)] == []


def test_the_walk_sees_what_it_looks_for():
    page = Page("/x/")
    page.feed(
        '<a href="https://elsewhere.example/">x</a><img src="//cdn.example/x.png"><p style="color:red" onclick="x()">'
        '<script>alert(1)</script><script src="/static/x.js"></script><style>p {}</style><a href="javascript:x()">'
        '<button hx-on:click="x()" hx-get="/y/"></button><svg><image href="http://elsewhere.example/z.svg"/></svg>'
    )
    assert [address for _, _, address in page.reaches if leaves_the_shop(address)] == [
        "https://elsewhere.example/",
        "//cdn.example/x.png",
        "javascript:x()",
        "http://elsewhere.example/z.svg",
    ]
    assert len(page.forbidden) == 6
    assert page.leads_to[-1] == "/y/"
