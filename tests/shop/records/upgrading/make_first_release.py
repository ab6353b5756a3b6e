"""How `first-release.zip` was made: a shop whose tables are those of the first migration, filled, and written out.

    FLUEPROOF_DATA=<empty folder> DJANGO_SETTINGS_MODULE=flueproof.shop.settings PYTHONPATH=tests \
        python tests/shop/records/upgrading/make_first_release.py FILE

It ran once, on the source of November 2026, whose models still had the columns of the first migration; later models
need not. It stays to say what is in the file, all of it invented. Files of the format of `flueproof backup`.
"""

import datetime as dt
import sys
from pathlib import Path

import django

django.setup()

from django.core.management import call_command  # noqa: E402 -- Django must be set up first
from django_otp.plugins.otp_totp.models import TOTPDevice  # noqa: E402

from flueproof.shop.frame.second_factor import new_backup_codes  # noqa: E402
from flueproof.shop.records.access.outbox import tell  # noqa: E402
from flueproof.shop.records.gas.litres import record_use  # noqa: E402
from flueproof.shop.records.issuing.signing import sign_visit  # noqa: E402
from flueproof.shop.records.jobs.moving import move_job, note_moment  # noqa: E402
from flueproof.shop.records.keeping.blobs import keep_blob  # noqa: E402
from flueproof.shop.records.keeping.numbering import next_number  # noqa: E402
from flueproof.shop.records.models import (  # noqa: E402
    Analyzer,
    ApiAnswer,
    ApiToken,
    Cell,
    ColumnMapping,
    GaugeReading,
    ImportRun,
    Job,
    MorningCheck,
    Obligation,
    Owner,
    OwnerAddress,
    OwnerContact,
    Person,
    ReferenceDocument,
    Shop,
    SpanCheck,
    Station,
    Webhook,
)
from flueproof.shop.records.people.rights import ROLES  # noqa: E402
from flueproof.shop.records.visits.applications import add_typed, begin_application, mark_gas_on  # noqa: E402
from flueproof.shop.records.visits.events import Sender  # noqa: E402
from flueproof.shop.records.visits.opening import open_visit  # noqa: E402
from flueproof.shop.serving.archive import contents, writing  # noqa: E402
from shop.at_the_bench import fill_rack  # noqa: E402
from shop.conftest import NAMES, PASSWORD  # noqa: E402
from shop.loaded import last_hash, load_visit  # noqa: E402

NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)
LATER = NOW + dt.timedelta(minutes=5)


def main(target):
    """Make the tables of the first migration, fill them, write them out."""
    call_command("migrate", "records", "0001", verbosity=0)
    for app in ("auth", "otp_totp", "otp_static", "axes", "sessions"):
        call_command("migrate", app, verbosity=0)
    shop = Shop.here()
    shop.name, shop.morning_check_needed = "Harrow Lane Test Bench (invented)", False
    shop.save()
    firm = make_owner()
    people = make_people(firm)
    make_work(shop, firm, people, fill_rack())
    make_doors(people)
    left_out = {
        ApiAnswer,
        *(model for model in contents.archived_models() if model._meta.label_lower in FULL_OF_NOTHING),
    }
    writing.archived_models = lambda: [model for model in contents.archived_models() if model not in left_out]
    writing.write_backup(target, NOW)


FULL_OF_NOTHING = {"records.person_groups", "auth.group"}


def make_owner():
    """A firm, changed once, with a contact that was removed."""
    firm = Owner.objects.create(name="Tidewater Heating (invented)", number="00417", due_agreed=True)
    firm.note = "Rings the bell twice."
    firm.save()
    OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@tidewater.example")
    OwnerContact.objects.create(owner=firm, name="Left (invented)").delete()
    OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
    return firm


def make_people(firm):
    """One of each role; the signer has a second factor and backup codes."""
    people = {}
    for role in ROLES:
        first, last = NAMES[role]
        outside = firm if role == "owner" else None
        people[role] = Person.objects.create_user(
            role, password=PASSWORD, first_name=first, last_name=last, role=role, owner=outside
        )
    TOTPDevice.objects.create(user=people["signer"], name="phone", confirmed=True)
    new_backup_codes(people["signer"])
    return people


def make_work(shop, firm, people, rack):
    """A signed job, one on the bench with a running measurement, one requested; gas, mornings, files."""
    done = load_visit("healthy", people["technician"], NOW)
    sign_visit(done, people["signer"], last_hash(done), NOW, shop)
    analyzer = Analyzer.objects.create(
        owner=firm, make="Orrin", model="Orrin 5", serial="O5-020417", profile="two-cell-residential", control_unit=True
    )
    Cell.objects.create(analyzer=analyzer, gas="co", serial="B7", fitted=dt.date(2022, 9, 14))
    Obligation.objects.create(analyzer=analyzer, what="certificate", months=12)
    station = Station.objects.create(name="Bench 1")
    on_bench = Job.objects.create(
        number="J-2026-00042",
        owner=firm,
        analyzer=analyzer,
        state="arrived",
        opened_at=NOW,
        promised_on=dt.date(2026, 12, 1),
    )
    Job.objects.create(number="J-2026-00043", owner=firm, analyzer=analyzer, opened_at=NOW)
    next_number("J", 2026)
    visit = open_visit(on_bench, people["technician"], NOW, shop)
    move_job(on_bench, "bench", people["technician"], NOW)
    note_moment(on_bench, "note", people["counter"], NOW, text="Owner called (invented).")
    gas = rack["CYL-CO-500"]
    running = begin_application(visit, plan_of_gas(), gas, people["technician"], NOW)
    mark_gas_on(running, NOW)
    for number in range(3):
        reading = {"channel": "co", "unit": "ppm", "step": 1, "shown": 490 + number, "t_s": 30 * number}
        add_typed(running, Sender("page-1", number), [reading], NOW + dt.timedelta(seconds=30 * number))
    record_use(gas, 1.8, LATER, running, "as found")
    GaugeReading.objects.create(reference=gas, kpa=13_000.0, at=NOW, by=people["technician"])
    SpanCheck.objects.create(
        reference=gas,
        analyzer=analyzer,
        channel="co",
        span_factor=1.004,
        u=0.006,
        passed=True,
        at=NOW,
        by=people["technician"],
    )
    MorningCheck.objects.create(
        day=dt.date(2026, 11, 25), station=station, analyzer=analyzer, at=NOW, by=people["technician"],
        room_co_ppm=0.0, vent_ok=True, regulator_ok=True, lines=[], passed=True,
    )  # fmt: skip
    paper = keep_blob(b"%PDF-1.4 (invented)\n" + bytes(range(256)), "application/pdf", NOW)
    ReferenceDocument.objects.create(reference=gas, title="Certificate", file_name="LN-1.pdf", blob=paper)


def plan_of_gas():
    """What the first measurement measures."""
    return {
        "kind": "test-gas", "phase": "as-found", "point": None, "path": {"feed": "tip", "probe": "owner"}, "extra": {},
        "feed": {"supply_l_min": 1.8, "vent_open": True}, "channels": [{"channel": "co", "unit": "ppm", "step": 1}],
    }  # fmt: skip


def make_doors(people):
    """A token, a webhook with a delivery that waits, a list that was imported."""
    ApiToken(name="web shop", beginning="fp_abc", rights=["see-jobs"], person=people["manager"], sha256="0" * 64).save()
    Webhook.objects.create(url="https://receiver.example/", secret="s" * 40, events=["job-state-changed"])
    tell("job-state-changed", {"job": "J-2026-00001"}, NOW)
    table = keep_blob(b"Name;Serial\nTidewater;O5-020417\n", "text/csv", NOW)
    ColumnMapping.objects.create(header_sha256="1" * 64, mapping={"Name": "owner.name"}, changed_by=people["counter"])
    ImportRun.objects.create(at=NOW, by=people["counter"], file_name="owners.csv", blob=table, mapping={}, found={})


if __name__ == "__main__":
    main(Path(sys.argv[1]))
