"""The table of step kinds: a new kind is added here and in its own file."""

from typing import Annotated

from pydantic import Field

from flueproof.bench.record.steps.gas import AmbientAirStep, SwapTestStep, TestGasStep
from flueproof.bench.record.steps.remarks import NoteStep, PhotoStep, StrikeStep
from flueproof.bench.record.steps.sensors import DisplayedStep, FlowStep, PressureStep, TemperatureStep
from flueproof.bench.record.steps.surroundings import RoomStep, SettingsStep, VisualStep, ZeroingStep
from flueproof.bench.record.steps.tightness import BulbTestStep, PlugTestStep, VacuumHoldStep
from flueproof.bench.record.steps.work import AdjustStep, DrainStep, PartStep, UpkeepStep

AnyStep = Annotated[
    TestGasStep
    | AmbientAirStep
    | PlugTestStep
    | BulbTestStep
    | VacuumHoldStep
    | SwapTestStep
    | TemperatureStep
    | PressureStep
    | FlowStep
    | DisplayedStep
    | RoomStep
    | ZeroingStep
    | SettingsStep
    | VisualStep
    | DrainStep
    | UpkeepStep
    | AdjustStep
    | PartStep
    | PhotoStep
    | NoteStep
    | StrikeStep,
    Field(discriminator="kind"),
]
REFERENCE_KIND_OF_STEP = {
    "test-gas": "test-gas",
    "swap-test": "test-gas",
    "temperature": "thermometer",
    "pressure": "manometer",
    "flow": "flow-meter",
}
