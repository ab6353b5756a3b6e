"""A whole record with its judgement, invented, for looking at papers; the judgement is written by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from flueproof.analyzer.limit import Limit
from flueproof.analyzer.profile import Channel, FlowRange, Profile, Recovery, Repeatability, Zeroing
from flueproof.bench.judgement import Action, BudgetLine, CheckResult, Judgement, Note, PointJudgement, Verdict
from flueproof.bench.record.reader import read_record
from flueproof.bench.record.record import Record

AT = "2026-11-03T{}:00-05:00"
GAS = "OIML R 144:2013, 4.3"


def record_json() -> dict[str, Any]:
    """Return the record as plain JSON values, to be changed by a test."""
    tip = {"feed": "tip", "probe": "owner"}
    looks = {"channel": "co", "unit": "ppm", "step": 1, "t_s": [0, 30, 60, 90, 120], "shown": [0, 402, 432, 440, 442]}
    o2 = {"channel": "o2", "unit": "%", "step": 0.1, "t_s": [0, 30, 60, 90, 120], "shown": [20.9, 1.2, 0.1, 0.1, 0.1]}
    by = {"by": "R. Vale"}
    return {
        "format": "flueproof-bench-record/1",
        "job": "J-2026-00042",
        "shop": {
            "name": "Harrow Lane Test Bench (invented)",
            "address": ["1 Harrow Lane", "Port Alder"],
            "method": "FGA-1 rev 3",
        },
        "owner": {"name": "Tidewater Heating (invented)", "address": ["5 Quay Street", "Port Alder"]},
        "order": {
            "service": "verify-adjust",
            "as_found": True,
            "limits": "profile",
            "decision_rule": "risk-2",
            "due": {"wanted": True, "months": 12, "rule": "day"},
            "accredited": False,
        },
        "received": {
            "date": "2026-11-02",
            "condition": "scratched case, dry",
            "enclosed": ["probe", "hose", "trap", "air sensor"],
        },
        "analyzer": {
            "make": "Orrin",
            "model": "Orrin 5",
            "serial": "O5-20417",
            "firmware": "2.1",
            "profile": {"name": "two-cell-residential", "version": "1", "sha256": None},
            "cells": [
                {"gas": "o2", "serial": "A1", "made": "2024-06", "fitted": "2024-10-02"},
                {"gas": "co", "serial": "B7", "fitted": "2022-09-14"},
            ],
        },
        "references": {
            "cyl-co-500": {
                "kind": "test-gas",
                "supplier": "Gas House (invented)",
                "number": "C-7731",
                "lot": "L-20",
                "certificate": "LN-88213",
                "balance": "nitrogen",
                "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}},
                "certified": "2026-02-01",
                "expires": "2028-02-01",
            },
            "can-co-100": {
                "kind": "test-gas",
                "number": "D-12",
                "lot": "L-81",
                "certificate": "lot L-81",
                "balance": "nitrogen",
                "components": {"co": {"unit": "ppm", "value": 100.0, "stated_accuracy_pct": 2.0}},
                "certified": "2026-03-01",
                "expires": "2027-09-01",
            },
            "therm-1": {
                "kind": "thermometer",
                "certificate": "T-1190",
                "unit": "degC",
                "expanded_uncertainty": 0.3,
                "k": 2.0,
                "source_u": 0.4,
                "due": "2027-05-01",
            },
            "mano-1": {
                "kind": "manometer",
                "certificate": "P-0031",
                "unit": "Pa",
                "expanded_uncertainty": 0.4,
                "k": 2.0,
                "due": "2027-05-01",
            },
        },
        "steps": [
            {
                "id": "s1",
                "at": AT.format("09:12"),
                **by,
                "kind": "room",
                "air": {"unit": "degC", "value": 22.4},
                "humidity_pct": 41,
                "pressure_hpa": 1008.3,
                "room_co_ppm": 0,
            },
            {
                "id": "s3",
                "at": AT.format("09:30"),
                **by,
                "phase": "as-found",
                "kind": "test-gas",
                "reference": "cyl-co-500",
                "path": tip,
                "application": 1,
                "gas_on_s": 5,
                "readings": [o2, looks],
            },
            {
                "id": "s4",
                "at": AT.format("09:40"),
                **by,
                "phase": "as-found",
                "kind": "test-gas",
                "reference": "can-co-100",
                "path": tip,
                "application": 1,
                "gas_on_s": 5,
                "readings": [looks],
            },
            {
                "id": "s6",
                "at": AT.format("09:50"),
                **by,
                "phase": "as-found",
                "kind": "temperature",
                "channel": "stack",
                "of": "probe",
                "reference": "therm-1",
                "reference_value": {"unit": "degC", "value": 199.8},
                "readings": [{"channel": "stack", "unit": "degF", "step": 1, "shown": [394, 394]}],
            },
            {
                "id": "s7",
                "at": AT.format("10:00"),
                **by,
                "phase": "as-found",
                "kind": "pressure",
                "channel": "draft",
                "reference": "mano-1",
                "reference_value": {"unit": "Pa", "value": -25.0},
                "readings": [{"channel": "draft", "unit": "inH2O", "step": 0.01, "shown": [-0.1]}],
            },
            {
                "id": "s8",
                "at": AT.format("10:20"),
                **by,
                "kind": "adjust",
                "channel": "co",
                "reference": "cyl-co-500",
                "entered": {"unit": "ppm", "value": 502},
                "accepted": True,
                "attempt": 1,
            },
            {
                "id": "s9",
                "at": AT.format("10:40"),
                **by,
                "phase": "as-left",
                "kind": "test-gas",
                "reference": "cyl-co-500",
                "path": tip,
                "application": 1,
                "gas_on_s": 5,
                "readings": [o2, looks],
            },
        ],
    }


def record_of(changed: dict[str, Any] | None = None) -> Record:
    """Read the sample record, or a changed one, through the reader."""
    return read_record(json.dumps(changed or record_json()).encode())


def _channel(name: str, title: str, unit: str, high: float, limit: Limit, kind: str = "cell") -> Channel:
    return Channel(
        name, title, unit, 0.0, high, 0.1, kind, zeroed_in_air=False, set_to=None, clamp_low=None, snap_to=None,
        snap_width=0.0, limits=(limit,), response=None,
        repeatability=Repeatability(0.1, 0.0, 10.0, "common practice, no source"), cross=MappingProxyType({}),
        linear_claimed=False,
    )  # fmt: skip


def profile_of() -> Profile:
    """Build a small profile by hand."""
    habit = "common practice, no source"
    channels = {
        "o2": _channel("o2", "Oxygen", "%", 21.0, Limit("any", 0.0, 25.0, 0.5, None, None, "only", GAS)),
        "co": _channel("co", "Carbon monoxide", "ppm", 2000.0,
                       Limit("any", 0.0, 2000.0, 10.0, 5.0, "reference", "larger", GAS)),
        "stack": _channel("stack", "Stack temperature", "degC", 600.0,
                          Limit("any", -20.0, 600.0, 3.0, None, None, "only", habit), "thermocouple"),
        "draft": _channel("draft", "Draft", "Pa", 250.0,
                          Limit("any", -250.0, 250.0, 3.0, None, None, "only", habit), "pressure"),
    }  # fmt: skip
    return Profile(
        "two-cell-residential", "1", "Two cells, residential", habit, "0" * 64, 60.0, 120.0, 60.0,
        FlowRange(0.5, 0.8, 1.2, habit), 690.0, 1.0, habit, None, 12, Recovery(2000.0, 10.0, habit),
        Zeroing(("switch-on",), 60.0, habit), MappingProxyType(channels), (), MappingProxyType({}),
        MappingProxyType({}),
    )  # fmt: skip


def point(channel: str, reference: float, settled: float, **changed: Any) -> PointJudgement:
    """Build one judged point; u is a quarter of the limit unless changed."""
    unit = {"o2": "%", "co": "ppm", "stack": "degC", "draft": "Pa"}[channel]
    limit = {"o2": 0.5, "co": max(10.0, 0.05 * reference), "stack": 3.0, "draft": 3.0}[channel]
    gas = {"o2": "cyl-co-500", "co": "cyl-co-500" if reference > 200 else "can-co-100", "stack": "therm-1",
           "draft": "mano-1"}[channel]  # fmt: skip
    u = {"o2": 0.041, "co": 0.005 * reference + 0.35, "stack": 0.61, "draft": 0.72}[channel]
    budget = (
        BudgetLine("test gas certificate" if channel in {"o2", "co"} else "reference certificate", 0.8 * u, shared=gas),
        BudgetLine("settling", 0.4 * u), BudgetLine("display step", 0.3 * u, kind="rectangular"),
        BudgetLine("noise", 0.2 * u), BudgetLine("repeatability", 0.26 * u, 10.0),
    )  # fmt: skip
    error = settled - reference
    statement = "conform" if abs(error) <= limit else "not-conform"
    one = PointJudgement(
        step="s3", phase="as-found", feed="tip" if channel in {"o2", "co"} else None, channel=channel, unit=unit,
        reference=reference, reference_id=gas, reference_u=0.8 * u, settled=settled, settled_u=0.5 * u,
        displayed_at_hold=settled, error=error, u=u, dof=None, k=2.0, U=2 * u, limit=limit, limit_of="reference",
        limit_source=GAS if channel in {"o2", "co"} else "common practice, no source", guard=0.0,
        statement=statement, p_conform=0.99, risk=0.01, tur=limit / (2 * u), budget=budget,
        of="probe" if channel == "stack" else None, probe="owner" if channel in {"o2", "co"} else None,
    )  # fmt: skip
    return replace(one, **changed)


def judgement_of(**changed: Any) -> Judgement:
    """Build the judgement of the sample: CO low as found, adjusted, good as left."""
    left = {"phase": "as-left", "step": "s9"}
    points = (
        point("o2", 0.0, 0.08), point("o2", 0.0, 0.11, **left),
        point("co", 502.0, 447.6), point("co", 502.0, 501.2, **left),
        point("co", 100.0, 90.4, statement="undecided"), point("co", 100.0, 99.1, **left),
        point("stack", 199.8, 201.3), point("stack", 0.2, -0.4, **left), point("stack", 199.8, 201.1, **left),
        point("draft", -25.0, -24.6), point("draft", -25.0, -24.8, **left),
    )  # fmt: skip
    checks = (
        CheckResult("s5", "as-found", "plug-test", None, ok=True, text="The pump stalls; the trap hisses after 10 s."),
        CheckResult("s3", "as-found", "response", "co", ok=True, text="To 90 % of the step in 34 s.", value=34.0,
                    unit="s", limit=60.0),
        CheckResult("s1", "as-found", "drift", "o2", ok=None, text="Room air shows 20.9 %; no test of this channel."),
    )  # fmt: skip
    given: dict[str, Any] = {
        "record": "rec-0001.json", "job": "J-2026-00042",
        "profile": {"name": "two-cell-residential", "version": "1"}, "decision_rule": {"name": "risk-2", "r": None},
        "as_found": Verdict("work-needed", (Action("adjust", "CO reads 11 % low on a tight path.", channel="co",
                                                   enter={"unit": "ppm", "value": 502}, lr=4e5),)),
        "as_left": Verdict("ready-to-sign", signable=True), "points": points, "checks": checks,
        "gas_path": {"leak": "none", "dilution": {"tip": {"value": 0.001, "low": 0.0, "high": 0.005}}},
        "not_tested": ("NO filter: no NO gas at hand",),
        "notes": (Note("co-zero", "The analyzer sets CO to zero itself at switch-on; zero was checked on nitrogen."),),
    }  # fmt: skip
    return Judgement(**(given | changed))
