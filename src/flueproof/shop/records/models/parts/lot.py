"""A lot of a part on the shelf."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from flueproof.shop.records.keeping.audited import Audited
from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.parts.part import Part


class PartLot(Audited):
    """Pieces of one delivery that were made together.

    on_hand: the sum of its moves, kept beside them so that the database itself refuses less than none; expires: as on
    the package; the last good day also hangs on the day of manufacture and the part's shelf life.
    """

    STATES: ClassVar = [("usable", "usable"), ("recalled", "recalled by its maker"), ("set-aside", "set aside")]

    part = models.ForeignKey(Part, on_delete=models.PROTECT, related_name="lots")
    code = models.CharField("lot", max_length=60, help_text="As on the package.")
    made = models.DateField("made on", null=True, blank=True)
    expires = models.DateField("good until, as printed", null=True, blank=True)
    received_on = models.DateField("received on")
    state = models.CharField(max_length=10, choices=STATES, default="usable")
    why = models.CharField("why it is not usable", max_length=300, blank=True)
    on_hand = models.PositiveIntegerField("on hand", default=0, editable=False)
    certificate = models.ForeignKey(Blob, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    certificate_name = models.CharField(max_length=160, blank=True)

    class Meta:
        """The oldest first; a lot once per part."""

        ordering = ("received_on", "id")
        constraints: ClassVar = [models.UniqueConstraint(fields=("part", "code"), name="one_lot_code_per_part")]

    def __str__(self) -> str:
        """Return the lot's code."""
        return self.code
