"""Forms of a box that leaves, arrives, comes back, or waits for money."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.shop.records.returning.shipping import Parcel
from flueproof.shop.records.returning.unrepaired import WHY
from flueproof.shop.returns.forms.controls import SCANNED, day_input, text_area

_WHY_HELP = "Is kept with the job. A DO NOT USE tag that is due has no reason."


class ShipForm(forms.Form):
    """Carrier, number and address of a box that leaves; a reason where something is open."""

    carrier = forms.CharField(label="Carrier", max_length=80, widget=forms.TextInput(attrs={"list": "carriers"}))
    tracking = forms.CharField(
        label="Number on the parcel",
        max_length=80,
        required=False,
        help_text="Scan or type it; spaces do not matter.",
        widget=forms.TextInput(attrs=SCANNED),
    )
    address = forms.CharField(label="To", max_length=500, required=False, widget=text_area(3))
    same_box = forms.BooleanField(label="Two analyzers of this owner travel in this one box", required=False)
    why = forms.CharField(label="Why it leaves all the same", max_length=500, required=False, help_text=_WHY_HELP)

    def __init__(self, *args: Any, against: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not against:
            del self.fields["why"]

    def parcel(self) -> Parcel:
        """Return what was written down of the box."""
        said = self.cleaned_data
        return Parcel(said["carrier"], said["tracking"], said["address"], same_box=said["same_box"])


class DeliveredForm(forms.Form):
    """Who took it in, where the carrier says so."""

    to = forms.CharField(label="Taken in by", max_length=120, required=False)


class WhyForm(forms.Form):
    """One reason in words; the label says of what."""

    why = forms.CharField(label="Why", max_length=500)

    def __init__(self, *args: Any, label: str = "Why", help_text: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["why"].label = label
        self.fields["why"].help_text = help_text


class SendOnForm(forms.Form):
    """Another shop: which, what for, that the owner agreed, and how the box gets there."""

    shop = forms.CharField(label="Which shop", max_length=200)
    what_for = forms.CharField(label="What for", max_length=300)
    owner_said = forms.CharField(
        label="Who at the owner's agreed, and when",
        max_length=200,
        help_text="An owner must know who works on the analyzer (ISO/IEC 17025:2017, 7.1.1 c).",
    )
    back_promised = forms.DateField(label="Promised back", required=False, widget=day_input())
    their_number = forms.CharField(label="Their job number", max_length=60, required=False)
    carrier = forms.CharField(label="Carrier", max_length=80, required=False)
    tracking = forms.CharField(
        label="Number on the parcel", max_length=80, required=False, widget=forms.TextInput(attrs=SCANNED)
    )


class TheirsForm(forms.Form):
    """What the other shop said since."""

    their_number = forms.CharField(label="Their job number", max_length=60, required=False)
    back_promised = forms.DateField(label="Promised back", required=False, widget=day_input())


class BackForm(forms.Form):
    """The job is back from the other shop."""

    TO = (
        ("arrived", "on the shelf, to the bench later"),
        ("bench", "on the bench"),
        ("to-return", "back to its owner"),
    )
    to = forms.ChoiceField(label="Goes on", choices=TO)
    results = forms.CharField(
        label="What their paper says",
        max_length=4000,
        required=False,
        widget=text_area(4),
        help_text="In their words. It is shown as theirs, never as ours (ISO/IEC 17025:2017, 7.8.2.1 p).",
    )
    paper = forms.FileField(label="Their paper (PDF, PNG or JPEG)", required=False)


class PaperForm(forms.Form):
    """The other shop's paper, when it comes later."""

    paper = forms.FileField(label="Their paper (PDF, PNG or JPEG)")


class UnrepairedForm(forms.Form):
    """Why it goes back unrepaired, and what stands on its tag."""

    why = forms.ChoiceField(label="Why", choices=WHY)
    words = forms.CharField(label="What was found or said", max_length=1000, required=False, widget=text_area(3))
    tag = forms.CharField(
        label="Words on the tag",
        max_length=300,
        widget=text_area(2),
        help_text="For the next hand that switches it on: what it does wrong, and what not to use it for.",
    )


class ReportForm(forms.Form):
    """An analyzer is reported lost or stolen."""

    what = forms.ChoiceField(label="It is", choices=(("lost", "lost"), ("stolen", "stolen")))
    day = forms.DateField(label="Reported on", widget=day_input())
    words = forms.CharField(
        label="Who reported it, and what", max_length=300, help_text="A police report has a number: write it here."
    )
