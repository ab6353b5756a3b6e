"""A bench worked minute by minute with true minutes, whoever is free taking the first step of the plan that can go on.

Written for the tests of the probabilities, apart from all that plans: a clock that ticks.
"""


def worked(plan, minutes, horizon):
    """Return when each job ends, for true hands-on minutes by (job, step)."""
    shop, jobs = plan.situation.shop, plan.situation.by_name
    turn = {(each.job, each.step): each.start for each in plan.placed}
    at = {name: [job.finished, job.release, ""] for name, job in jobs.items()}
    busy = {each.name: 0 for each in shop.technicians}
    taken = {each.name: "" for each in shop.stations}
    ends, until = {}, {}
    for now in range(horizon):
        closes = next((end for start, end in shop.open if start <= now < end), None)
        for name in [name for name, end in until.items() if end <= now]:
            _finish(jobs[name], at[name], taken, ends, now)
            del until[name]
        if closes is None:
            continue
        waiting = sorted(
            (name for name in jobs if name not in ends and name not in until), key=lambda n: _turn(turn, at, n)
        )
        for name in waiting:
            which, ready, holds = at[name]
            step = jobs[name].steps[which]
            if max(ready, step.not_before) > now or not _fits(jobs[name], which, now, closes):
                continue
            person = _person(shop, step, busy, now)
            station = holds or next((s.name for s in shop.stations if s.kind == step.station and not taken[s.name]), "")
            if (step.hands_on and not person) or (step.station and not station):
                continue
            hands_end = now + (minutes[name, which] if step.hands_on else 0)
            if person:
                busy[person] = hands_end
            if step.station:
                taken[station], at[name][2] = name, station
            end = hands_end + step.waiting
            opening = next((start for start, _ in shop.open if start > hands_end), end)
            until[name] = max(now + 1, min(end, opening) if step.overnight else end)
    return ends


def _turn(turn, at, name):
    return turn.get((name, at[name][0]), 10**9)


def _finish(job, state, taken, ends, now):
    which, _, holds = state
    step = job.steps[which]
    following = job.steps[which + 1] if which + 1 < len(job.steps) else None
    goes_on = step.keeps_station and following is not None and following.station == step.station
    if holds and not goes_on:
        taken[holds], state[2] = "", ""
    state[0], state[1] = which + 1, now
    if following is None:
        ends[job.name] = now


def _fits(job, which, now, closes):
    """Nobody begins what is not thought to be over by closing, but what may run through the night."""
    step, length = job.steps[which], 0
    for each in job.steps[which:]:
        length += each.hands_on + (0 if each.overnight else each.waiting)
        if not (each.keeps_station and each.station == step.station):
            break
    return now + length <= closes


def _person(shop, step, busy, now):
    able = [
        (len(each.skills), each.name)
        for each in shop.technicians
        if step.skill in each.skills
        and busy[each.name] <= now
        and any(start <= now and now + step.hands_on <= end for start, end in each.windows)
    ]
    return min(able)[1] if able and step.hands_on else ""
