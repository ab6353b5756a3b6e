"""Every kind of step of format 1 is read, with the keys that it needs and no others."""

from typing import get_args

import pytest

from flueproof.bench.record.steps.kinds import REFERENCE_KIND_OF_STEP, AnyStep

GAS = {"reference": "cyl-co-500", "path": {"feed": "hose", "probe": "shop"}}
CO = {"channel": "co", "unit": "ppm", "step": 1, "shown": [489]}
DRAFT = {"channel": "draft", "unit": "Pa", "step": 1, "shown": [-25, -25]}
VACUUM = {"channel": "vacuum", "unit": "kPa", "step": 0.01, "t_s": [0, 30], "shown": [8.0, 7.9]}
STACK = {"channel": "stack", "unit": "degF", "step": 1, "shown": ["----"]}
AIR = {"unit": "degF", "value": 71.0}
KINDS = {
    "test-gas": {"phase": "as-left", **GAS, "readings": [CO]},
    "swap-test": {"phase": "as-left", **GAS, "readings": [CO]},
    "ambient-air": {"phase": "as-left", "readings": [CO]},
    "plug-test": {"phase": "as-left", "path": {"feed": "tip"}, "pump": "alarm"},
    "bulb-test": {"phase": "as-left", "path": {"feed": "tip"}, "stays_flat": True},
    "vacuum-hold": {"phase": "as-left", "path": {"feed": "instrument"}, "readings": [VACUUM]},
    "temperature": {
        "phase": "as-left", "channel": "stack", "of": "socket", "reference": "therm-1", "reference_value": AIR,
        "readings": [STACK],
    },
    "pressure": {
        "phase": "as-left", "channel": "draft", "reference": "mano-1", "reference_value": {"unit": "Pa", "value": -25},
        "readings": [DRAFT],
    },
    "flow": {"phase": "as-left", "reference": "flow-1", "reference_value": {"unit": "l/min", "value": 1.1}},
    "displayed": {
        "phase": "as-left", "readings": [{"channel": "efficiency", "unit": "%", "step": 0.1, "shown": [85.1]}],
    },
    "room": {"humidity_pct": 41},
    "zeroing": {"where": "outdoors"},
    "settings": {"as_found": {"fuel": "natural gas", "averaging": 3, "backlight": False}},
    "visual": {"text": "hose cracked near the trap"},
    "drain": {},
    "upkeep": {"done": "new-filter"},
    "adjust": {"channel": "co", "accepted": True},
    "part": {"done": "replaced", "what": "co cell", "opened_case": True},
    "photo": {"file": "case.jpg"},
    "note": {"text": "owner called"},
    "strike": {"strikes": "s1", "why": "typed twice"},
}  # fmt: skip
FLOW_METER = {
    "kind": "flow-meter",
    "certificate": "F-7",
    "unit": "l/min",
    "expanded_uncertainty": 0.02,
    "k": 2.0,
    "due": "2027-05-01",
}


@pytest.fixture
def with_flow_meter(good):
    good["references"]["flow-1"] = FLOW_METER
    return good


def test_the_table_holds_every_kind():
    kinds = [get_args(member.model_fields["kind"].annotation)[0] for member in get_args(get_args(AnyStep)[0])]
    assert sorted(kinds) == sorted(KINDS)
    assert len(kinds) == 21


def test_every_kind_that_needs_a_reference_says_of_which_kind():
    needing = {kind for kind, content in KINDS.items() if "reference" in content}
    assert needing == set(REFERENCE_KIND_OF_STEP)


@pytest.mark.parametrize("kind", KINDS)
def test_a_step_of_every_kind_is_read(kind, with_flow_meter, read, step):
    with_flow_meter["steps"].append(step(kind, **KINDS[kind]))
    assert read(with_flow_meter).steps[-1].kind == kind


@pytest.mark.parametrize(
    ("kind", "key"),
    [(kind, key) for kind, content in KINDS.items() for key in content if kind not in {"settings", "room"}],
)
def test_what_a_kind_needs_is_refused_when_missing(kind, key, with_flow_meter, refused, step):
    content = {name: value for name, value in KINDS[kind].items() if name != key}
    with_flow_meter["steps"].append(step(kind, **content))
    error = refused(with_flow_meter)
    assert error.path == f"$.steps[11].{key}"
    assert "missing" in error.message


@pytest.mark.parametrize("kind", KINDS)
def test_a_key_unknown_to_a_kind_is_refused(kind, with_flow_meter, refused, step):
    with_flow_meter["steps"].append(step(kind, **KINDS[kind], colour="grey"))
    assert refused(with_flow_meter).path == "$.steps[11].colour"


@pytest.mark.parametrize("kind", [kind for kind in KINDS if "phase" not in KINDS[kind]])
def test_a_happening_has_no_phase(kind, good, refused, step):
    good["steps"].append(step(kind, **KINDS[kind], phase="as-left"))
    assert refused(good).path == "$.steps[11].phase"
