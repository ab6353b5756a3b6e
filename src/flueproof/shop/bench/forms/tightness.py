"""Forms that ask whether the gas path is tight: plug, bulb, vacuum hold."""

from __future__ import annotations

from typing import Any, ClassVar, Final

from django import forms

from flueproof.papers.content.display import unit_sign
from flueproof.shop.bench.forms.choosing import FEEDS, PROBES, path_of
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.typed import NumberField, ShownField

HOLD_TIMES_S: Final = (0, 10, 20, 30)
_YES_NO: Final = (("yes", "yes"), ("no", "no"))
_MAYBE: Final = (("", "not looked at"), *_YES_NO)


class OnThePath(StepForm):
    """A test at one place on the gas path."""

    places: ClassVar = {"path": "feed", "path.probe": "probe"}
    feed = forms.ChoiceField(label="At", choices=FEEDS, initial="tip")
    probe = forms.ChoiceField(label="Through", choices=PROBES, initial="owner")

    def step(self) -> dict[str, Any]:
        """Return kind and place."""
        return {"kind": self.kind, "path": path_of(self.cleaned_data)}


class PlugTestForm(OnThePath):
    """The inlet closed while the pump runs."""

    kind, title = "plug-test", "Plug test"
    help_text = "Close the path while the pump runs; after ten seconds pull the plug and listen."
    cautions = ("Plug no longer than ten seconds: the pump suffers.",)
    places: ClassVar = {**OnThePath.places, "pump": "pump", "hiss_after_10_s": "hiss"}
    pump = forms.ChoiceField(
        label="The pump",
        choices=(("stalls", "stalls"), ("slows", "only slows"), ("runs-on", "runs on"), ("alarm", "gives an alarm")),
        widget=forms.RadioSelect,
    )
    hiss = forms.ChoiceField(
        label="A hiss on pulling the plug?", choices=_MAYBE, required=False, widget=forms.RadioSelect
    )

    def step(self) -> dict[str, Any]:
        """Return the `plug-test` step."""
        heard = {"hiss_after_10_s": self.cleaned_data["hiss"] == "yes"} if self.cleaned_data["hiss"] else {}
        return {**super().step(), "pump": self.cleaned_data["pump"], **heard}


class BulbTestForm(OnThePath):
    """A squeezed rubber bulb on the path."""

    kind, title = "bulb-test", "Bulb test"
    cautions = ("Pump off while the bulb is on.",)
    stays_flat = forms.ChoiceField(label="The squeezed bulb stays flat?", choices=_YES_NO, widget=forms.RadioSelect)

    def step(self) -> dict[str, Any]:
        """Return the `bulb-test` step."""
        return {**super().step(), "stays_flat": self.cleaned_data["stays_flat"] == "yes"}


class VacuumHoldForm(OnThePath):
    """A vacuum on the path and how it holds, read at 0, 10, 20 and 30 s."""

    kind, title = "vacuum-hold", "Vacuum hold"
    help_text = "Draw the vacuum, close, and read the gauge at each time. Suction counts as a positive number here."
    cautions = ("Pump off. Not more than 10 kPa (40 inH₂O): membranes and cells give way.",)
    places: ClassVar = {
        **OnThePath.places,
        "exhaust_capped": "exhaust_capped",
        "volume_ml": "volume_ml",
        "readings": "shown_0",
        "readings[0].step": "display_step",
    }
    exhaust_capped = forms.ChoiceField(
        label="Exhaust closed?", choices=_MAYBE, required=False, widget=forms.RadioSelect
    )
    volume_ml = NumberField(label="Volume of the path, ml", required=False, help_text="If known.")
    unit = forms.ChoiceField(
        label="Unit", choices=[(unit, unit_sign(unit)) for unit in ("kPa", "inH2O", "mbar", "hPa", "inHg")]
    )
    display_step = NumberField(label="Display step", initial="0.1")
    shown_0 = ShownField(label="At 0 s")
    shown_10 = ShownField(label="At 10 s")
    shown_20 = ShownField(label="At 20 s")
    shown_30 = ShownField(label="At 30 s")

    def step(self) -> dict[str, Any]:
        """Return the `vacuum-hold` step."""
        given = self.cleaned_data
        capped = {"exhaust_capped": given["exhaust_capped"] == "yes"} if given["exhaust_capped"] else {}
        reading = {
            "channel": "vacuum",
            "unit": given["unit"],
            "step": given["display_step"],
            "t_s": list(HOLD_TIMES_S),
            "shown": [given[f"shown_{time}"] for time in HOLD_TIMES_S],
        }
        return {**super().step(), **capped, "volume_ml": given["volume_ml"], "readings": [reading]}
