"""Several signatures at the same moment, under the real server: one paper, and no number lost."""

import http.cookiejar
import json
import threading
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path

import pytest

from shop.conftest import PASSWORD
from shop.serving import running_shop

TESTS = Path(__file__).resolve().parents[2]
MAKE = f"""
import sys; sys.path.insert(0, {str(TESTS)!r})
from django.utils import timezone
from flueproof.shop.records.models import Person, Shop
from shop.loaded import load_visit
Shop.objects.update_or_create(pk=1, defaults={{"name": "Harrow Lane (invented)", "address": ["1 Harrow Lane"]}})
def person(name, role):
    return Person.objects.create_user(name, password={PASSWORD!r}, first_name=name, role=role)
person("alder", "signer"), person("reed", "manager")
for record in ("healthy", "no-probe-came"):
    load_visit(record, person("tech-" + record, "technician"), timezone.now())
"""
COUNT = """
import json
from flueproof.shop.records.models import Job, Numbering, Paper, PaperFile
print(json.dumps([list(Paper.objects.order_by("id").values_list("number", "job__number")), PaperFile.objects.count(),
    list(Numbering.objects.filter(prefix="FP").values_list("last", flat=True)),
    sorted(Job.objects.values_list("state", flat=True))]))
"""


class Browser:
    """A person's browser: cookies, and the token of each form sent back."""

    def __init__(self, address):
        self.address, self.jar = address, http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar))

    def get(self, path):
        with self.opener.open(self.address + path, timeout=30) as answer:
            return answer.read().decode()

    def post(self, path, **fields):
        token = next(cookie.value for cookie in self.jar if cookie.name == "csrftoken")
        body = urllib.parse.urlencode({"csrfmiddlewaretoken": token, **fields}).encode()
        try:
            with self.opener.open(self.address + path, body, timeout=30) as answer:
                return answer.status, answer.geturl(), answer.read().decode()
        except urllib.error.HTTPError as error:
            with error:
                return error.code, "", error.read().decode()

    def sign_in(self, name):
        self.get("/sign-in")
        self.post("/sign-in", username=name, password=PASSWORD)
        return self


def seen_on(page):
    return page.split('name="seen" value="')[1].split('"')[0]


@pytest.fixture(scope="module")
def outcome(tmp_path_factory):
    """Eight presses by two people on one record, two of them also on another, all let go at once."""
    with running_shop(tmp_path_factory.mktemp("two-signers"), make=MAKE) as shop:
        people = [Browser(shop.address).sign_in(name) for name in ("alder", "reed")]
        presses = [(who, "J-2026-00001") for who in people for _ in range(4)] + [
            (who, "J-2026-00018") for who in people
        ]
        seen = {job: seen_on(people[0].get(f"/papers/sign/{job}/")) for job in ("J-2026-00001", "J-2026-00018")}
        people[1].get("/papers/sign/J-2026-00001/")
        start, answers = threading.Barrier(len(presses)), []

        def press(who, job):
            start.wait()
            answers.append((job, *who.post(f"/papers/sign/{job}/", seen=seen[job], password=PASSWORD)[:2]))

        threads = [threading.Thread(target=press, args=one) for one in presses]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        return answers, json.loads(shop.python(COUNT))


def test_each_record_has_one_paper_and_the_numbers_have_no_gap(outcome):
    _, (papers, files, last, states) = outcome
    assert sorted(number[-5:] for number, _ in papers) == ["00001", "00002"]
    assert sorted(job for _, job in papers) == ["J-2026-00001", "J-2026-00018"]
    assert (files, last, states) == (12, [2], ["to-return", "to-return"])


def test_everybody_who_pressed_is_shown_that_paper(outcome):
    answers, (papers, *_) = outcome
    assert len(answers) == 10
    by_job = {job: number for number, job in papers}
    for job, status, address in answers:
        assert status == 200
        assert address.endswith(f"/papers/{by_job[job]}/")
