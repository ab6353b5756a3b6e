"""How well boxes without a slip are recognized, at 160, 2,500 and 100,000 analyzers on file.

    .venv/bin/python benchmarks/recognise.py [--boxes 5000] [--sizes 160 2500 100000] [--first-seed 5001]

The boxes are those of flueproof.simulate.arrivals, drawn from several invented worlds and several days of each; their
seeds are used nowhere else. The page's answer is a list: owners on file, the likeliest first, and "none on file" where
it belongs. Right is counted on that list, so that "none on file" on top of it is wrong for an owner on file. The peer
in the same run is a plain rule: half the serial by letters, then model, then the sender's name; it calls a stranger
what stays below a threshold that was chosen on another seed.
"""

import argparse
import itertools
import re
import statistics
import sys
import time
from pathlib import Path

import numpy as np
from rapidfuzz import fuzz, process

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tests"))
FIRST_SEED = 5001
WORLDS = {160: (25, 4), 2500: (10, 2), 100_000: (2, 5)}  # worlds and days of each
EDGES = (0.0, 0.02, 0.10, 0.25, 0.45, 0.65, 0.85, 0.95, 0.99, 1.0)
FOLDED = str.maketrans("OQILSBZG", "00115826")
THRESHOLD = 0.70


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--boxes", type=int, default=5000)
    parser.add_argument("--sizes", type=int, nargs="+", default=[160, 2500, 100_000])
    parser.add_argument("--first-seed", type=int, default=FIRST_SEED)
    asked = parser.parse_args()
    results = {size: answers(size, asked.boxes, asked.first_seed) for size in asked.sizes}
    print(f"\n{asked.boxes} boxes a size, seeds from {asked.first_seed} on\n")
    summary(results)
    kinds(results)
    for size, rows in results.items():
        calibration(size, rows)
    times(results)


def answers(size, boxes, first_seed):
    """Return a row for each box: the truth, the lines of the answer, the peer's answer, both times."""
    from flueproof.intake.ranking import rank
    from flueproof.simulate.arrivals.arriving import draw_arrivals
    from flueproof.simulate.arrivals.filing import TODAY, World
    from intake.boxes import clues_of, roster_of

    worlds, days = WORLDS.get(size, (5, 2))
    rows = []
    for seed in range(first_seed, first_seed + worlds):
        world = World(size, seed)
        plain = PlainRule(world.file)
        for day in range(days):
            if day:
                world.draw_state()
            roster = roster_of(world.file)
            roster.totals(TODAY)
            for box in draw_arrivals(world, -(-boxes // (worlds * days))):
                clues = clues_of(box)
                start = time.process_time()
                answer = rank(clues, roster, TODAY)
                took = time.process_time() - start
                lines = [(share.owner.key, share.probability) for share in answer.owners]
                lines = sorted([*lines, (None, answer.stranger)], key=lambda line: -line[1])
                if answer.is_stranger:
                    lines.sort(key=lambda line: line[0] is not None)
                start = time.process_time()
                guess = plain.guess(clues)
                rows.append((box, clues.empty, lines, guess, took, time.process_time() - start))
        print(f"{size}: seed {seed} done", file=sys.stderr, flush=True)
    return rows[:boxes]


class PlainRule:
    """Half-serial, model, sender; the score is a share of what could be compared."""

    def __init__(self, file):
        self.serials = [key(plate.serial) for plate in file.analyzers]
        self.models = np.array([plate.model for plate in file.analyzers])
        self.owner_of = np.array([plate.owner for plate in file.analyzers])
        self.names = [firm.name for firm in file.owners]

    def guess(self, clues):
        """Return owners by their best score, the best first, and that score."""
        score, most = np.zeros(len(self.serials)), 0.001
        if read := key(clues.serial):
            score += 0.5 * process.cdist([read], self.serials, scorer=fuzz.ratio)[0] / 100
            most += 0.5
        if clues.model:
            score += 0.15 * (self.models == clues.model)
            most += 0.15
        if clues.name:
            score += (
                0.35 * process.cdist([clues.name], self.names, scorer=fuzz.token_sort_ratio)[0][self.owner_of] / 100
            )
            most += 0.35
        best = np.argsort(-score, kind="stable")[:60]
        return list(dict.fromkeys(self.owner_of[best].tolist()))[:3], float(score[best[0]] / most)


def key(serial):
    return re.sub(r"[^0-9A-Z]", "", serial.upper()).translate(FOLDED)


def summary(results):
    heads = ("owner right first", "in the first three", "strangers called strangers", "plain rule: first")
    heads += ("in the first three", "plain rule with its threshold: first", "strangers")
    print("| analyzers | " + " | ".join(heads) + " |\n" + "|---" * 8 + "|")
    for size, rows in results.items():
        known = [row for row in rows if row[0].owner is not None]
        strangers = [row for row in rows if row[0].owner is None]
        figures = (
            share(row[2][0][0] == row[0].owner for row in known),
            share(row[0].owner in [line[0] for line in row[2][:3]] for row in known),
            share(row[2][0][0] is None for row in strangers),
            share(row[3][0][0] == row[0].owner for row in known),
            share(row[0].owner in row[3][0] for row in known),
            share(row[3][0][0] == row[0].owner and row[3][1] >= THRESHOLD for row in known),
            share(row[3][1] < THRESHOLD for row in strangers),
        )
        print(f"| {size:,} | " + " | ".join(f"{100 * figure:.1f}" for figure in figures) + " |")
    counts = {size: sum(row[0].owner is None for row in rows) for size, rows in results.items()}
    empty = {size: sum(row[1] for row in rows) for size, rows in results.items()}
    print(f"\nstrangers among the boxes: {counts}; boxes with no clue at all (counted as they fall): {empty}\n")


def kinds(results):
    names = ("known_analyzer", "new_analyzer", "sold_on")
    print("| analyzers | " + " | ".join(f"first, {name} (boxes)" for name in names) + " |\n|---|---|---|---|")
    for size, rows in results.items():
        cells = []
        for name in names:
            own = [row for row in rows if row[0].kind == name and row[0].owner is not None]
            cells.append(f"{100 * share(row[2][0][0] == row[0].owner for row in own):.1f} ({len(own)})")
        print(f"| {size:,} | " + " | ".join(cells) + " |")


def calibration(size, rows):
    """Print what was said beside what was true, over all lines of all answers."""
    print(f"\n{size:,} analyzers\n")
    heads = ("owners: said, mean", "true", "lines", "stranger: said, mean", "true", "lines")
    heads += ("top line: said, mean", "true", "lines")
    print("| said | " + " | ".join(heads) + " |\n" + "|---" * 10 + "|")
    owners = [(said, owner == row[0].owner) for row in rows for owner, said in row[2] if owner is not None]
    strangers = [(said, row[0].owner is None) for row in rows for owner, said in row[2] if owner is None]
    tops = [(row[2][0][1], row[2][0][0] == row[0].owner) for row in rows]
    for low, high in itertools.pairwise(EDGES):
        cells = [cell for pairs in (owners, strangers, tops) for cell in within(pairs, low, high)]
        print(f"| {100 * low:.0f} to {100 * high:.0f} % | " + " | ".join(cells) + " |")


def within(pairs, low, high):
    inside = [pair for pair in pairs if low <= pair[0] < high or (high == 1.0 and pair[0] == 1.0)]
    if not inside:
        return ["", "", "0"]
    said, true = (100 * statistics.mean(column) for column in zip(*inside, strict=True))
    return [f"{said:.1f}", f"{true:.1f}", f"{len(inside):,}"]


def times(results):
    heads = ("answer, processor time, median [ms]", "99th percentile", "longest", "plain rule, median")
    print("\n| analyzers | " + " | ".join(heads) + " |\n" + "|---" * 5 + "|")
    for size, rows in results.items():
        took = 1000 * np.array([row[4] for row in rows])
        peer = 1000 * np.median([row[5] for row in rows])
        print(f"| {size:,} | {np.median(took):.0f} | {np.quantile(took, 0.99):.0f} | {took.max():.0f} | {peer:.0f} |")


def share(truths):
    truths = list(truths)
    return sum(truths) / max(1, len(truths))


if __name__ == "__main__":
    main()
