"""A demo record as a visit in the shop: head, references and steps appended one by one, as the bench page does."""

import datetime as dt
import functools

from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerAddress
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.projection import HEAD, REFERENCE, STEP
from flueproof.simulate.demo import demo_records


@functools.cache
def demo(name):
    """Return a demo record by its short name."""
    return next(record for record in demo_records() if record.name == name)


def load_visit(name, by, now, *, state="to-sign", due_agreed=True, rule="day", steps=None, number=""):
    """Return a visit that holds the demo record `name`, recorded by the person `by`, with owner, analyzer and job.

    number: of the job, where the record shall not have its own.
    """
    tree = {**demo(name).record, "job": number or demo(name).record["job"]}
    owner, made = Owner.objects.get_or_create(name=tree["owner"]["name"])
    owner.due_agreed, owner.due_rule = due_agreed, rule
    owner.save()
    if made:
        OwnerAddress.objects.create(owner=owner, lines="\n".join(tree["owner"]["address"]))
    given, order = tree["analyzer"], tree["order"]
    analyzer, _ = Analyzer.objects.get_or_create(
        make=given["make"],
        serial=given["serial"],
        defaults={
            "owner": owner,
            "model": given["model"],
            "profile": given["profile"]["name"],
            "firmware": given.get("firmware") or "",
        },
    )
    job = Job.objects.create(
        number=tree["job"],
        owner=owner,
        analyzer=analyzer,
        state=state,
        service=order["service"],
        decision_rule=order["decision_rule"],
        limits=order["limits"],
        due_wanted=True,
        enclosed=tree["received"]["enclosed"],
        condition=tree["received"]["condition"],
        received_on=dt.date.fromisoformat(tree["received"]["date"]),
        opened_at=now,
    )
    visit = job.visits.create(number=1, opened_at=now, opened_by=by)
    head = {key: value for key, value in tree.items() if key not in {"format", "references", "steps"}}
    if not due_agreed:
        head = {**head, "order": {**order, "due": {**order["due"], "wanted": False}}}
    append(visit, HEAD, head, by, now)
    for code, content in tree["references"].items():
        append(visit, REFERENCE, {"id": code, "content": content}, by, now)
    for step in tree["steps"][:steps]:
        append(visit, STEP, step, by, now)
    return visit


def last_hash(visit):
    """Return the hash of the visit's last event row: what a signer's page carries."""
    return visit.events.order_by("-position").values_list("hash", flat=True).first()
