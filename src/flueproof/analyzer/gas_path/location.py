"""Where air comes in: probe assembly, instrument, somewhere, nowhere, or not to be told from what was done."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from flueproof.analyzer.gas_path.dilution import Dilution, between_feeds, excess_air, ratio_above
from flueproof.analyzer.gas_path.evidence import Evidence, joined_ratio, strong_ratio
from flueproof.analyzer.gas_path.products import Products

OUTER_FEEDS = ("tip", "handle", "hose", "after-trap")
INSTRUMENT = "instrument"
SHOP_PROBE = "tip-shop-probe"
ON_CONTROL = "tip-on-control"


@dataclass(frozen=True, slots=True)
class PlaceState:
    """What is known of one place: `tight`, `leak`, `zero` (an O2 zero error, no leak), `close` or `cannot-tell`.

    ratio: likelihood ratio leak : no leak [-]; None where nothing was measured.
    """

    state: str
    ratio: float | None
    dilution: Dilution | None
    why: str


@dataclass(frozen=True, slots=True)
class LeakFinding:
    """Where air comes in.

    leak: `none`, `probe`, `instrument`, `unlocated` or `cannot-tell`.
    probe, instrument, whole: states of the probe assembly, the instrument and the path as a whole.
    between: the two feeds between which the probe assembly's leak lies, where feeds in between were used.
    """

    leak: str
    probe: PlaceState
    instrument: PlaceState
    whole: PlaceState
    between: tuple[str, str] | None
    evidence: tuple[Evidence, ...]


UNKNOWN = PlaceState("unknown", None, None, "not measured")


def _word(ratio: float) -> str:
    strong = strong_ratio()
    if ratio >= strong:
        return "leak"
    return "tight" if ratio <= 1.0 / strong else "close"


def _evidence_at(evidence: Sequence[Evidence], feeds: Sequence[str]) -> tuple[Evidence, ...]:
    return tuple(one for one in evidence if one.feed in feeds)


def _probe_dilution(products: Products | None) -> tuple[Dilution | None, str]:
    """The probe's own dilution: against the instrument, else against the shop's probe, else on the control unit."""
    if products is None:
        return None, ""
    for inner, said in ((INSTRUMENT, "Tip against instrument"), (SHOP_PROBE, "Owner's probe against the shop's")):
        dilution = between_feeds(products, "tip", inner)
        if dilution is not None:
            return dilution, said
    return excess_air(products, ON_CONTROL), "This probe on the control analyzer"


def probe_state(products: Products | None, evidence: Sequence[Evidence], leak_limit: float) -> PlaceState:
    """Return the state of the owner's probe assembly: tip against instrument, and the bulb's answer.

    leak_limit: largest share of room air [fraction of flow].
    Source: own derivation; bulb shares from data/path_evidence.toml (common practice, no source).
    """
    dilution, said = _probe_dilution(products)
    bulbs = tuple(one for one in evidence if one.kind == "bulb-test")
    if dilution is None and not bulbs:
        return UNKNOWN
    ratio = joined_ratio(bulbs)
    words = [one.text for one in bulbs]
    if dilution is not None:
        ratio *= ratio_above(dilution.value, dilution.u, leak_limit)
        words.insert(0, f"{said}: {100 * dilution.value:.1f} % of the sample is room air.")
    state = _word(ratio)
    return PlaceState(state, ratio, dilution, " ".join(words))


def _direct_evidence(place: str, evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    feeds = (INSTRUMENT, "after-trap") if place == INSTRUMENT else ("tip",)
    return tuple(one for one in _evidence_at(evidence, feeds) if one.kind != "bulb-test")


def excess_state(place: str, products: Products | None, evidence: Sequence[Evidence], leak_limit: float) -> PlaceState:
    """Return the state behind one feed from O2 on gas there and from tightness tests there.

    place: `tip` for the whole path, `instrument` for what lies behind its inlet. O2 near its zero on O2-free gas
    shows the path tight; O2 above it is a leak or an O2 zero error, which only a tightness test tells apart.
    Source: own derivation (bench record, "what the unit's own zeroing hides"); test shares from
    data/path_evidence.toml (common practice, no source).
    """
    excess = excess_air(products, place) if products is not None else None
    tests = _direct_evidence(place, evidence)
    by_test = joined_ratio(tests)
    words = " ".join(one.text for one in tests)
    if excess is None:
        if not tests:
            return UNKNOWN
        return PlaceState(_word(by_test), by_test, None, words)
    gas = ratio_above(excess.value, excess.u, leak_limit)
    seen = f"O2 at the {place}: as if {100 * excess.value:.1f} % of the sample were room air."
    words = f"{seen} {words}".strip()
    if _word(gas) == "tight":
        if _word(by_test) == "leak":
            return PlaceState("close", by_test, excess, words + " Gas and tightness test contradict each other.")
        return PlaceState("tight", gas * min(by_test, 1.0), excess, words)
    if not tests:
        return PlaceState("cannot-tell" if _word(gas) == "leak" else "close", None, excess, words)
    verdict = _word(by_test)
    if verdict == "leak":
        return PlaceState("leak" if _word(gas) == "leak" else "close", by_test, excess, words)
    if verdict == "tight":
        return PlaceState("zero" if _word(gas) == "leak" else "tight", by_test, excess, words)
    return PlaceState("cannot-tell", by_test, excess, words)


def _between(products: Products | None, leak_limit: float) -> tuple[str, str] | None:
    if products is None:
        return None
    used = [feed for feed in (*OUTER_FEEDS, INSTRUMENT) if any(name[1] == feed for name in products.names)]
    best: tuple[float, tuple[str, str]] | None = None
    for outer, inner in itertools.pairwise(used):
        step = between_feeds(products, outer, inner)
        if step is not None:
            ratio = ratio_above(step.value, step.u, leak_limit)
            if ratio >= strong_ratio() and (best is None or ratio > best[0]):
                best = (ratio, (outer, inner))
    return best[1] if best and len(used) > 2 else None


def locate_leak(products: Products | None, evidence: Sequence[Evidence], leak_limit: float) -> LeakFinding:
    """Return where air comes in, from gas at several feeds and from tightness tests.

    products: from `fit_products`, None without gas; evidence: from `evidence_of` and `pinched_evidence`;
    leak_limit: largest share of room air [fraction of flow].
    No prior enters: what the likelihood ratios do not tell stays `cannot-tell`.
    Source: own derivation.
    """
    probe = probe_state(products, evidence, leak_limit)
    instrument = excess_state(INSTRUMENT, products, evidence, leak_limit)
    whole = excess_state("tip", products, evidence, leak_limit)
    plugged_tight = joined_ratio(_direct_evidence("tip", evidence)) <= 1.0 / strong_ratio()
    probe, instrument = _inferred(probe, instrument, whole, plugged_tight=plugged_tight)
    return LeakFinding(
        _leak_word(probe, instrument, whole), probe, instrument, whole, _between(products, leak_limit), tuple(evidence)
    )


def _inferred(
    probe: PlaceState, instrument: PlaceState, whole: PlaceState, *, plugged_tight: bool
) -> tuple[PlaceState, PlaceState]:
    """Carry a tight whole path over to its parts, and a leak of the whole to the part that is left."""
    if whole.state in {"tight", "zero"} and probe.state in {"unknown", "close"}:
        probe = PlaceState("tight", whole.ratio, probe.dilution or whole.dilution, whole.why)
    if whole.state == "tight" and instrument.state in {"unknown", "close"}:
        instrument = PlaceState("tight", whole.ratio, whole.dilution, whole.why)
    if whole.state == "leak" and probe.state in {"unknown", "close"} and instrument.state in {"tight", "zero"}:
        probe = PlaceState("leak", whole.ratio, whole.dilution, whole.why)
    if whole.state == "leak" and probe.state == "tight" and instrument.state in {"cannot-tell", "close"}:
        # the plug at the tip found a leak and the probe assembly is none: it is behind the inlet
        instrument = PlaceState("leak", whole.ratio, instrument.dilution, f"{instrument.why} {whole.why}")
    if plugged_tight and whole.state in {"zero", "tight"} and instrument.state in {"cannot-tell", "close"}:
        # the plug at the tip held: everything behind it is tight, the instrument too
        instrument = PlaceState("zero", whole.ratio, instrument.dilution, whole.why)
    return probe, instrument


def _leak_word(probe: PlaceState, instrument: PlaceState, whole: PlaceState) -> str:
    if probe.state == "leak":
        return "probe"
    if instrument.state == "leak":
        return "instrument"
    if whole.state == "leak":
        return "unlocated"
    if instrument.state in {"tight", "zero"}:
        told = probe.state == "tight" or (probe.state == "unknown" and whole.state in {"unknown", "tight", "zero"})
        return "none" if told else "cannot-tell"
    if instrument.state == "unknown" and whole.state in {"tight", "zero"}:
        return "none"
    return "cannot-tell"
