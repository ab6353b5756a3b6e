"""How long a posterior and the next question take, and how calls end that the tables themselves make up.

Run: python benchmarks/fault_finding.py [--calls 300] [--seed 20266] [--repeats 30]
First part, in processor time: invented tables of 80 causes and 200 observations, pairs included, and the shipped ones.
Second part: callers drawn from the shipped tables (a cause or two, what they complain of, what they know), led by the
advisor on the phone until it stops. It measures the engine, not the tables: the tables are true by construction here.
Prints tables, writes nothing.
"""

from __future__ import annotations

import argparse
import dataclasses
import time

import numpy as np

from flueproof.faults.inference.engine import Engine, shipped_engine
from flueproof.faults.knowledge.checker import distribution_of
from flueproof.faults.knowledge.knowledge import Knowledge
from flueproof.faults.knowledge.observation import Choices
from flueproof.faults.knowledge.reader import shipped_knowledge
from flueproof.faults.next_step.advising import Advisor
from flueproof.faults.next_step.costs import shipped_costs

CAUSES, OBSERVATIONS, MOST_QUESTIONS = 80, 200, 25


def grown(knowledge: Knowledge, causes: int, observations: int) -> Knowledge:
    """Return tables of a given size: copies of the shipped ones under other names."""
    more_causes = dict(knowledge.causes)
    for number, (key, cause) in enumerate(list(knowledge.causes.items())[: causes - len(more_causes)]):
        more_causes[f"{key}-{number}"] = dataclasses.replace(cause, key=f"{key}-{number}")
    more = dict(knowledge.observations)
    questions = [one for one in knowledge.observations.values() if one.kind == "question"]
    for number in range(observations - len(more)):
        one = questions[number]
        key = f"{one.key}-{number}"
        under = {f"{cause}-{place}": row for place, (cause, row) in enumerate(one.likelihood.under.items())}
        under = {cause: row for cause, row in under.items() if cause in more_causes} | dict(one.likelihood.under)
        likelihood = dataclasses.replace(one.likelihood, under=under)
        more[key] = dataclasses.replace(one, key=key, likelihood=likelihood)
    return Knowledge(more_causes, more, knowledge.priors)


def typical(seconds: list[float]) -> str:
    return f"{1000 * float(np.median(seconds)):.1f} ms, slowest {1000 * max(seconds):.1f} ms"


def timing(name: str, knowledge: Knowledge, repeats: int) -> None:
    begun = time.process_time()
    advisor = Advisor(Engine(knowledge), shipped_costs())
    made = time.process_time() - begun
    complaints = [key for key, one in knowledge.observations.items() if one.kind == "complaint"]
    posteriors: list[float] = []
    both: list[float] = []
    for number in range(repeats):
        answers: dict = {complaints[number % len(complaints)]: "yes"}
        for _ in range(4):
            begun = time.process_time()
            advisor.engine.posterior(answers)
            posteriors.append(time.process_time() - begun)
            begun = time.process_time()
            advice = advisor.advise(answers)
            both.append(time.process_time() - begun)
            if advice.step is None:
                break
            answers[advice.step.observation] = None
    size = f"{len(knowledge.causes)} causes, {len(knowledge.observations)} observations"
    print(f"{name}: {size}, {len(advisor.engine.hypotheses)} hypotheses; made ready in {1000 * made:.0f} ms")
    print(f"  posterior: {typical(posteriors)}; posterior and next question: {typical(both)}")


def answer_of(knowledge, key, names, generator):
    """Draw a caller's answer under the causes that are there; the stronger of two causes is seen."""
    one = knowledge.observations[key]
    if not isinstance(one.likelihood, Choices) or generator.random() > one.known_by:
        return None
    rows = [np.array(distribution_of(one, name)) for name in names if name in one.likelihood.under]
    row = rows[int(generator.integers(len(rows)))] if rows else np.array(one.likelihood.usual)
    return str(generator.choice(one.likelihood.answers, p=row / row.sum()))


def calls(count: int, seed: int) -> None:
    engine = shipped_engine()
    advisor, knowledge = Advisor(engine, shipped_costs()), engine.knowledge
    generator = np.random.default_rng(seed)
    prior = engine.posterior({}).probability
    complaints = [key for key, one in knowledge.observations.items() if one.kind == "complaint"]
    asked, first, three, right, stated = [], 0, 0, 0, []
    for _ in range(count):
        names = engine.hypotheses.names(int(generator.choice(len(prior), p=prior)))
        answers = {key: "yes" for key in complaints if answer_of(knowledge, key, names, generator) == "yes"}
        for _ in range(MOST_QUESTIONS):
            advice = advisor.advise(answers)
            if advice.step is None:
                break
            key = advice.step.observation
            answers[key] = answer_of(knowledge, key, names, generator)
        ranking = [one.cause for one in advice.posterior.ranking()[:3]]
        first += ranking[0] in names
        three += bool(set(ranking) & set(names))
        right += _helps(advice.decision, names, knowledge)
        stated.append(advice.decision.right)
        asked.append(len(answers))
    print(f"{count} calls drawn from the tables, {np.mean(asked):.1f} answers a call")
    print(f"  first cause right {first / count:.0%}, in the first three {three / count:.0%}")
    print(f"  decision needs no second try: {right / count:.0%} (said {np.mean(stated):.0%})")


def _helps(decision, names, knowledge):
    if decision.kind == "send-in":
        return any(knowledge.causes[name].service == decision.service for name in names)
    return (decision.cause,) == names if decision.cause else not names


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--calls", type=int, default=300)
    parser.add_argument("--seed", type=int, default=20266)
    parser.add_argument("--repeats", type=int, default=30)
    chosen = parser.parse_args()
    timing("grown tables", grown(shipped_knowledge(), CAUSES, OBSERVATIONS), chosen.repeats)
    timing("shipped tables", shipped_knowledge(), chosen.repeats)
    calls(chosen.calls, chosen.seed)


if __name__ == "__main__":
    main()
