"""One transaction from record to paper."""

import datetime as dt
import hashlib
import json

import pytest

from flueproof.papers.errors import TypesettingError
from flueproof.shop.records.issuing import making
from flueproof.shop.records.issuing.refused import RecordChangedError, SigningRefusedError
from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.models import (
    Analyzer,
    BenchEvent,
    Blob,
    Numbering,
    Obligation,
    Paper,
    Reference,
    Webhook,
    WebhookDelivery,
)
from flueproof.shop.records.visits.events import add_step
from shop.loaded import demo, last_hash


def names(paper):
    return [row.name for row in paper.files.all()]


def refused(visit, signer, now, shop, **how):
    with pytest.raises(SigningRefusedError) as caught:
        sign_visit(visit, signer, last_hash(visit), now, shop, **how)
    assert not Paper.objects.filter(visit=visit).exists()
    assert not Numbering.objects.filter(prefix__in=("FP", "BR")).exists()
    return [reason.code for reason in caught.value.reasons]


def test_a_clean_visit_gets_certificate_sticker_and_json_with_their_hashes(visit_of, signed):
    paper = signed(visit_of("healthy"))
    assert (paper.number, paper.kind, paper.outcome) == ("FP-2026-00001", "certificate", "ready-to-sign")
    assert names(paper) == [
        "certificate.pdf",
        "sticker.pdf",
        "sticker.zpl",
        "judgement.json",
        "record.json",
        "issue.json",
    ]
    for row in paper.files.all():
        assert hashlib.sha256(bytes(row.blob.content)).hexdigest() == row.blob.sha256
    cover = json.loads(bytes(paper.files.get(name="issue.json").blob.content))
    assert cover["files"]["certificate.pdf"] == paper.files.get(name="certificate.pdf").blob.sha256
    assert (cover["number"], cover["signer"], cover["amends"]) == ("FP-2026-00001", "S. Alder", None)


def test_the_job_goes_on_and_its_life_says_which_paper(visit_of, signed, people):
    visit = visit_of("healthy")
    signed(visit)
    visit.job.refresh_from_db()
    assert visit.job.state == "to-return"
    said = visit.job.moments.get(what="paper issued")
    assert (said.text, said.by) == ("FP-2026-00001", people["signer"])


def test_other_programs_are_told(visit_of, signed):
    Webhook.objects.create(url="https://books.example/hook", secret="", events=["paper-issued"])
    signed(visit_of("healthy"))
    body = json.loads(WebhookDelivery.objects.get().body)
    assert body["data"]["number"] == "FP-2026-00001"


def test_signing_the_same_record_twice_is_one_paper(visit_of, signed, people):
    visit = visit_of("healthy")
    first = signed(visit)
    second = signed(visit, signer=people["manager"])
    assert second.pk == first.pk
    assert second.signer == people["signer"]
    assert Paper.objects.count() == 1
    assert Numbering.objects.get(prefix="FP").last == 1


def test_a_record_that_grew_since_the_page_was_shown_is_refused_with_what_came(visit_of, people, now, shop):
    visit = visit_of("healthy")
    seen = last_hash(visit)
    add_step(visit, {"kind": "note", "text": "case cracked"}, people["technician"], now)
    with pytest.raises(RecordChangedError) as caught:
        sign_visit(visit, people["signer"], seen, now, shop)
    assert caught.value.changes == ["Step s8 added: note, by R. Vale"]
    assert not Paper.objects.exists()


def test_a_report_burns_no_certificate_number(visit_of, signed):
    report = signed(visit_of("co-cell-low"))
    assert (report.number, report.kind) == ("BR-2026-00001", "bench-report")
    assert signed(visit_of("healthy")).number == "FP-2026-00001"


def test_a_certificate_after_a_report_on_the_same_visit_is_its_own_paper(visit_of, signed, people, now):
    visit = visit_of("adjusted", steps=8)
    assert signed(visit).kind == "bench-report"
    visit.job.refresh_from_db()
    for step in demo("adjusted").record["steps"][8:]:
        add_step(visit, step, people["technician"], now)
    visit.job.state = "to-sign"
    visit.job.save()
    assert signed(visit).kind == "certificate"
    assert Paper.objects.filter(visit=visit).count() == 2


def test_new_work_after_a_certificate_is_not_signed_beside_it(visit_of, signed, people, now, shop):
    visit = visit_of("healthy")
    signed(visit)
    add_step(visit, {"kind": "note", "text": "looked again"}, people["technician"], now)
    with pytest.raises(SigningRefusedError, match="FP-2026-00001 was issued for this visit"):
        sign_visit(visit, people["signer"], last_hash(visit), now, shop)


class TestWhatStandsAgainstSigning:
    def test_a_role_without_the_right(self, visit_of, people, now, shop):
        assert refused(visit_of("healthy"), people["counter"], now, shop) == ["no-right"]

    @pytest.mark.parametrize("state", ["requested", "held", "returned", "dropped"])
    def test_a_job_that_is_not_at_the_desk(self, visit_of, people, now, shop, state):
        assert refused(visit_of("healthy", state=state), people["signer"], now, shop) == [f"job-{state}"]

    def test_own_bench_work_where_the_shop_bars_it(self, visit_of, people, now, shop):
        shop.signers_may_sign_own_work = False
        visit = visit_of("healthy")
        extra = {**_last_measuring(visit), "id": "own", "at": now.isoformat(), "by": "S. Alder"}
        add_step(visit, extra, people["signer"], now)
        assert refused(visit, people["signer"], now, shop) == ["own-work"]
        assert sign_visit(visit, people["manager"], last_hash(visit), now, shop).number == "FP-2026-00001"

    def test_own_bench_work_that_was_struck_bars_nothing(self, visit_of, people, now, shop):
        shop.signers_may_sign_own_work = False
        visit = visit_of("healthy")
        extra = {**_last_measuring(visit), "id": "own", "at": now.isoformat(), "by": "S. Alder"}
        add_step(visit, extra, people["signer"], now)
        add_step(visit, {"kind": "strike", "strikes": "own", "why": "only shown to a trainee"}, people["signer"], now)
        assert sign_visit(visit, people["signer"], last_hash(visit), now, shop).signer == people["signer"]

    def test_own_bench_work_where_the_shop_allows_it(self, visit_of, people, now, shop):
        visit = visit_of("healthy")
        extra = {**_last_measuring(visit), "id": "own", "at": now.isoformat(), "by": "S. Alder"}
        add_step(visit, extra, people["signer"], now)
        assert sign_visit(visit, people["signer"], last_hash(visit), now, shop).signer == people["signer"]

    def test_a_row_that_was_forged_past_the_program(self, visit_of, people, now, shop):
        visit = visit_of("healthy")
        last = visit.events.order_by("-position").first()
        BenchEvent.objects.create(
            visit=visit,
            position=last.position + 1,
            kind="step",
            body='{"at":"2026-10-06T09:00:00-05:00","by":"R. Vale","id":"s99","kind":"note","text":"all well"}',
            at=now,
            by=people["technician"],
            previous_hash=last.hash,
            hash="0" * 64,
        )
        assert refused(visit, people["signer"], now, shop) == ["chain-broken"]

    def test_a_cylinder_that_was_withdrawn(self, visit_of, people, now, shop):
        visit = visit_of("healthy")
        Reference.objects.create(
            code="cyl-co-500", kind="test-gas", title="CO", content={}, state="withdrawn", withdrawn_why="reads 3 % low"
        )
        assert refused(visit, people["signer"], now, shop) == ["withdrawn-reference"]

    def test_a_due_date_that_the_owner_no_longer_agrees_to(self, visit_of, people, now, shop):
        visit = visit_of("healthy")
        visit.job.owner.due_agreed = False
        visit.job.owner.save()
        assert refused(visit, people["signer"], now, shop) == ["due-not-agreed"]

    def test_an_empty_record(self, people, now, shop, job):
        from flueproof.shop.records.visits.opening import open_visit

        assert refused(open_visit(job, people["technician"], now, shop), people["signer"], now, shop) == [
            "nothing-recorded"
        ]


def test_when_typesetting_fails_nothing_is_half_written_and_no_number_is_used(
    visit_of, people, now, shop, signed, monkeypatch
):
    visit = visit_of("healthy")

    def breaks(*_):
        raise TypesettingError("certificate.typ could not be set: out of paper")

    with monkeypatch.context() as broken:
        broken.setattr(making, "papers_for", breaks)
        assert refused(visit, people["signer"], now, shop) == ["not-set"]
    visit.job.refresh_from_db()
    assert visit.job.state == "to-sign"
    assert not Blob.objects.exists()
    assert signed(visit).number == "FP-2026-00001"


class TestDueDatesIso17025Clause7843:
    """ISO/IEC 17025:2017, 7.8.4.3 (second-hand): an interval only where the owner agreed."""

    def test_the_agreed_day_stands_on_the_paper_and_in_the_due_list(self, visit_of, signed):
        visit = visit_of("healthy")
        paper = signed(visit)
        assert paper.due_on == dt.date(2027, 10, 5)  # work on 5 October 2026, twelve months, to the day
        made = Obligation.objects.get(analyzer=visit.job.analyzer)
        assert (made.last_done, made.next_due) == (dt.date(2026, 10, 5), dt.date(2027, 10, 5))

    def test_no_due_date_where_the_owner_agreed_to_none(self, visit_of, signed):
        visit = visit_of("healthy", due_agreed=False)
        assert signed(visit).due_on is None
        assert not Obligation.objects.filter(analyzer=visit.job.analyzer).exists()

    def test_a_sale_while_it_was_here_binds_the_new_owner_to_nothing(self, visit_of, signed):
        visit = visit_of("healthy")
        unit = Analyzer.objects.get(pk=visit.job.analyzer_id)
        unit.owner = type(unit.owner).objects.create(name="Dune Stoves (invented)")
        unit.save()
        assert signed(visit).due_on == dt.date(2027, 10, 5)
        assert not Obligation.objects.filter(analyzer=unit).exists()

    def test_several_obligations_each_by_its_own_rule(self, visit_of, signed):
        visit = visit_of("healthy")
        analyzer = Analyzer.objects.get(pk=visit.job.analyzer_id)
        yearly = analyzer.obligations.create(what="yearly", months=12, rule="day", agreed_by="A. Quay")
        half = analyzer.obligations.create(what="half-yearly", months=6, rule="month-end", agreed_by="A. Quay")
        silent = analyzer.obligations.create(what="nobody agreed", months=3)
        other = analyzer.obligations.create(what="cells", months=24, agreed_by="A. Quay")
        signed(visit, obligations={yearly.pk, half.pk, silent.pk})
        for row in (yearly, half, silent, other):
            row.refresh_from_db()
        assert (yearly.next_due, half.next_due) == (dt.date(2027, 10, 5), dt.date(2027, 4, 30))
        assert (silent.last_done, silent.next_due) == (dt.date(2026, 10, 5), None)
        assert (other.last_done, other.next_due) == (None, None)
        assert half.history.count() == 2

    def test_outside_limits_fulfils_nothing_and_promises_nothing(self, visit_of, signed):
        visit = visit_of("verified-outside")
        yearly = visit.job.analyzer.obligations.create(what="yearly", agreed_by="A. Quay")
        assert signed(visit).due_on is None
        yearly.refresh_from_db()
        assert yearly.last_done is None


def _last_measuring(visit):
    steps = [json.loads(event.body) for event in visit.events.filter(kind="step").order_by("position")]
    return [step for step in steps if "phase" in step][-1]
