"""The demo's way out: prices, quotes in several states, loan units, boxes on their way, sent on, fetched by nobody."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Final

from flueproof.bench.judge.gathering import gas_reference
from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.gas.as_certified import test_gas_of
from flueproof.shop.records.jobs.moving import move_job, note_moment
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.loans.gas_check import bottles_for, channels_on, check_on_gas
from flueproof.shop.records.loans.loan import Lending, lend
from flueproof.shop.records.loans.pool import add_unit
from flueproof.shop.records.models import Analyzer, Job, LoanUnit, Owner, PriceItem
from flueproof.shop.records.money.prices import as_lines, suggested
from flueproof.shop.records.money.quotes import decline, let_pass, send_quote
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.returning.pack_out import Packed, close_box, keep_packing, packing_of
from flueproof.shop.records.returning.packing import YES
from flueproof.shop.records.returning.sent_on import Other, send_on
from flueproof.shop.records.returning.shipping import Parcel, ship
from flueproof.shop.records.returning.unclaimed import note_call, put_on_shelf

PRICES: Final = (
    ("V-1", "Verification on test gas, with leak test", "service", "120.00", "verify", ""),
    ("VA-1", "Verification and adjustment", "service", "165.00", "verify-adjust", ""),
    ("R-1", "Looking for the fault, estimate", "service", "60.00", "repair", ""),
    ("CELL-CO", "CO cell, fitted and settled", "part", "185.00", "", ""),
    ("CELL-O2", "O2 cell, fitted and settled", "part", "140.00", "", ""),
    ("PUMP-1", "Pump, fitted", "part", "96.00", "", ""),
    ("WORK-1", "Work at the bench, an hour", "work", "85.00", "", ""),
    ("SHIP-1", "Way back, insured", "shipping", "18.50", "", ""),
)
_UNITS: Final = (("Loan 1", "L5-00101"), ("Loan 2", "L5-00102"))
_UNCLAIMED_DAYS: Final = 41


def fill_returns(scene: Scene) -> None:
    """Put the way out into the demo, through the services; needs the jobs and the rack of the scene."""
    for code, words, kind, price, service, model in PRICES:
        row = PriceItem(code=code, words=words, kind=kind, price=Decimal(price), service=service, model=model)
        row._history_user = scene.people["reed"]  # type: ignore[attr-defined] # noqa: SLF001 -- as simple_history documents
        row.save()
    waiting = list(Job.objects.filter(state="arrived").order_by("-id")[:6])
    _quotes(scene, waiting[:4])
    _loans(scene, waiting[4:5])
    _on_its_way(scene)
    if waiting[5:]:
        other = Other(
            "Northgate Sensor Works (invented)",
            "infrared bench does not hold its zero",
            "Ada Quay (invented), by phone",
            scene.now.date() + dt.timedelta(days=6),
            "NG-2214",
        )
        parcel = Parcel("Coastline Parcel (invented)", "CL 4402 1187")
        send_on(waiting[5], other, parcel, scene.people["marsh"], scene.now, scene.now.date())
    _unclaimed(scene)


def _quotes(scene: Scene, jobs: list[Job]) -> None:
    """Write quotes: one not sent, one sent, one declined on the phone, one that the order allowed."""
    by, now = scene.people["marsh"], scene.now
    cell = as_lines(PriceItem.objects.filter(code__in=("CELL-CO", "WORK-1")))
    words = "The CO cell answers with half of what it should; a new one is fitted, settled and adjusted on gas."
    for place, job in enumerate(jobs):
        lines = [*as_lines(suggested(job)), *(cell if place < 3 else [Wanted("New sinter filter", Decimal("9.50"))])]
        if place == 3:
            job.spend_up_to = Decimal("250.00")
            job.save()
        quote = write_quote(job, lines, words if place < 3 else "Filter is black.", by, now - dt.timedelta(days=2))
        if place in {1, 2}:
            quote = send_quote(quote, by, now - dt.timedelta(days=2))
        if place == 2:
            decline(quote, "Cy Dune (invented)", "Too much for an old unit, send it back.", now, by)
        if place == 3:
            let_pass(quote, by, now)


def _loans(scene: Scene, jobs: list[Job]) -> None:
    """Make two units; one is out, on gas as every loan, where a bottle of the rack fits."""
    by = scene.people["marsh"]
    own = Owner.objects.create(name="Harrow Lane loan pool (invented)")
    for name, serial in _UNITS:
        unit = Analyzer.objects.create(owner=own, make="Orrin", model="Orrin 5", serial=serial)
        add_unit(unit, name, ["probe", "hose", "case"], "", by)
    lent = LoanUnit.objects.get(name="Loan 1")
    bottle = next(iter(bottles_for(lent, scene.now)), None)
    gas = test_gas_of(bottle) if bottle is not None else None
    if bottle is None or gas is None or not jobs:
        return
    typed = {}
    for channel in channels_on(lent, bottle):
        given = gas_reference(gas, bottle.code, channel)
        typed[channel.name] = f"{round((given.value if given else 0.0) / channel.step) * channel.step:g}"
    left = scene.now - dt.timedelta(days=12)
    until = scene.now.date() - dt.timedelta(days=1)
    kept = check_on_gas(lent, bottle.code, typed, scene.now)
    lend(lent, Lending(jobs[0].owner, until, kept, "at the counter", jobs[0]), by, left, left.date())


def _on_its_way(scene: Scene) -> None:
    """Pack the first signed job that waits, and ship it."""
    by = scene.people["marsh"]
    for job in Job.objects.filter(state="to-return").select_related("owner", "analyzer").order_by("id")[:1]:
        found = packing_of(job)
        answers = {line.check.name: (YES, "") for line in found.lines if not line.check.says}
        answers["photo"] = ("", "camera was charging")
        answers["settings"] = (YES, "")
        keep_packing(job, Packed(answers, [part.name for part in found.parts]), by)
        close_box(job, by, scene.now)
        ship(job, Parcel("Coastline Parcel (invented)", "CL 4402 1190"), by, scene.now)


def _unclaimed(scene: Scene) -> None:
    """Make a box that nobody fetched: told twice, on the shelf."""
    free = Analyzer.objects.filter(control_unit=False, loan_unit=None).exclude(jobs__state__in=Job.OPEN)
    unit = free.order_by("id").first()
    if unit is None:
        return
    by, ready = scene.people["marsh"], scene.now - dt.timedelta(days=_UNCLAIMED_DAYS)
    came = ready - dt.timedelta(days=4)
    job: Job = Job.objects.create(
        number=next_number("J", came.year),
        owner=unit.owner,
        analyzer=unit,
        state="arrived",
        service="verify",
        complaint="for its yearly check",
        enclosed=["probe", "hose"],
        received_on=came.date(),
        opened_at=came,
    )
    note_moment(job, "opened", by, came, text="by telephone", after="arrived")
    job = move_job(job, "to-return", by, ready, why="owner called the work off; goes back as it came")
    note_call(job, "Bo Dune (invented) says that somebody comes by.", by, ready + dt.timedelta(days=31))
    put_on_shelf(job, "top shelf, left", by, scene.now - dt.timedelta(days=5))
