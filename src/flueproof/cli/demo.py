"""`flueproof demo`: the living demo shop, or with --papers the main job on the invented demo records."""

from __future__ import annotations

import datetime as dt
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

if TYPE_CHECKING:
    from flueproof.cli.judging.demo_truth import Compared
    from flueproof.cli.judging.one_record import Answer
    from flueproof.simulate.demo import DemoRecord

INVENTED: Final = "Everything in the demo is invented: shop, owners, analyzers, gases, people and readings."
SIGNER: Final = "R. Vale (invented)"


@click.command(short_help="Open the invented demo shop, or judge the demo records with --papers.")
@click.option(
    "--papers", is_flag=True, help="Judge the demo records and make their papers instead of opening the shop."
)
@click.option("--port", type=click.IntRange(1, 65535), metavar="N", help="Where the shop listens; else a free one.")
@click.option("--fresh", is_flag=True, help="Build the shop anew instead of going on with the one in DIR.")
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
@click.option("--check", is_flag=True, help="Start the shop, look at its pages as each role, and stop.")
@click.option(
    "--out",
    default="flueproof-demo",
    show_default=True,
    metavar="DIR",
    help="Where the shop, or records and papers, go; papers of an earlier demo are replaced.",
)
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="letter", show_default=True, help="Size of paper."
)
@click.option("--units", type=click.Choice(["us", "si"]), default="us", show_default=True, help="Units on the papers.")
@click.option("--jobs", type=click.IntRange(1, 512), metavar="N", help="Processes; by default one a processor.")
@click.option("--json", "as_json", is_flag=True, help="The table as one JSON object.")
def demo(
    out: str,
    paper: str,
    units: str,
    jobs: int | None,
    port: int | None,
    *,
    papers: bool,
    fresh: bool,
    no_browser: bool,
    check: bool,
    as_json: bool,
) -> None:
    """Open a living shop in an invented scenario, until Ctrl-C; who may sign in is shown.

    With --papers: judge the demo visits, make their papers, and compare each verdict with what its truth called for;
    the exit code is 1 when a verdict differs from its truth. Everything in the demo is invented.
    """
    from flueproof.cli.words.faults import refusing

    if not papers:
        with refusing(as_json=as_json):
            folder = _folder(out) / "shop"
        _open_shop(folder, port, fresh=fresh, opens=not no_browser, check=check)
        return
    with refusing(as_json=as_json):
        right = _run(_folder(out), paper, units, jobs, as_json=as_json)
    if not right:
        sys.exit(1)


def _open_shop(folder: Path, port: int | None, *, fresh: bool, opens: bool, check: bool) -> None:
    from flueproof.cli.running.living_demo import check_demo, serve_demo

    if not check:
        serve_demo(folder, port, fresh=fresh, opens=opens)
    elif not check_demo(folder, port, fresh=fresh):
        sys.exit(1)


def _folder(given: str) -> Path:
    from flueproof.cli.words.faults import Refusal
    from flueproof.cli.words.files import out_folder

    folder = out_folder(given)
    if folder is None or (folder.exists() and not folder.is_dir()):
        raise Refusal("--out", f"{given} is no folder.", "Name a folder, or one that is still to be made.")
    return folder


def _run(out: Path, paper: str, units: str, jobs: int | None, *, as_json: bool) -> bool:
    from flueproof.cli.judging.demo_truth import compared
    from flueproof.cli.judging.many_records import answers, processors
    from flueproof.cli.judging.setting import IssueSetting, Setting
    from flueproof.cli.words.progress import Progress
    from flueproof.simulate.demo import demo_records

    demos = demo_records()
    files = _write_records(demos, out / "records")
    issue = IssueSetting(_day_after(demos), number_prefix="FP-", signer=SIGNER, paper=paper)
    setting = Setting(units=units, out=str(out / "papers"), overwrite=True, issue=issue)
    progress = Progress(len(files))
    rows: list[tuple[Compared, Answer]] = []
    for one, answer in zip(demos, answers(files, setting, jobs or processors()), strict=True):
        _refuse_unjudged(answer)
        rows.append((compared(one, json.loads(answer.text)), answer))
        progress.one_done(failed=False)
    progress.clear()
    (_print_json if as_json else _print_table)(rows, out)
    return not any(row.differences for row, _ in rows)


def _refuse_unjudged(answer: Answer) -> None:
    from flueproof.cli.words.faults import Refusal

    if answer.fault is not None:
        raise Refusal(answer.fault.path, f"{answer.name}: {answer.fault.message}", answer.fault.remedy)


def _write_records(demos: tuple[DemoRecord, ...], folder: Path) -> list[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    files = []
    for one in demos:
        file = folder / f"{one.name}.json"
        building = file.with_suffix(".part")
        building.write_text(json.dumps(one.record, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
        building.replace(file)
        files.append(file)
    return files


def _day_after(demos: tuple[DemoRecord, ...]) -> dt.date:
    """Return the demo's day of issue: the one after its last visit, the same on every machine."""
    last = max(dt.datetime.fromisoformat(step["at"]) for one in demos for step in one.record["steps"])
    return last.date() + dt.timedelta(days=1)


def _print_table(rows: list[tuple[Compared, Answer]], out: Path) -> None:
    from flueproof.cli.words.table import Table

    table = Table(("record", "outcome", "first action", "papers", "truth"))
    for row, answer in rows:
        papers = " ".join(name for name in answer.written if name.endswith(".pdf"))
        agrees = click.style("DIFFERS", fg="red", bold=True) if row.differences else click.style("agrees", fg="green")
        table.add((row.name, row.outcome, row.first_action or "none", papers, agrees))
    click.echo(INVENTED + "\n")
    for line in table.lines():
        click.echo(line)
    for row, _ in rows:
        for difference in row.differences:
            click.echo(f"{row.name}: {difference}", err=True)
    wrong = sum(bool(row.differences) for row, _ in rows)
    click.echo(f"\n{len(rows) - wrong} of {len(rows)} verdicts are what the truth called for.")
    click.echo(f"Records:  {(out / 'records').resolve()}")
    click.echo(f"Papers:   {(out / 'papers').resolve()}")


def _print_json(rows: list[tuple[Compared, Answer]], out: Path) -> None:
    from flueproof.cli.words.console import print_json

    told = [
        {
            "record": row.name,
            "title": row.title,
            "outcome": row.outcome,
            "first_action": row.first_action or None,
            "papers": list(answer.written),
            "folder": answer.folder,
            "differences": list(row.differences),
        }
        for row, answer in rows
    ]
    print_json({"invented": INVENTED, "out": str(out.resolve()), "records": told})
