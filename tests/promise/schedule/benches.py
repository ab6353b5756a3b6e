"""Small shops and random work for the tests of the plan."""

import random
from dataclasses import replace

from flueproof.promise.schedule.model import Job, Placed, Shop, Situation, Station, Step, Technician

DAY, NIGHT = 480, 5
FULL = DAY + NIGHT


def open_days(days):
    return tuple((day * FULL, day * FULL + DAY) for day in range(days))


def four_people(days=40):
    """Four technicians who differ in skills and hours, six stations of three kinds."""
    hours = open_days(days)
    at_lunch = tuple(part for start, end in hours for part in ((start, start + 210), (start + 240, end)))
    no_friday = tuple(window for number, window in enumerate(at_lunch) if number // 2 % 5 != 4)
    mornings = tuple((start, start + 240) for start, _ in hours)
    both, bench = frozenset({"bench", "repair"}), frozenset({"bench"})
    people = (
        Technician("Ann", both, at_lunch),
        Technician("Bo", both, no_friday),
        Technician("Cy", bench, at_lunch),
        Technician("Di", bench, mornings),
    )
    kinds = ("gas", "gas", "gas", "temperature", "temperature", "draft")
    stations = tuple(Station(f"{kind} {number}", kind) for number, kind in enumerate(kinds))
    return Shop(people, stations, hours)


def steps_of(service, rng):
    """Return the steps of a verification, a calibration with adjustment, or a repair."""

    def about(minutes):
        return max(1, round(minutes * rng.lognormvariate(0, 0.25)))

    look = [Step("look over", about(10)), Step("warm-up", about(3), about(20))]
    gas = [Step("on gas", about(6), about(8), station="gas", keeps_station=True), Step("gas", about(12), station="gas")]
    adjust = [Step("adjust", about(8), about(8), station="gas", keeps_station=True), Step("as left", 9, station="gas")]
    rest = [
        Step("temperature", about(5), about(15), station="temperature", keeps_station=True),
        Step("draft", about(8), station="draft"),
        Step("papers", about(10)),
    ]
    if service == "verify":
        return (*look, *gas, *rest)
    if service == "adjust":
        return (*look, *gas, *adjust, *rest)
    soak = rng.random() < 0.4
    parts = rng.choice((0, 0, 300, 900))
    repair = Step("repair", about(50), 600 if soak else 20, skill="repair", overnight=soak, not_before=parts)
    return (*look, Step("diagnosis", about(20), skill="repair"), repair, *gas, *adjust, *rest)


def open_jobs(seed, count=30, tight=1.0, days=40):
    """Return a situation with promises between tight and easy; the checker and the measure need no more."""
    rng = random.Random(seed)  # noqa: S311
    jobs = []
    for number in range(count):
        service = rng.choices(("verify", "adjust", "repair"), (0.55, 0.3, 0.15))[0]
        release = 0 if rng.random() < 0.7 else rng.randrange(2 * FULL)
        due = FULL * rng.choice((1, 1, 2, 4)) - NIGHT - rng.choice((0, 240))
        promised = None if rng.random() < 0.05 else release + round(due * tight * count / 30)
        jobs.append(Job(f"J{number:03d}", steps_of(service, rng), release, promised, rng.choice((1, 1, 1, 2))))
    return Situation(four_people(days), tuple(jobs))


def with_running(situation):
    """Return the situation with two jobs on gas since two minutes, their stations kept for what follows."""
    jobs = list(situation.jobs)
    running = []
    for number, station, who in ((0, "gas 0", "Ann"), (1, "gas 1", "Cy")):
        which = [step.name for step in jobs[number].steps].index("on gas")
        step = jobs[number].steps[which]
        jobs[number] = replace(jobs[number], release=0, finished=which)
        hands_end = -2 + step.hands_on
        running.append(Placed(jobs[number].name, which, -2, hands_end, hands_end + step.waiting, who, station))
    return replace(situation, jobs=tuple(jobs), running=tuple(running))
