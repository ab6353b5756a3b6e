"""`flueproof judge`: from bench records to judgements and papers."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from flueproof.cli.words.rules import RULES, checked_rule

if TYPE_CHECKING:
    from flueproof.cli.judging.one_record import Answer
    from flueproof.cli.judging.setting import Setting


@click.command(short_help="Judge bench records; papers with --out.")
@click.argument("records", metavar="RECORD...", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object a record, one a line.")
@click.option(
    "--out",
    metavar="DIR",
    help="Write certificate, sticker and judgement to DIR/RECORD/.",
)
@click.option("--overwrite", is_flag=True, help="Replace the papers of an earlier run in --out.")
@click.option("--rule", type=click.Choice(RULES), help="Decision rule instead of the order's.")
@click.option("--r", "r", type=float, metavar="R", help="Guard band over U, for --rule guarded-rU.")
@click.option(
    "--units", type=click.Choice(["us", "si"]), default="us", show_default=True, help="degF and inH2O, or degC and Pa."
)
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="letter", show_default=True, help="Size of paper."
)
@click.option(
    "--profile",
    "profiles",
    type=click.Path(path_type=Path),
    multiple=True,
    metavar="FILE",
    help="Profile of the analyzers, instead of the shipped ones; may be given more than once.",
)
@click.option(
    "--bundle", type=click.Path(path_type=Path), metavar="FILE", help="Frozen further inputs of the judgement."
)
@click.option("--jobs", type=click.IntRange(1, 512), metavar="N", help="Processes; by default one a processor.")
@click.option("--number-prefix", default="", metavar="TEXT", help="Stands before the job in the certificate's number.")
@click.option(
    "--issued-on", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help="Day of issue, YYYY-MM-DD; by default today."
)
@click.option("--signer", metavar="NAME", help="Who signs; by default a line for the name, to fill in by hand.")
@click.option("--accredited-claim", metavar="TEXT", help="The shop's own accreditation sentence; by default none.")
@click.option("--progress/--no-progress", default=None, help="Show progress; by default on a terminal only.")
@click.option("--debug", is_flag=True, help="Show where in the program an error arose.")
def judge(records: tuple[Path, ...], *, as_json: bool, **asked: Any) -> None:
    """Judge bench records: every test point, the gas path, the cells, and what is to be done.

    RECORD is a bench record (JSON) or a folder, which stands for all *.json in it. One record is shown in full,
    several with one line each. A record that cannot be judged is named with the place, what is wrong and what to do;
    the others go on, nothing is written for it, and the exit code is 2.

    Test gas is poisonous or under pressure or both: local codes and licensed practice come first. Nothing here claims
    accreditation; a competent person signs.
    """
    from flueproof.cli.words.faults import BAD_INPUT, refusing

    with refusing(as_json=as_json, stopped="stopped; what was finished stands."):
        setting = _setting(as_json=as_json, several=_several(records), asked=asked)
        bad = _judge_all(records, setting, asked)
    if bad:
        sys.exit(BAD_INPUT)


def _several(records: tuple[Path, ...]) -> bool:
    return len(records) > 1 or records[0].is_dir()


def _setting(*, as_json: bool, several: bool, asked: dict[str, Any]) -> Setting:
    from flueproof.cli.judging.bundle_file import read_bundle_file
    from flueproof.cli.judging.setting import BLANK_TO_SIGN, IssueSetting, Setting
    from flueproof.cli.words.console import carries_all_signs, text_width
    from flueproof.cli.words.faults import Refusal
    from flueproof.cli.words.files import LARGEST_PROFILE, bytes_of, out_folder

    checked_rule(asked["rule"], asked["r"])
    out = out_folder(asked["out"])
    if out is not None and out.exists() and not out.is_dir():
        raise Refusal("--out", f"{out} is no folder.", "Name a folder, or one that is still to be made.")
    issued: datetime | None = asked["issued_on"]
    issue = IssueSetting(
        date.today() if issued is None else issued.date(),  # noqa: DTZ011  the shop's own calendar day
        asked["number_prefix"],
        asked["signer"] or BLANK_TO_SIGN,
        asked["accredited_claim"],
        asked["paper"],
    )
    return Setting(
        rule=asked["rule"],
        r=asked["r"],
        profiles=tuple((path.name, bytes_of(path, LARGEST_PROFILE, "a profile")) for path in asked["profiles"]),
        bundle=None if asked["bundle"] is None else read_bundle_file(asked["bundle"]),
        units=asked["units"],
        show="json" if as_json else "line" if several else "full",
        all_signs=carries_all_signs(),
        width=text_width(),
        out=None if out is None else str(out),
        overwrite=asked["overwrite"],
        issue=issue,
    )


def _judge_all(records: tuple[Path, ...], setting: Setting, asked: dict[str, Any]) -> int:
    """Judge and print everything; return how many records could not be judged."""
    from flueproof.cli.judging.record_files import record_files, refuse_same_names
    from flueproof.cli.words.console import shown_name
    from flueproof.cli.words.faults import say
    from flueproof.cli.words.progress import Progress

    files = record_files(records)
    if setting.out is not None:
        files = refuse_same_names(files)
    progress = Progress(len(files), asked=asked["progress"])
    numbers: Counter[str] = Counter()
    bad = 0
    for one in _in_order(files, setting, asked["jobs"]):
        progress.clear()
        click.echo(one.text, err=one.fault is not None and setting.show != "json")
        if one.fault is not None:
            bad += 1
            if asked["debug"] and one.fault.trace:
                say(one.fault.trace)
        elif one.number is not None:
            numbers[one.number] += 1
            if setting.show == "full":
                click.echo(f"\nPapers in {shown_name(one.folder)}: {', '.join(one.written)}")
        progress.one_done(failed=one.fault is not None)
    progress.clear()
    _say_what_came_of_it(len(files), bad, numbers, setting)
    return bad


def _in_order(files: list[Any], setting: Setting, jobs: int | None) -> Iterator[Answer]:
    """Yield the answers in the order of the files, those that are no record among them."""
    from flueproof.cli.judging.many_records import answers, processors
    from flueproof.cli.judging.record_files import EmptyFolder

    judged = answers([file for file in files if not isinstance(file, EmptyFolder)], setting, jobs or processors())
    try:
        for file in files:
            if isinstance(file, EmptyFolder):
                from flueproof.cli.judging.one_record import failed

                yield failed(file.path.name or str(file.path), file.fault, setting)
            else:
                yield next(judged)
    finally:
        judged.close()  # type: ignore[attr-defined]  # a generator: its processes end with it


def _say_what_came_of_it(total: int, bad: int, numbers: Counter[str], setting: Setting) -> None:
    from flueproof.cli.words.faults import say

    twice = sorted(number for number, count in numbers.items() if count > 1)
    if twice:
        shown = ", ".join(twice[:5]) + (" ..." if len(twice) > 5 else "")
        say(f"flueproof: one certificate number on several papers: {shown}. Jobs must differ; judge them again.")
    if setting.show == "line":
        papers = f"; papers in {setting.out}" if numbers else ""
        say(f"{total - bad} of {total} records judged{papers}.")
