"""How good and how fast the plan of the bench is: 60 open jobs, 4 technicians, 6 stations, 20 seeds; then 400 jobs.

    .venv/bin/python benchmarks/plan.py [--seeds 20] [--seconds 5] [--large-seconds 25] [--only kept|overloaded|large]

The work comes from filling/open_bench.py: promises of a hidden plan (all can be kept), or a share of them (overloaded).
Peers are the two rules of the trade, earliest due date and least slack, each placed in both ways the plan itself uses:
job by job, and from the clock. Lateness and waiting are held against the capacity bound. How much of the gap is the
price of breaking few promises is told by the least lateness known: the best of the orders that prices give where only
lateness counts, a hundred price lists of them. Every plan is checked.
"""

import argparse
import os
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent / "filling"))
from open_bench import open_work

from flueproof.promise.schedule.best import best_plan
from flueproof.promise.schedule.checking import faults_of
from flueproof.promise.schedule.measure import broken_promises, score
from flueproof.promise.schedule.model import Job
from flueproof.promise.schedule.placing.dispatching import dispatch
from flueproof.promise.schedule.questions import can_be_done_by, how_many, without
from flueproof.promise.schedule.quick import earliest_due_date, least_slack, quick_plan, rule_plan
from flueproof.promise.schedule.risk import chances
from flueproof.promise.schedule.solving.capacity_bound import capacity_bound
from flueproof.promise.schedule.solving.prices import AFTER, late_by
from flueproof.promise.schedule.solving.prices import asked as priced


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, default=20)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--large-seconds", type=float, default=25.0)
    parser.add_argument("--only", choices=("kept", "overloaded", "large"))
    asked = parser.parse_args()
    best_plan(open_work(0, 3), 0.5)  # the solver is loaded once, not timed
    print(f"load of the machine at the start: {os.getloadavg()[0]:.1f}")
    if asked.only in (None, "kept"):
        kept(asked)
    if asked.only in (None, "overloaded"):
        for tight in (0.6, 0.3):
            overloaded(asked, tight)
    if asked.only in (None, "large"):
        large(asked)
    print(f"load of the machine at the end: {os.getloadavg()[0]:.1f}")


def checked(*plans):
    for plan in plans:
        if faults := faults_of(plan):
            sys.exit(f"A plan that cannot be worked: {faults}")


def timed(call):
    clock, work = time.perf_counter(), time.process_time()
    found = call()
    return found, time.perf_counter() - clock, time.process_time() - work


def rules_of(situation):
    """Return the plans of the two rules, placed in both ways: name -> plan."""
    found = {}
    for rule in (earliest_due_date, least_slack):
        order = sorted(situation.jobs, key=lambda job: (*rule(job), job.name))
        found[rule.__name__, "job by job"] = rule_plan(situation, rule)
        found[rule.__name__, "from the clock"] = dispatch(situation, order)
    return found


def kept(asked):
    first, proofs, questions, waits, at_once, risks = [], [], [], [], [], []
    for seed in range(asked.seeds):
        situation = open_work(seed)
        quick, clock, work = timed(lambda s=situation: quick_plan(s))
        first.append((clock, work))
        at_once.append(len(broken_promises(quick)))
        proof, clock, work = timed(lambda s=situation: best_plan(s, asked.seconds, aims=("broken",)))
        proofs.append((len(broken_promises(proof)), clock, work))
        best = best_plan(situation, asked.seconds)
        checked(best, quick, proof)
        rules = rules_of(situation)
        waits.append([score(best).waiting, *(score(plan).waiting for plan in rules.values())])
        new = Job("new", open_work(seed + 100, 1).jobs[0].steps)
        for moment in (240, 480, 965):
            answer, clock, work = timed(lambda p=best, m=moment, job=new: can_be_done_by(p, job, m))
            checked(answer.plan)
            questions.append((clock, work))
        questions.append(timed(lambda p=best: without(p, "Ann (invented)", [(485, 965)]))[1:])
        questions.append(timed(lambda p=best, job=new: how_many(p, job, 5 * 485))[1:])
        risks.append(timed(lambda p=best: chances(p))[1:])
    print(f"\nevery promise can be kept, {asked.seeds} seeds")
    print(f"  first plan: {milliseconds(first)}; broken promises in it: median {statistics.median(at_once):.0f}")
    seconds = [clock for _, clock, _ in proofs]
    print(
        f"  proved that all can be kept: {sum(not broken for broken, _, _ in proofs)} of {asked.seeds}; "
        f"median {statistics.median(seconds):.2f} s, longest {max(seconds):.2f} s, "
        f"of the processor at most {max(work for _, _, work in proofs):.2f} s"
    )
    print(f"  questions: {milliseconds(questions)}")
    print(f"  probabilities of all promises: {milliseconds(risks)}")
    names = ["plan", *(" ".join(name) for name in rules)]
    for name, column in zip(names, zip(*waits, strict=True), strict=True):
        print(f"  waiting of the mean job, {name}: {statistics.mean(column) / 60:.0f} min")


def milliseconds(times):
    clocks, works = [1000 * clock for clock, _ in times], [1000 * work for _, work in times]
    return (
        f"median {statistics.median(clocks):.0f} ms, longest {max(clocks):.0f} ms"
        f" (processor {statistics.median(works):.0f} and {max(works):.0f} ms)"
    )


def overloaded(asked, tight):
    rows = []
    for seed in range(asked.seeds):
        situation = open_work(seed, tight=tight)
        best = best_plan(situation, asked.seconds)
        bound = capacity_bound(situation)
        rules = {name: score(plan) for name, plan in rules_of(situation).items()}
        calm = least_lateness(situation, [best, *rules_of(situation).values()])
        checked(best, calm)
        rows.append((score(best), bound, rules, score(calm)))
    print(f"\noverloaded, promises at {tight:.0%} of those that can be kept, {asked.seeds} seeds (medians)")
    for what in ("broken", "lateness", "waiting"):
        plan, least = (statistics.median(getattr(row[side], what) for row in rows) for side in (0, 1))
        print(f"  {what}: plan {plan:.0f}, no plan below {least:.0f}")
    calm = statistics.median(row[3].lateness for row in rows)
    print(f"  least lateness known: {calm:.0f}, with {statistics.median(row[3].broken for row in rows):.0f} broken")
    for name, side in (("plan", 0), ("least lateness known", 3)):
        over = [row[side].lateness / max(1, row[1].lateness) - 1 for row in rows]
        median = f"median {statistics.median(over):.0%}, from {min(over):.0%} to {max(over):.0%}"
        print(f"  lateness over the bound, {name}: {median}")
    for name in rows[0][2]:
        values = [row[2][name] for row in rows]
        print(
            f"  {' '.join(name)}: broken {statistics.median(value.broken for value in values):.0f}, lateness "
            f"{statistics.median(value.lateness for value in values):.0f}, waiting "
            f"{statistics.median(value.waiting for value in values):.0f} min"
        )
    beaten = sum(best.lateness > min(value.lateness for value in rules.values()) for best, _, rules, _ in rows)
    worse = sum(best.broken > min(value.broken for value in rules.values()) for best, _, rules, _ in rows)
    print(f"  seeds with more lateness than the best of the rules: {beaten}; with more broken promises: {worse}")


def least_lateness(situation, known):
    """Return the plan with the least lateness that is known, whatever it breaks."""
    best = min(known, key=lambda plan: score(plan).lateness)
    length = max(best.ends.values()) + AFTER
    for turn, found in enumerate(priced(situation, late_by(), length, 100)):
        ends = {}
        for (name, _), begin in found.begins.items():
            ends[name] = max(ends.get(name, 0), begin)
        order = sorted(situation.jobs, key=lambda job: (ends.get(job.name, 0), job.name))
        plan = dispatch(situation, order, found.begins if turn % 2 else None)
        best = min(best, plan, key=lambda plan: score(plan).lateness)
    return best


def large(asked):
    for tight in (0.9, 0.5):
        situation = open_work(1, 400, tight)
        quick, _, work = timed(lambda s=situation: quick_plan(s))
        new = Job("new", open_work(101, 1).jobs[0].steps)
        answer, _, asking = timed(lambda p=quick, job=new: can_be_done_by(p, job, 480))
        best, clock, _ = timed(lambda s=situation: best_plan(s, asked.large_seconds))
        checked(best, quick, answer.plan)
        value, bound = score(best), capacity_bound(situation)
        rules = {" ".join(name): tuple(score(plan)) for name, plan in rules_of(situation).items()}
        print(f"\n400 jobs, promises at {tight:.0%}: planned in {clock:.1f} s")
        print(f"  processor: first plan {work:.2f} s, question {asking:.2f} s")
        print(f"  broken, lateness, waiting: {tuple(value)}; no plan beats {tuple(bound)}")
        print(f"  waiting over the bound: {value.waiting / bound.waiting - 1:.0%}")
        print(f"  lateness over the bound: {(value.lateness - bound.lateness) / 400:.0f} min a job")
        print(f"  rules (broken, lateness, waiting): {rules}")


if __name__ == "__main__":
    main()
