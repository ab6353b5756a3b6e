"""Which form belongs to which kind of step, and its key on the page. A new kind is added here and in its own file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.shop.bench.forms.displayed import DisplayedForm
from flueproof.shop.bench.forms.gas import AmbientAirForm, SwapTestForm
from flueproof.shop.bench.forms.remarks import MemoryForm, NoteForm, SkipForm, StrikeForm
from flueproof.shop.bench.forms.sensors import FlowForm, PressureForm, TemperatureForm
from flueproof.shop.bench.forms.step_form import StepForm
from flueproof.shop.bench.forms.surroundings import DrainForm, RoomForm, SettingsForm, VisualForm, ZeroingForm
from flueproof.shop.bench.forms.tightness import BulbTestForm, PlugTestForm, VacuumHoldForm
from flueproof.shop.bench.forms.work import AdjustForm, PartForm, UpkeepForm

FORMS: Final[dict[str, type[StepForm]]] = {
    form.kind: form
    for form in (
        DrainForm,
        VisualForm,
        RoomForm,
        ZeroingForm,
        SettingsForm,
        MemoryForm,
        PlugTestForm,
        BulbTestForm,
        VacuumHoldForm,
        TemperatureForm,
        PressureForm,
        FlowForm,
        AmbientAirForm,
        SwapTestForm,
        DisplayedForm,
        UpkeepForm,
        AdjustForm,
        PartForm,
        NoteForm,
        SkipForm,
        StrikeForm,
    )
}


@dataclass(frozen=True, slots=True)
class KeyedForm:
    """A form that the page offers by a key."""

    kind: str
    key: str
    word: str


OFFERED: Final[tuple[tuple[str, tuple[KeyedForm, ...]], ...]] = (
    (
        "On arrival",
        (
            KeyedForm("drain", "w", "Water"),
            KeyedForm("visual", "l", "Look"),
            KeyedForm("memory", "m", "Memory"),
            KeyedForm("room", "r", "Room"),
            KeyedForm("zeroing", "z", "Switch on"),
            KeyedForm("settings", "s", "Settings"),
        ),
    ),
    (
        "Measure",
        (
            KeyedForm("plug-test", "p", "Plug"),
            KeyedForm("bulb-test", "b", "Bulb"),
            KeyedForm("vacuum-hold", "v", "Vacuum"),
            KeyedForm("temperature", "t", "Temperature"),
            KeyedForm("pressure", "d", "Draft"),
            KeyedForm("flow", "f", "Flow"),
            KeyedForm("ambient-air", "i", "Room air"),
            KeyedForm("swap-test", "x", "Swap probe"),
            KeyedForm("displayed", "c", "Computed"),
        ),
    ),
    (
        "Work",
        (
            KeyedForm("upkeep", "u", "Upkeep"),
            KeyedForm("adjust", "a", "Adjust"),
            KeyedForm("part", "e", "Part"),
        ),
    ),
    ("Write", (KeyedForm("note", "n", "Note"), KeyedForm("strike", "k", "Strike out"))),
)
