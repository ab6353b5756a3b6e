"""What is true around a simulated analyzer besides its own gas path and cells."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.simulate.physics.sensing import Room

LEAKS = (
    "probe-joint-seal",
    "probe-handle-cracked",
    "hose-split",
    "hose-off",
    "coupling-seal",
    "trap-seal",
    "trap-cracked",
    "filter-housing-open",
)
"""Causes that let air in between the tip and the inlet of the instrument, from the tip inwards."""

MILD = Room()
"""An ordinary room."""


@dataclass(frozen=True, slots=True)
class Scene:
    """The job, the weather, the handling and the outside of one analyzer.

    leak: one of LEAKS or ""; flue_o2_pct, flue_co_ppm, flue_no_ppm, flue_c: truly in the flue [% O2, ppm, ppm, degC];
    indoors_c: air where the appliance stands [degC]; switched_on_in: the air it zeroed itself in; restarted: whether a
    start outdoors is what the caller tells of; clamps: shows no negative CO; tail_ppm: CO left over from too much gas
    [ppm]; over_hpa: pressure at the cells [hPa]; h2_ppm: hydrogen in the air [ppm]; depth: share of the flue's excess
    temperature at the tip [-]; draft_ratio: shown over true by the unit of display [-]; battery_min: runs so long
    [min]; bottle_share: truly in the owner's bottle over its label [-]; other_gain, other_o2_pct: error of the other
    analyzer [-], [% O2]; other_unfiltered: it has no NO filter; path_flow_share: flow with the path over free flow [-].
    """

    leak: str = ""
    flue_o2_pct: float = 5.0
    flue_co_ppm: float = 60.0
    flue_no_ppm: float = 40.0
    flue_c: float = 160.0
    indoors_c: float = 20.0
    switched_on_in: Room = MILD
    restarted: bool = True
    zeroed_where: str = "outdoors"
    clamps: bool = True
    height_m: float = 150.0
    height_set_m: float = 150.0
    near: str = "nothing"
    fuel_burnt: str = "natural-gas"
    fuel_set: str = "natural-gas"
    filter_looks: str = "white"
    trap_looks: str = "dry"
    water_beyond_trap: bool = False
    outlet_covered: bool = False
    dropped: bool = False
    got_wet: bool = False
    frozen: bool = False
    moves_with_handle: bool = False
    jumps: bool = False
    new_lately: tuple[str, ...] = ("nothing",)
    months_since_check: int = 8
    flow_message: str = "none"
    pump_sound: str = "normal"
    tail_ppm: float = 0.0
    over_hpa: float = 0.0
    h2_ppm: float = 0.0
    depth: float = 1.0
    reversed_leads: bool = False
    air_sensor_in: bool = True
    old_air_c: float | None = None
    draft_ratio: float = 1.0
    draft_blocked: bool = False
    draft_moves: bool = False
    draft_unzeroed_pa: float = 0.0
    battery_min: float = 400.0
    battery_volt: float = 1.0
    charger_volt: float = 1.0
    cold: bool = False
    bias_ppm: float = 0.0
    bottle: str = "none"
    bottle_share: float = 1.0
    bottle_in_date: bool = True
    bottle_fed: str = "tee"
    another: bool = False
    other_gain: float = 1.0
    other_o2_pct: float = 0.0
    other_unfiltered: bool = False
    path_flow_share: float = 0.93
