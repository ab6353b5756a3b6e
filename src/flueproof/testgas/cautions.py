"""What to mind with a gas: carbon monoxide, toxic blends, gas under pressure, nitrogen that takes the air away."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.testgas.blend import Blend
from flueproof.testgas.errors import TestGasError
from flueproof.testgas.shipped_table import shipped_table

LOCAL_CODES = "Local codes and licensed practice come first."


@dataclass(frozen=True, slots=True)
class ExposureLimit:
    """How much CO a body of rules allows: `ppm` [ppm], `mg_m3` [mg/m3] or None, with its source."""

    body: str
    ppm: float
    mg_m3: float | None
    source: str


def co_exposure_limits() -> tuple[ExposureLimit, ...]:
    """Return published exposure limits for carbon monoxide.

    Source: data/co_exposure.toml, per entry.
    """
    return tuple(
        ExposureLimit(row["body"], float(row["ppm"]), row.get("mg_m3"), row["source"])
        for row in shipped_table("co_exposure")["limits"]
    )


def room_rise_ppm_per_h(gas_ppm: float, flow_l_min: float, room_m3: float) -> float:
    """Return how fast a component rises in a closed room without ventilation [ppm per hour].

    gas_ppm: in the test gas [ppm]; flow_l_min: supply, all of it vented into the room [L/min]; room_m3 [m3].
    Raises: TestGasError for a room or flow that cannot be.
    Source: mass balance, gas_ppm x flow x 60 / volume.
    """
    if room_m3 <= 0.0 or flow_l_min < 0.0 or gas_ppm < 0.0:
        raise TestGasError(f"{gas_ppm!r} ppm at {flow_l_min!r} L/min into {room_m3!r} m3: the room must be above 0.")
    return gas_ppm * flow_l_min * 60.0 / (room_m3 * 1000.0)


def handling_cautions(blend: Blend) -> tuple[str, ...]:
    """Return the cautions for handling a blend, in sentences, the last one deferring to local codes.

    Source: common practice, no source; NO and NO2: from memory.
    """
    said = ["Gas under pressure: secure the cylinder, open the valve slowly, keep it below 50 degC."]
    co_ppm = blend.component("co", "ppm").value
    if blend.certified("co"):
        idlh = next(one.ppm for one in co_exposure_limits() if "IDLH" in one.body)
        danger = " At once dangerous to breathe undiluted." if co_ppm >= idlh else ""
        said.append(
            f"Carbon monoxide, {co_ppm:g} ppm: poisonous, no smell.{danger} Vent outdoors or to a hood, keep a CO "
            "alarm on the bench."
        )
    if blend.certified("no") or blend.certified("no2") or blend.certified("so2"):
        said.append("Toxic and corrosive gas (nitrogen oxides or SO2): vent outdoors or to a hood.")
    if blend.balance == "nitrogen":
        said.append("Nitrogen displaces the air of a small room: ventilate.")
    return (*said, LOCAL_CODES)
