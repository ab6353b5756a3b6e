"""The plain questions of a call: what each is asked about, its kind, and what can be answered."""

from __future__ import annotations

from typing import Final

YES_NO: Final = ("yes", "no")
BETTER_SAME: Final = ("better", "same")
PUMP: Final = ("stalls", "slows", "runs-on")

WORDS: Final[dict[str, tuple[str, ...]]] = {
    "start": ("passes", "o2-error", "flow-error", "dark", "sometimes-passes"),
    "co_zeroed_where": ("outdoors", "truck", "boiler-room", "kitchen", "garage", "workshop"),
    "breath_at_tip": ("o2-falls", "o2-falls-a-little", "o2-stays", "o2-falls-late"),
    "suction_at_tip": ("strong", "weak", "none"),
    "plug_at_tip": PUMP,
    "plug_at_inlet": PUMP,
    "bulb_on_probe": ("flat", "fills"),
    "hiss_after_plug": YES_NO,
    "o2_course": ("steady", "climbs", "jumps-with-pump", "jumps-when-moved"),
    "co_course": ("steady", "falls-slowly", "stays-for-days", "climbs"),
    "other_hose": BETTER_SAME,
    "other_probe": BETTER_SAME,
    "trap_reseated": BETTER_SAME,
    "handle_bent": ("reading-moves", "same"),
    "pump_sound": ("normal", "strained", "weak", "gurgles", "none", "uneven"),
    "flow_message": ("none", "always", "only-with-probe", "after-minutes"),
    "filter_looks": ("white", "grey", "black", "wet", "missing"),
    "trap_looks": ("dry", "some-water", "full", "cracked", "seal-missing", "seal-not-even"),
    "water_beyond_trap": YES_NO,
    "outlet": ("free", "covered"),
    "dropped": YES_NO,
    "got_wet": YES_NO,
    "frozen": YES_NO,
    "fuel_set": ("natural-gas", "propane", "oil", "wood"),
    "fuel_burnt": ("natural-gas", "propane", "oil", "wood"),
    "only_on_fuel": ("natural-gas", "propane", "oil", "wood", "any"),
    "humidity": ("dry", "ordinary", "humid"),
    "indoors_hour": ("goes-away", "stays"),
    "bottle": ("none", "co-in-n2", "dry-air"),
    "bottle_in_date": YES_NO,
    "bottle_fed": ("tee", "straight-on"),
    "second_bottle": ("agrees", "reads-right"),
    "near": ("nothing", "battery-charger", "solvent", "running-burner", "vehicle"),
    "tip_warmed_in_hand": ("rises", "falls", "stays", "dashes"),
    "probe_pushed_deeper": ("changes", "same"),
    "air_sensor_in": YES_NO,
    "draft_when_turned": ("moves", "same"),
    "suck_on_draft_hose": ("reacts", "nothing"),
    "charge_light": ("on", "off", "flickers"),
    "other_charger": ("works", "same"),
}
"""Answers in words, by question; the same words as the team's case vignettes use."""

MISTAKEN_FOR: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "start": {"passes": ("sometimes-passes",), "flow-error": ("o2-error",), "dark": ("dark",)},
    "plug_at_tip": {"stalls": ("slows",), "runs-on": ("slows",)},
    "plug_at_inlet": {"stalls": ("slows",), "runs-on": ("slows",)},
    "suction_at_tip": {"strong": ("weak",), "none": ("weak",)},
    "breath_at_tip": {"o2-falls": ("o2-falls-a-little", "o2-falls-late"), "o2-stays": ("o2-falls-a-little",)},
    "filter_looks": {"white": ("grey",), "grey": ("white", "black"), "black": ("grey",), "wet": ("black", "grey")},
    "trap_looks": {
        "dry": ("some-water",),
        "some-water": ("dry", "full"),
        "full": ("some-water",),
        "cracked": ("dry", "some-water"),
        "seal-missing": ("seal-not-even", "dry"),
        "seal-not-even": ("dry",),
    },
    "pump_sound": {"normal": ("strained", "weak"), "strained": ("normal",), "gurgles": ("strained", "normal")},
    "flow_message": {"none": ("after-minutes",), "always": ("after-minutes", "only-with-probe")},
    "o2_course": {"steady": ("jumps-when-moved", "climbs"), "climbs": ("steady",), "jumps-when-moved": ("steady",)},
}
"""What an answer is mistaken for, where some mistakes are likelier than others (our own assumption, no source)."""

LISTS: Final = ("new_lately", "channels")
"""Questions answered by a list."""

_KINDS: Final[dict[str, tuple[str, ...]]] = {
    "look": ("filter_looks", "trap_looks", "water_beyond_trap", "outlet", "charge_light", "start", "flow_message"),
    "feel": ("suction_at_tip", "plug_at_tip", "plug_at_inlet", "hiss_after_plug", "pump_sound", "breath_at_tip"),
    "try": (
        "other_hose",
        "other_probe",
        "trap_reseated",
        "handle_bent",
        "bulb_on_probe",
        "other_charger",
        "second_bottle",
        "bottle",
        "bottle_fed",
        "bottle_in_date",
        "tip_warmed_in_hand",
        "probe_pushed_deeper",
        "draft_when_turned",
        "suck_on_draft_hose",
        "indoors_hour",
    ),
    "remember": (
        "dropped",
        "got_wet",
        "frozen",
        "new_lately",
        "co_zeroed_where",
        "humidity",
        "near",
        "months_since_check",
        "only_on_fuel",
        "o2_course",
        "co_course",
    ),
    "setting": ("fuel_set", "fuel_burnt", "height_m", "height_set_m", "air_sensor_in", "channels"),
}


def kind_of(fact: str) -> str:
    """Return the kind of a question: look, feel, try, remember, setting, or read for a figure on the display."""
    return next((kind for kind, facts in _KINDS.items() if fact in facts), "read")
