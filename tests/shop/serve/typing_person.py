"""A person at the bench, as a program of its own that may be killed: begins measurements, types values, records them.

    python typing_person.py ADDRESS JOURNAL VISITS

Like the page in the browser it writes down what it is about to send, and what was acknowledged, before it goes on;
started again, it sends the last thing once more. VISITS: keys of the visits with commas, each taken in turn.
"""

import http.cookiejar
import json
import os
import re
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path

NAME, PASSWORD = "vale", "Seven-grey-herons-4"
SOURCE = "page-of-vale"
VALUES_EACH = 6
ONCE_MORE_S = 0.05


class Journal:
    """What was done, line by line, each on the disk before the next is done."""

    def __init__(self, file):
        self.file = file
        self.rows = rows_of(file)

    def write(self, what, **more):
        row = {"what": what, **more}
        with self.file.open("a") as out:
            out.write(json.dumps(row) + "\n")
            out.flush()
            os.fsync(out.fileno())
        self.rows.append(row)

    def last(self, *whats):
        return next((row for row in reversed(self.rows) if row["what"] in whats), None)

    def count(self, what):
        return sum(row["what"] == what for row in self.rows)


def rows_of(file):
    """Return the whole lines of a journal; a last one that was cut is left out, and ended so that none joins it."""
    if not file.exists():
        return []
    text = file.read_text()
    if text and not text.endswith("\n"):
        text = text[: text.rfind("\n") + 1]
        file.write_text(text)
    return [json.loads(line) for line in text.splitlines()]


class Person:
    """Signed in; asks again for as long as the shop is away."""

    def __init__(self, address, journal):
        self.address, self.journal = address, journal
        self.jar = http.cookiejar.MozillaCookieJar(str(journal.file.with_suffix(".cookies")))
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar))
        if Path(self.jar.filename).exists():
            self.jar.load(ignore_discard=True)
        if "sessionid" not in self.cookies():
            self.sign_in()

    def cookies(self):
        return {cookie.name: cookie.value for cookie in self.jar}

    def sign_in(self):
        self.ask("/sign-in")
        fields = {"username": NAME, "password": PASSWORD, "csrfmiddlewaretoken": self.cookies()["csrftoken"]}
        self.ask("/sign-in", urllib.parse.urlencode(fields).encode())
        whole = Path(self.jar.filename).with_suffix(".whole")
        self.jar.save(str(whole), ignore_discard=True)
        whole.replace(self.jar.filename)

    def post(self, path, body):
        """Return (status, tree) of a post in JSON."""
        status, text = self.ask(path, json.dumps(body).encode(), "application/json")
        return status, json.loads(text)

    def ask(self, path, body=None, kind="application/x-www-form-urlencoded"):
        while True:
            headers = {"Content-Type": kind, "Accept": "application/json, text/html"}
            headers["X-CSRFToken"] = self.cookies().get("csrftoken", "")
            asked = urllib.request.Request(self.address + path, body, headers)
            try:
                with self.opener.open(asked, timeout=30) as answer:
                    return answer.status, answer.read().decode()
            except urllib.error.HTTPError as error:
                return error.code, error.read().decode()
            except (OSError, http.client.HTTPException):
                time.sleep(ONCE_MORE_S)


def work(person, visits):
    """Measure for ever."""
    journal = person.journal
    while True:
        last = journal.last("begin", "begun", "recorded")
        if last is None or last["what"] == "recorded":
            last = {"visit": visits[journal.count("recorded") % len(visits)]}
            journal.write("begin", **last)
        if last.get("what") != "begun":
            begun(person, last["visit"])
        application = journal.last("begun")["application"]
        type_all(person, application)
        status, tree = person.post(f"/live/run/{application}/finish", {})
        expect(status, tree, 200)
        journal.write("recorded", application=application, position=tree["position"])


def begun(person, visit):
    """Begin an ambient-air step; one whose answer was lost runs already and is found on the panel."""
    status, tree = person.post(f"/live/{visit}/begin", {"kind": "ambient-air"})
    if status == 422 and "already running" in tree["error"]["message"]:
        panel = person.ask(f"/live/{visit}/panel")[1]
        number = int(re.search(r"/live/run/(\d+)/", panel)[1])
    else:
        expect(status, tree, 201)
        number = tree["application"]
    person.journal.write("begun", visit=visit, application=number)


def type_all(person, application):
    """Start the timer and type what is not acknowledged yet, each value until it is."""
    journal = person.journal
    if acknowledged_of(journal, application) < VALUES_EACH:  # with all there, it may be recorded already
        expect(*person.post(f"/live/run/{application}/gas-on", {}), about=200)
    while (done := acknowledged_of(journal, application)) < VALUES_EACH:
        sent = journal.last("send")
        if sent is None or journal.last("send", "acknowledged")["what"] == "acknowledged":
            channel, shown = ("o2", f"{20.5 + done / 10:.1f}") if done % 2 else ("co", str(done))
            row = {"sequence": journal.count("send") + 1, "channel": channel, "mark_s": 10 * done, "shown": shown}
            journal.write("send", application=application, **row)
            sent = journal.last("send")
        body = {name: sent[name] for name in ("sequence", "channel", "mark_s", "shown")}
        status, tree = person.post(f"/live/run/{application}/type", {"source": SOURCE, **body})
        expect(status, tree, 200)
        journal.write("acknowledged", sequence=tree["acknowledged"], application=application)


def acknowledged_of(journal, application):
    return sum(row["what"] == "acknowledged" and row["application"] == application for row in journal.rows)


def expect(status, tree, about):
    """End loudly on an answer that a person would not expect."""
    if status != about:
        sys.exit(f"{status}: {tree}")


if __name__ == "__main__":
    me = Person(sys.argv[1], Journal(Path(sys.argv[2])))
    work(me, [int(one) for one in sys.argv[3].split(",")])
