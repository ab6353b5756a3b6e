"""Two at the same time, on the real server: one answer counts, and two senders send every letter once."""

import http.cookiejar
import json
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections import Counter

import pytest

from shop.records.mailing.smtp_server import small_mail_server
from shop.serving import running_shop

LETTERS, CLIENTS = 24, 6
MAKE = """
import datetime as dt
from django.utils import timezone
from flueproof.shop.records.mailing.links import make_link
from flueproof.shop.records.mailing.questions import ask
from flueproof.shop.records.models import Analyzer, Job, Letter, Owner, Person, Shop
shop = Shop.here()
shop.public_address, shop.phone = "http://bench.example", "555-0199"
shop.save()
person = Person.objects.create_user("counter", password="x", role="counter")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
unit = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial="O5-1", profile="two-cell-residential")
now = timezone.now()
job = Job.objects.create(number="J-2026-00001", owner=firm, analyzer=unit, state="arrived", opened_at=now)
question = ask(job, "other", "", "Yes or no?", ["yes", "no"], True, person, now, send=False)
address = make_link("answer", question=question, now=now, days=3)[1]
open(__import__("os").environ["FLUEPROOF_DATA"] + "/address", "w").write(address)
for number in range(LETTERS):
    Letter.objects.create(kind="letter", to=f"a{number}@b.example", subject=f"no. {number}", text="x", job=job,
                          made_at=now, next_try_at=now, message_id=f"<{number}@bench.example>")
""".replace("LETTERS", str(LETTERS))
LOOK = """
import json
from flueproof.shop.records.models import AnswerLink, JobMoment, Letter, OwnerQuestion
question = OwnerQuestion.objects.get()
print(json.dumps({
    "answer": question.answer,
    "answers": JobMoment.objects.filter(what="answer").count(),
    "used": AnswerLink.objects.exclude(used_at=None).count(),
    "states": list(Letter.objects.values_list("state", flat=True)),
}))
"""


class Owner:
    """A browser without an account: cookies, and the page it was given."""

    def __init__(self, address):
        self.address, self.said = address, ""
        jar = http.cookiejar.CookieJar()
        self.open = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar)).open
        with self.open(address) as page:
            self.token = page.read().decode().split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]

    def answers(self, choice, together):
        given = urllib.parse.urlencode({"csrfmiddlewaretoken": self.token, "choice": choice, "name": choice})
        together.wait()
        with self.open(self.address, data=given.encode()) as page:
            self.said = page.read().decode()


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """(shop, mail server, owners' answers) after all of it has happened at the same time, on two servers."""
    folder = tmp_path_factory.mktemp("same-time")
    with pytest.MonkeyPatch.context() as patch, small_mail_server() as mail:
        patch.setenv("FLUEPROOF_MAIL", f"smtp://127.0.0.1:{mail.port}?tls=none")
        with running_shop(folder, make=MAKE) as shop, shop.beside() as other:
            path = urllib.parse.urlsplit((folder / "data" / "address").read_text()).path
            owners = [Owner(one.address + path) for one in (shop, other) for _ in range(CLIENTS // 2)]
            together = threading.Barrier(CLIENTS)
            threads = [
                threading.Thread(target=owner.answers, args=(["yes", "no"][number % 2], together))
                for number, owner in enumerate(owners)
            ]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
            end = time.monotonic() + 40
            while len(mail.taken) < LETTERS and time.monotonic() < end:
                time.sleep(0.1)
            time.sleep(2.5)  # one more round of both senders
            yield json.loads(shop.python(LOOK)), mail, owners


def test_of_six_answers_at_the_same_time_one_is_kept_and_all_are_told(served):
    found, _, owners = served
    assert found["answer"] in {"yes", "no"}
    assert (found["answers"], found["used"]) == (1, 1)
    assert all("we have your answer" in owner.said for owner in owners)


def test_two_senders_send_every_letter_once(served):
    found, mail, _ = served
    assert Counter(str(message["Message-ID"]) for _, _, message in mail.taken) == {
        f"<{number}@bench.example>": 1 for number in range(LETTERS)
    }
    assert set(found["states"]) == {"sent"}
