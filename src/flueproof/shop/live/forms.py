"""What the live page is sent, read from forms or from JSON."""

from __future__ import annotations

import json
from typing import Any

from django import forms
from django.http import HttpRequest

from flueproof.shop.frame.forms.pressure import PressureField
from flueproof.shop.records.visits.looks.beginning import TIMED_KINDS, Wanted


class DecimalField(forms.FloatField):
    """A finite number; a decimal comma is understood."""

    widget = forms.TextInput

    def to_python(self, value: Any) -> Any:
        """Return the number, None where nothing was typed."""
        if isinstance(value, str):
            value = value.strip().replace("\u2212", "-").replace(",", ".")
        return super().to_python(value)


class SeenField(forms.Field):
    """What was seen to be so: True; "no", an empty field and a word that is neither are not a yes."""

    widget = forms.TextInput

    def to_python(self, value: Any) -> bool:
        """Return whether it was seen."""
        return value is True or str(value).strip().lower() in {"yes", "true", "on", "1"}


class BeginForm(forms.Form):
    """What a person wants to measure; see `Wanted`."""

    kind = forms.ChoiceField(choices=[(kind, kind) for kind in TIMED_KINDS])
    point = forms.CharField(required=False, max_length=60)
    code = forms.CharField(required=False, max_length=60)
    feed = forms.ChoiceField(
        required=False, choices=[(one, one) for one in ("tip", "handle", "hose", "after-trap", "instrument")]
    )
    probe = forms.ChoiceField(required=False, choices=[("owner", "owner"), ("shop", "shop")])
    supply_l_min = DecimalField(required=False, min_value=0.05, max_value=60, label="Supply")
    gauge_kpa = PressureField(required=False, label="Cylinder gauge")
    vent_open = SeenField(required=False)
    pinched = forms.BooleanField(required=False)
    of = forms.ChoiceField(required=False, choices=[(one, one) for one in ("probe", "socket", "air-sensor")])
    value = DecimalField(required=False, label="What the reference shows")
    unit = forms.CharField(required=False, max_length=12)

    def __init__(self, *args: Any, gauge_in: str = "kPa", **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["gauge_kpa"].unit = gauge_in  # type: ignore[attr-defined] # a PressureField

    def wanted(self) -> Wanted:
        """Return what was asked for; call it after is_valid()."""
        given = self.cleaned_data
        channels: Any = self.data.getlist("channels") if hasattr(self.data, "getlist") else self.data.get("channels")
        units = {name.removeprefix("unit_"): str(self.data[name]) for name in self.data if name.startswith("unit_")}
        return Wanted(
            kind=given["kind"],
            point=given["point"],
            code=given["code"],
            channels=tuple(str(one) for one in channels or ()),
            units={name: unit for name, unit in units.items() if unit},
            feed=given["feed"],
            probe=given["probe"],
            supply_l_min=given["supply_l_min"],
            gauge_kpa=given["gauge_kpa"],
            vent_open=True if given["vent_open"] else None,
            pinched=given["pinched"],
            of=given["of"],
            value=given["value"],
            unit=given["unit"],
        )


class TypedForm(forms.Form):
    """One typed value: who sends it and its number there, channel, moment of the timer, what the display showed."""

    source = forms.RegexField(r"^[A-Za-z0-9._:-]{6,64}$", error_messages={"invalid": "Load the page anew."})
    sequence = forms.IntegerField(min_value=1, max_value=2**53)
    channel = forms.CharField(max_length=24)
    mark_s = DecimalField(min_value=0, max_value=86_400)
    shown = forms.CharField(required=False, max_length=40, strip=True)
    photo = forms.RegexField(r"^[0-9a-f]{64}$", required=False)


def sent(request: HttpRequest) -> Any:
    """Return what was posted: JSON as a dict, a form as it is.

    Raises: ValueError for JSON that is no object.
    """
    if (request.content_type or "").startswith("application/json"):
        tree = json.loads(request.body or b"{}")
        if not isinstance(tree, dict):
            raise ValueError("the body is no JSON object")
        return tree
    return request.POST


def first_wrong(form: forms.Form) -> str:
    """Return the first thing wrong with a form, in one sentence with its field's name."""
    name, found = next(iter(form.errors.items()))
    label = form.fields[name].label if name in form.fields else None
    return f"{label or name.replace('_', ' ').capitalize()}: {found[0]}"


class SetForm(forms.Form):
    """The bottle for several analyzers, where it goes in, and the flow of the whole manifold."""

    code = forms.CharField(max_length=60, label="Cylinder", error_messages={"required": "Scan the cylinder."})
    feed = forms.ChoiceField(choices=[(one, one) for one in ("tip", "handle", "hose", "after-trap", "instrument")])
    manifold_l_min = DecimalField(
        min_value=0.1,
        max_value=100,
        label="Flow of the manifold",
        error_messages={"required": "Read the flow of the whole manifold, in L/min."},
    )
    gauge_kpa = PressureField(required=False, label="Cylinder gauge")
    vent_open = SeenField(required=False)

    def __init__(self, *args: Any, gauge_in: str = "kPa", **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["gauge_kpa"].unit = gauge_in  # type: ignore[attr-defined] # a PressureField

    def wanted(self) -> Wanted:
        """Return what was asked for, the same for each analyzer; call it after is_valid()."""
        given = self.cleaned_data
        return Wanted(
            kind="test-gas",
            code=given["code"],
            feed=given["feed"],
            gauge_kpa=given["gauge_kpa"],
            vent_open=True if given["vent_open"] else None,
        )
