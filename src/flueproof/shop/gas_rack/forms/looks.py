"""Typed looks at a display, the check of a new bottle, and the morning check."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django import forms

from flueproof.analyzer.profile import Channel
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.control import (
    ControlLine,
    LooksError,
    certificate_says,
    channels_for,
    control_line,
    read_looks,
)
from flueproof.shop.records.gas.span_checks import Looks
from flueproof.shop.records.models import Analyzer, Reference, Station


class LooksField(forms.CharField):
    """One or several looks at a settled display: 498, or 498 499, or OVER."""

    def __init__(self, channel: Channel, **options: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 8})
        super().__init__(label=f"{channel.title}, {channel.unit}", max_length=80, widget=widget, **options)

    def clean(self, value: Any) -> Any:
        """Return the looks."""
        text = str(super().clean(value))
        try:
            return read_looks(text)
        except LooksError as error:
            raise forms.ValidationError(str(error)) from None


class SpanCheckForm(forms.Form):
    """What the control analyzer showed on the new bottle and on the old one, a channel a row."""

    def __init__(
        self, *args: Any, new: Reference, old: Reference | None, channels: list[Channel], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.channels, self.old = channels, old
        for channel in channels:
            if old is not None:
                self.fields[f"old_{channel.name}"] = LooksField(channel, help_text=certificate_says(old, channel))
        for channel in channels:
            self.fields[f"new_{channel.name}"] = LooksField(channel, help_text=certificate_says(new, channel))

    def looks(self) -> list[Looks]:
        """Return what was typed, a channel each; the form must be valid."""
        typed = self.cleaned_data
        return [Looks(one.name, typed[f"new_{one.name}"], typed.get(f"old_{one.name}", [])) for one in self.channels]

    def on_old(self) -> list[Any]:
        """Return the bound fields of the old bottle, which is read first."""
        return [self[f"old_{one.name}"] for one in self.channels] if self.old is not None else []

    def on_new(self) -> list[Any]:
        """Return the bound fields of the new bottle."""
        return [self[f"new_{one.name}"] for one in self.channels]


@dataclass(frozen=True, slots=True)
class BottleFields:
    """One bottle of the morning with its fields."""

    bottle: Reference
    fields: list[Any]


class MorningForm(forms.Form):
    """Room, vent, regulators, and a look a channel on each bottle in use."""

    station = forms.ModelChoiceField(
        label="Which bench", queryset=Station.objects.none(), required=False, empty_label="all benches"
    )
    room_co_ppm = forms.FloatField(
        label="CO in the room, ppm",
        min_value=0.0,
        max_value=100_000.0,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 6}),
    )
    vent_ok = forms.BooleanField(label="The vent is free to the outdoors", required=False)
    regulator_ok = forms.BooleanField(label="Regulators and lines are tight and hold their pressure", required=False)
    course_anew = forms.BooleanField(
        label="The control analyzer was adjusted, repaired or given a new cell since its last good check",
        required=False,
        help_text="Then its course begins anew: its limits still hold, the jump rule starts with this check.",
    )
    confirm = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, analyzer: Analyzer, bottles: list[Reference], **options: Any) -> None:
        super().__init__(*args, **options)
        self.analyzer, self.bottles = analyzer, bottles
        station: Any = self.fields["station"]
        station.queryset = Station.objects.order_by("name")
        if not station.queryset.exists():
            del self.fields["station"]
        profile = shipped_profile(analyzer.profile)
        self._channels = {bottle.pk: channels_for(bottle, profile) for bottle in bottles}
        for bottle in bottles:
            for channel in self._channels[bottle.pk]:
                said = certificate_says(bottle, channel)
                self.fields[f"look_{bottle.pk}_{channel.name}"] = LooksField(channel, help_text=said)

    def clean_room_co_ppm(self) -> float:
        """Return the room's CO [ppm]."""
        value = float(self.cleaned_data["room_co_ppm"])
        if not math.isfinite(value):
            raise forms.ValidationError("Type what the CO alarm or a second analyzer shows.")
        return value

    def bottle_fields(self) -> Iterator[BottleFields]:
        """Yield the bottles that are read, each with its fields."""
        for bottle in self.bottles:
            fields = [self[f"look_{bottle.pk}_{one.name}"] for one in self._channels[bottle.pk]]
            if fields:
                yield BottleFields(bottle, fields)

    def lines(self, now: Any) -> tuple[ControlLine, ...]:
        """Return all bottles and channels judged on the control analyzer; faults stand at their fields.

        The form must be valid; a fault found here makes it invalid.
        """
        found = []
        for bottle in self.bottles:
            for channel in self._channels[bottle.pk]:
                name = f"look_{bottle.pk}_{channel.name}"
                try:
                    found.append(control_line(self.analyzer, bottle, channel, self.cleaned_data[name], now))
                except LooksError as error:
                    self.add_error(name, str(error))
        return tuple(found)

    def typed_digest(self) -> str:
        """Return a hash of what was typed: a confirmation holds for these values only."""
        kept = {name: str(value) for name, value in self.cleaned_data.items() if name != "confirm"}
        return hashlib.sha256(json.dumps(kept, sort_keys=True).encode()).hexdigest()
