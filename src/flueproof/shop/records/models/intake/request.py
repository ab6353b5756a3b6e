"""Service requests: what an owner asks for before the box is here, analyzer by analyzer."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.analyzer import Analyzer
from flueproof.shop.records.models.job import Job
from flueproof.shop.records.models.owner import Owner


class ServiceRequest(Audited):
    """One request of one owner, for one analyzer or several; it becomes jobs when the counter or its e-mail confirms.

    code: short, for the box slip and the phone; firm, contact ...: as the owner wrote them, whoever they are.
    """

    STATES: ClassVar = [
        ("draft", "begun, not sent"),
        ("unconfirmed", "sent, e-mail not confirmed"),
        ("confirmed", "confirmed, box awaited"),
        ("taken", "all boxes are here"),
        ("withdrawn", "withdrawn"),
    ]
    SOURCES: ClassVar = [("page", "public page"), ("phone", "by phone"), ("counter", "at the counter")]

    code = models.CharField(max_length=16, unique=True)
    state = models.CharField(max_length=12, choices=STATES, default="draft", db_index=True)
    source = models.CharField(max_length=8, choices=SOURCES, default="page")
    owner = models.ForeignKey(Owner, null=True, blank=True, on_delete=models.PROTECT, related_name="requests")
    firm = models.CharField(max_length=200, blank=True)
    contact = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    lines = models.TextField("return address: street", blank=True)
    postcode = models.CharField(max_length=20, blank=True)
    town = models.CharField(max_length=80, blank=True)
    region = models.CharField(max_length=80, blank=True)
    country = models.CharField(max_length=60, blank=True)
    carrier = models.CharField("how it goes back", max_length=120, blank=True)
    purchase_order = models.CharField(max_length=60, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    note = models.TextField(blank=True)
    step = models.PositiveSmallIntegerField("how far the form was filled in", default=1)
    made_at = models.DateTimeField(db_index=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    confirmed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """The newest first."""

        ordering = ("-id",)

    def __str__(self) -> str:
        """Return the code."""
        return self.code

    def address_lines(self) -> list[str]:
        """Return the return address as lines for a paper."""
        place = " ".join(part for part in (self.town, self.region, self.postcode) if part)
        return [line for line in (*self.lines.splitlines(), place, self.country) if line.strip()]


class RequestedAnalyzer(Audited):
    """One analyzer of a request, with all that the bench will need to know; slip: the code of its box slip."""

    ACCIDENTS: ClassVar = [("dropped", "dropped"), ("wet", "got wet"), ("frozen", "was frozen")]

    request = models.ForeignKey(ServiceRequest, on_delete=models.CASCADE, related_name="analyzers")
    slip = models.CharField("box slip", max_length=16, unique=True)
    analyzer = models.ForeignKey(Analyzer, null=True, blank=True, on_delete=models.PROTECT, related_name="requested")
    job = models.OneToOneField(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="requested")
    make = models.CharField(max_length=80, blank=True)
    model = models.CharField(max_length=80, blank=True)
    serial = models.CharField("serial number", max_length=60, blank=True)
    profile = models.CharField(max_length=80, blank=True)
    own_number = models.CharField("owner's own number", max_length=60, blank=True)
    complaint = models.TextField("what is wrong, in the owner's words", blank=True)
    used_on = models.CharField("last used on", max_length=200, blank=True)
    accidents = models.JSONField("dropped, wet or frozen", default=list, blank=True)
    enclosed = models.JSONField("what is in the box", default=list, blank=True)
    service = models.CharField(max_length=16, choices=Job.SERVICES, default="verify-adjust")
    spend_up_to = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    limits = models.JSONField(default=str, blank=True, help_text='"profile", or the owner\'s own limits per channel.')
    decision_rule = models.CharField(max_length=12, choices=Owner.DECISION_RULES, default="risk-2")
    as_found = models.BooleanField("as-found values wanted", default=True)
    may_set_clock = models.BooleanField("clock may be set", default=True)
    may_update_firmware = models.BooleanField("firmware may be updated", default=False)
    may_clear_memory = models.BooleanField("stored measurements may be deleted", default=False)
    due_wanted = models.BooleanField("due date wanted", default=False)
    due_months = models.PositiveSmallIntegerField("months between checks", default=12)

    class Meta:
        """In the order in which they were added."""

        ordering = ("id",)

    def __str__(self) -> str:
        """Return model and serial."""
        return f"{self.model} {self.serial}".strip() or self.slip
