"""Tightness tests of a record as the gas path takes them, and their lines among the checks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueproof.analyzer.gas_path.evidence import Evidence, PathTest
from flueproof.analyzer.units import to_core
from flueproof.bench.judgement import CheckResult
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.tightness import BulbTestStep, PlugTestStep, VacuumHoldStep


def path_tests(record: Record, phase: str) -> list[PathTest]:
    """Return the tightness tests of a phase on the owner's own path or at the instrument.

    Source: bench record format 1.
    """
    return list(_each(record, phase))


def _each(record: Record, phase: str) -> Iterable[PathTest]:
    for step in record.standing_steps():
        if not isinstance(step, PlugTestStep | BulbTestStep | VacuumHoldStep) or step.phase != phase:
            continue
        if step.path.probe == "shop" and step.path.feed != "instrument":
            continue
        feed = step.path.feed
        if isinstance(step, PlugTestStep):
            yield PathTest(step.id, "plug-test", feed, saw=step.pump, hiss=step.hiss_after_10_s)
        elif isinstance(step, BulbTestStep):
            yield PathTest(step.id, "bulb-test", feed, saw="flat" if step.stays_flat else "fills")
        else:
            reading = step.readings[0]
            held = tuple(
                float("nan") if isinstance(item, str) else to_core(float(item), reading.unit, "Pa") / 1000.0
                for item in reading.shown
            )
            yield PathTest(
                step.id,
                "vacuum-hold",
                feed,
                vacuum_kpa=held,
                times_s=tuple(reading.t_s or ()),
                volume_ml=step.volume_ml,
                capped=step.exhaust_capped is not False,
            )


def tightness_checks(phase: str, evidence: Sequence[Evidence], strong: float) -> list[CheckResult]:
    """Return what each tightness test says: tight, leaking, or nothing clear.

    strong: likelihood ratio from which evidence decides [-]. Source: own rule.
    """
    results = []
    for one in evidence:
        ok = True if one.ratio <= 1.0 / strong else (False if one.ratio >= strong else None)
        results.append(CheckResult(one.step, phase, one.kind, None, ok, one.text, one.ratio, "likelihood ratio", None))
    return results
