"""Places in which nothing was made yet, and a place that has rows in every table."""

import contextlib
import os
import subprocess
import sys
from pathlib import Path

from shop.serving import RunningShop, own_database

TESTS = Path(__file__).resolve().parents[1]
FIRST_RELEASE = TESTS / "shop/records/upgrading/first-release.zip"
AWAY = ("DJANGO_SETTINGS_MODULE", "COV_CORE_SOURCE", "COV_CORE_CONFIG", "COV_CORE_DATAFILE")
LOAD = """
import sys
from shop.records.upgrading.at_a_release import load
load(sys.argv[1])
"""
UPGRADE = """
from flueproof.shop.serving.preparing import bring_up_to_date
print(bring_up_to_date(), bring_up_to_date())
"""
# What tables have that were not there, or empty, in the first release.
FILL_UP = """
from django.utils import timezone
from flueproof.shop.records.models import *
paper = Paper.objects.get()
PaperMoment.objects.create(paper=paper, at=timezone.now(), what="printed")
token = ApiToken.objects.get()
ApiAnswer.objects.create(token=token, key="1", request_sha256="0" * 64, status=200, body="{}", at=timezone.now())
now, day = timezone.now(), timezone.localdate()
job, person, station = Job.objects.first(), Person.objects.filter(role="manager").first(), Station.objects.first()
ClockEvent.objects.create(job=job, kind="arrived", at=now, recorded_at=now, by=person)
StepTime.objects.create(job=job, step="bench", hands_on_min=12.5, ended_at=now, by=person)
Plan.objects.create(made_at=now, by=person, content={"steps": []})
WorkingPattern.objects.create(person=person)
for row in (Closure(words="stock-taking"), DayOff(person=person), StationOut(station=station)):
    row.first = row.last = day
    row.save()
wish = ServiceRequest.objects.create(code="TRY-1", made_at=now)
RequestedAnalyzer.objects.create(request=wish, slip="TRY-1-1", analyzer=job.analyzer)
box = Arrival.objects.create(came_at=now, received_by=person, job=job)
BoxPhoto.objects.create(arrival=box, blob=Blob.objects.first(), at=now, by=person)
PhoneCall.objects.create(at=now, by=person, caller="(invented)")
question = OwnerQuestion.objects.create(job=job, words="Where is the hose?", asked_at=now, asked_by=person)
LetterTemplate.objects.create(kind="arrived", subject="Here", text="It is here.")
Letter.objects.create(kind="arrived", to="a@example.com", subject="Here", text="It is here.", job=job, made_at=now)
item = PriceItem.objects.create(code="V", words="verification", price="120.00")
quote = Quote.objects.create(number="Q-1", job=job, made_at=now)
QuoteLine.objects.create(quote=quote, item=item, words="verification", price="120.00")
AnswerLink.objects.create(purpose="quote", secret_sha256="0" * 64, quote=quote, made_at=now, expires_at=now)
PackOut.objects.create(job=job)
Shipment.objects.create(job=job, left_at=now, sent_by=person)
SentOn.objects.create(job=job, shop="Another (invented)", what_for="draft", sent_at=now)
unit = LoanUnit.objects.create(analyzer=job.analyzer, name="Loan 1")
Loan.objects.create(unit=unit, owner=job.owner, out_at=now, out_by=person, until=day)
visit, what = Visit.objects.first(), dict(owner=job.owner, analyzer=job.analyzer)
found = ReferenceFinding(reference=Reference.objects.first(), content={}, how="checked", at=now, by=person)
found.save()
RecomputedVisit.objects.create(finding=found, visit=visit, at=now)
duty = Duty.objects.create(kind="co-low", key="1-co", visit=visit, arose_at=now, due_on=day, **what)
DutyAct.objects.create(duty=duty, way="phone", at=now, by=person)
FieldLog.objects.create(visit=visit, said="the owner", kept_at=now, kept_by=person, **what)
ShopFuel.objects.create(key="own", name="Own (invented)", text="")
part = Part.objects.create(code="CELL-1", title="co cell", kind="cell")
lot = PartLot.objects.create(part=part, code="L-1", received_on=day)
StockMove.objects.create(part=part, lot=lot, kind="counted", at=now, by=person)
"""


@contextlib.contextmanager
def empty_place(folder, address=None):
    """Give a folder and a database without tables; address: "" for SQLite, None for what DATABASE_URL says."""
    (folder / "data").mkdir(parents=True)
    base = {name: value for name, value in os.environ.items() if name not in AWAY}
    base |= {"FLUEPROOF_DATA": str(folder / "data"), "PYTHONPATH": str(TESTS)}
    if address is not None:
        base["DATABASE_URL"] = address
    with own_database(base) as environment:
        yield RunningShop(folder, environment, 0)


def fill(place):
    """Bring the data of the first release up to date in an empty place, with rows in every table."""
    place.python(LOAD, str(FIRST_RELEASE))
    place.python(UPGRADE + FILL_UP)
    return place


def flueproof(place, *arguments):
    """Run a command of flueproof in a place; return its exit code and what it printed."""
    done = subprocess.run(
        [sys.executable, "-m", "flueproof.cli", *map(str, arguments), "--data", str(place.folder / "data")],
        env=place.environment,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr
