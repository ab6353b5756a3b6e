"""Open work of a bench with a plan hidden in it: so it is known that every promise can be kept, or how far it cannot.

A shop of four technicians (two who repair, one who is there four days, one in the mornings) and six stations gets jobs
of three services. A random order is placed; every job is promised for the noon or the closing time after its end in
that hidden plan. With `tight` below 1 the promises are that share of it: then the bench is overloaded.
"""

import random
from dataclasses import replace

from flueproof.promise.schedule.model import Job, Shop, Situation, Station, Step, Technician
from flueproof.promise.schedule.placing.ordering import place_in_order

DAY, NIGHT = 480, 5
FULL = DAY + NIGHT


def bench(days):
    hours = tuple((day * FULL, day * FULL + DAY) for day in range(days))
    both, only = frozenset({"bench", "repair"}), frozenset({"bench"})
    four_days = tuple(window for number, window in enumerate(hours) if number % 5 != 4)
    mornings = tuple((start, start + 300) for start, _ in hours)
    people = (
        Technician("Ann (invented)", both, lunch(hours, 240)),
        Technician("Bo (invented)", both, lunch(four_days, 210)),
        Technician("Cy (invented)", only, lunch(hours, 210)),
        Technician("Di (invented)", only, lunch(mornings, 180)),
    )
    kinds = ("gas", "gas", "gas", "temperature", "temperature", "draft")
    return Shop(people, tuple(Station(f"{kind} {number}", kind) for number, kind in enumerate(kinds)), hours)


def lunch(hours, after):
    return tuple(
        part
        for start, end in hours
        for part in ((start, start + after), (start + after + 30, end))
        if part[0] < part[1]
    )


def steps_of(service, rng):
    def about(minutes):
        return max(1, round(minutes * rng.lognormvariate(0, 0.25)))

    look = (Step("look over", about(10)), Step("warm up", about(3), about(20)))
    gas = (Step("on gas", about(6), about(8), station="gas", keeps_station=True), Step("gas", about(12), station="gas"))
    adjust = (
        Step("adjust", about(8), about(8), station="gas", keeps_station=True),
        Step("as left", about(10), station="gas"),
    )
    rest = (
        Step("temperature", about(5), about(15), station="temperature", keeps_station=True),
        Step("draft", about(8), station="draft"),
        Step("papers", about(10)),
    )
    if service == "verify":
        return look + gas + rest
    if service == "calibrate":
        return look + gas + adjust + rest
    soak, parts = rng.random() < 0.3, rng.choice((0, 0, 300, 700, 1200))
    repair = Step("repair", about(50), 600 if soak else about(20), skill="repair", overnight=soak, not_before=parts)
    return (*look, Step("diagnosis", about(20), skill="repair"), repair, *gas, *adjust, *rest)


def open_work(seed, count=60, tight=1.0, days=60):
    """Return the situation of a seed: the same jobs for every `tight`, only the promises differ."""
    rng = random.Random(seed)  # noqa: S311 -- a benchmark
    shop, jobs = bench(days), []
    for number in range(count):
        service = rng.choices(("verify", "calibrate", "repair"), (0.55, 0.30, 0.15))[0]
        release = 0 if rng.random() < 0.7 else rng.randrange(FULL * 2 if count < 100 else FULL * 8)
        jobs.append(Job(f"J{number:03d}", steps_of(service, rng), release))
    hidden_order = sorted(jobs, key=lambda job: job.release // FULL + rng.random() * 2)
    hidden = place_in_order(Situation(shop, tuple(jobs)), hidden_order)
    promised = [replace(job, promised=half_day_after(round(hidden.ends[job.name] * tight))) for job in jobs]
    return Situation(shop, tuple(promised))


def half_day_after(minute):
    day, inside = divmod(minute, FULL)
    return day * FULL + (DAY // 2 if inside <= DAY // 2 else DAY)
