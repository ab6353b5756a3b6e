"""What the gas path calls for: mend it, show it tight, or do the test that can tell."""

from __future__ import annotations

from flueproof.bench.judgement import Action
from flueproof.bench.verdict.situation import Situation

CHECK = Action("check-path", "Show the path tight before any gas channel is adjusted: plug test and O2-free gas.")


def path_actions(now: Situation) -> list[Action]:
    """Return the actions on the gas path, in order; empty where it is shown tight.

    Source: own rule; mend the path, prove it tight, then adjust (bench record, verdict).
    """
    finding = now.path.finding
    actions: list[Action] = []
    if finding.probe.state == "leak":
        detail = {"between": list(finding.between)} if finding.between else None
        actions.append(Action("mend-path", finding.probe.why, where="probe", lr=finding.probe.ratio, detail=detail))
    if finding.instrument.state == "leak":
        actions.append(Action("mend-path", finding.instrument.why, where="instrument", lr=finding.instrument.ratio))
    if finding.leak == "unlocated":
        actions.append(separating_action(now))
        actions.append(Action("mend-path", finding.whole.why, lr=finding.whole.ratio))
    if actions:
        actions.append(CHECK)
    if _must_separate(now):
        actions.append(separating_action(now))
    return actions


def _must_separate(now: Situation) -> bool:
    finding = now.path.finding
    if finding.leak == "cannot-tell":
        return now.path.products is not None
    return finding.leak == "probe" and finding.instrument.state == "cannot-tell"


def separating_action(now: Situation) -> Action:
    """Return the cheapest test that tells a leak from an O2 zero error, or one part from the other.

    No gas before gas, owner's part before opening the case. Source: own rule (bench record, cheapest test).
    """
    finding = now.path.finding
    done = {(one.kind, one.feed) for one in finding.evidence}
    fed = set(now.path.products.feeds("o2")) if now.path.products is not None else set()
    why = (finding.instrument if finding.instrument.state not in {"unknown", "tight", "zero"} else finding.whole).why
    test: dict[str, str | bool]
    if "tip" in fed and ("plug-test", "tip") not in done:
        test = {"test": "plug-test", "feed": "tip", "words": "Plug the tip: a stalling pump shows the path tight."}
    elif ("plug-test", "instrument") not in done:
        test = {"test": "plug-test", "feed": "instrument", "words": "Plug the instrument's inlet; listen to the pump."}
    elif "instrument" not in fed:
        test = {"test": "test-gas", "feed": "instrument", "words": "Feed the same gas straight at the instrument."}
    elif ("vacuum-hold", "instrument") not in done:
        test = {"test": "vacuum-hold", "feed": "instrument", "words": "Hold a vacuum at the inlet, exhaust capped."}
    else:
        words = "Feed O2-free gas with the inlet pinched: a leak's share grows, an O2 zero error does not."
        test = {"test": "test-gas", "feed": "instrument", "words": words, "pinched": True}
    return Action("separate", f"{why} {test['words']}".strip(), where="instrument", detail=test)
