"""`flueproof impact`: what an as-found error did to an owner's field log: the list, what changes, the letter."""

from __future__ import annotations

import datetime as dt
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

import click

from flueproof.cli.words.console import print_json, text_width
from flueproof.cli.words.faults import BAD_INPUT, Refusal, refusing, say

if TYPE_CHECKING:
    from collections.abc import Callable

    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.impact.field_log.results import LogResult
    from flueproof.impact.field_log.row import FieldRow
    from flueproof.impact.statements.limits import Limit

_DAY: Final = click.DateTime(formats=["%Y-%m-%d"])
_FILE: Final = click.Path(path_type=Path)
_LARGEST_LIMITS: Final = 1024 * 1024
_SHOWN: Final = 20
_FUEL: Final = "natural-gas-us"
_OPTION_OF: Final = {"date_order": "--dates", "temperature_unit": "--temperatures", "decimal": "--decimal"}


class Case(NamedTuple):
    """A judged record with the profile that judged it."""

    record: Record
    profile: Profile
    judgement: Judgement


def _choice(name: str, *values: str, said: str) -> Callable[..., Any]:
    """Return an option with these values, the first by default."""
    return click.option(name, type=click.Choice(values), default=values[0], show_default=True, help=said)


def _options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options, in the order in which help shows them."""
    does_not_say = "Where the log does not say."
    options = (
        click.option("--log", "log_file", type=_FILE, required=True, metavar="FILE", help="The owner's field log."),
        click.option("--limits", type=_FILE, metavar="FILE", help="The owner's limits, a JSON list; none is built in."),
        click.option("--last-good", type=_DAY, metavar="DATE", help="Day on which it was last known good."),
        click.option("--earlier", type=_FILE, metavar="RECORD", help="Record of that day: as left, it is the start."),
        click.option("--fuel", default=_FUEL, show_default=True, metavar="KEY", help="Of rows that name none."),
        click.option("--temperatures", type=click.Choice(["degF", "degC"]), help=does_not_say),
        click.option("--dates", type=click.Choice(["month-first", "day-first"]), help=does_not_say),
        click.option("--decimal", type=click.Choice([".", ","]), help=does_not_say),
        _choice("--method", "german-net", "heat-loss-gross", said="Loss formula."),
        _choice("--excess-air", "simple", "exact", said="Form of excess air."),
        _choice("--air-free", "us", "german", said="20.9 or 21 % oxygen in CO air-free."),
        click.option("--out", type=_FILE, metavar="DIR", help="Write list.csv, list.json and, if due, notice.pdf."),
        click.option("--overwrite", is_flag=True, help="Replace these files in --out."),
        _choice("--units", "us", "si", said="degF or degC in list and letter."),
        _choice("--paper", "letter", "a4", said="Size of paper."),
        click.option("--phone", default="", metavar="TEXT", help="Whom the letter asks to call."),
        click.option("--signer", default="", metavar="NAME", help="Who signs the letter."),
        click.option("--profile", type=_FILE, metavar="FILE", help="Profile, instead of the shipped one."),
        click.option("--json", "as_json", is_flag=True, help="One JSON object."),
    )
    for option in reversed(options):
        command = option(command)
    return command


@click.command(short_help="What an as-found error did to an owner's field log.")
@click.argument("record", metavar="RECORD", type=_FILE)
@_options
def impact(record: Path, *, as_json: bool, **asked: Any) -> None:
    """Correct an owner's field log with the errors that a judged record shows, and say which statements change.

    A corrected value may raise an alarm. It never clears an appliance: test again with a proven analyzer. Local codes
    and licensed practice decide. Nothing is kept but what --out asks for.
    """
    with refusing(as_json=as_json, where=None if as_json else record.name):
        case = _judged(record, asked["profile"])
        rows, problems = _rows(asked)
        result = _worked(case, rows, _limits(asked["limits"]), asked)
        written = _write(case, result, asked) if asked["out"] is not None else []
        if as_json:
            from flueproof.impact.field_log.writing import result_json

            print_json({**result_json(result), "problems": problems})
        else:
            _show(result, written)
    for problem in problems:
        say(f"flueproof: {asked['log_file'].name}: {problem}")
    if problems:
        sys.exit(BAD_INPUT)


def _judged(path: Path, profile_file: Path | None) -> Case:
    from flueproof.bench.judge.judge import judge_record
    from flueproof.bench.record.reader import read_record
    from flueproof.cli.judging.profiles_in_use import profile_of, profiles_given
    from flueproof.cli.words.files import LARGEST_PROFILE, bytes_of

    record = read_record(path)
    files = () if profile_file is None else ((profile_file.name, bytes_of(profile_file, LARGEST_PROFILE, "a profile")),)
    profile = profile_of(record, profiles_given(files))
    return Case(record, profile, judge_record(record, profile))


def _rows(asked: dict[str, Any]) -> tuple[tuple[FieldRow, ...], list[str]]:
    from flueproof.chemistry.fuels.reading import shipped_fuels
    from flueproof.cli.words.files import bytes_of
    from flueproof.impact.field_log.reading import MOST_BYTES, read_log
    from flueproof.impact.field_log.row import LogSettings

    if asked["fuel"] not in shipped_fuels():
        raise Refusal("--fuel", f"{asked['fuel']!r} is not known.", f"Give one of {', '.join(shipped_fuels())}.")
    settings = LogSettings(asked["temperatures"], asked["dates"], asked["decimal"], asked["fuel"])
    log = read_log(bytes_of(asked["log_file"], MOST_BYTES, "a field log"), settings)
    if log.questions:
        question = log.questions[0]
        choices = " or ".join(f"{_OPTION_OF[question.setting]} {value} ({words})" for value, words in question.choices)
        raise Refusal(asked["log_file"].name, question.words, f"Give {choices}.")
    if not log.rows:
        first = f" The first: {log.problems[0]}" if log.problems else ""
        raise Refusal(asked["log_file"].name, f"no reading can be read.{first}", "Mend the list.")
    return log.rows, [str(problem) for problem in log.problems]


def _limits(path: Path | None) -> tuple[Limit, ...]:
    """Return the limits of a file: a JSON list of objects with name, quantity, comparison, value, source, edition."""
    from flueproof.cli.words.files import bytes_of
    from flueproof.impact.statements.limits import limit_from_dict

    if path is None:
        return ()
    remedy = "Give a list of objects with name, quantity, comparison (at-most, at-least) and value."
    try:
        told = json.loads(bytes_of(path, _LARGEST_LIMITS, "a list of limits").decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise Refusal("--limits", f"{path.name} is not JSON: {error}.", remedy) from None
    if not isinstance(told, list) or not all(isinstance(one, dict) for one in told):
        raise Refusal("--limits", f"{path.name} holds no list of limits.", remedy)
    return tuple(limit_from_dict(one) for one in told)


def _worked(case: Case, rows: tuple[FieldRow, ...], limits: tuple[Limit, ...], asked: dict[str, Any]) -> LogResult:
    from flueproof.impact.correcting.over_time import ErrorHistory
    from flueproof.impact.field_log.results import work_through
    from flueproof.impact.found.from_record import errors_as_found, errors_of_judgement
    from flueproof.impact.found.start import errors_inside_limits

    last_good = asked["last_good"].date() if asked["last_good"] is not None else None
    start = errors_inside_limits(case.profile)
    if asked["earlier"] is not None:
        if last_good is None:
            raise Refusal("--earlier", "stands without --last-good.", "Give the day on which it was known good.")
        before = _judged(asked["earlier"], asked["profile"])
        if before.record.analyzer.serial != case.record.analyzer.serial:
            raise Refusal("--earlier", "is the record of another analyzer.", "Give the record of the same serial.")
        phase = "as-left" if before.judgement.as_left is not None else "as-found"
        start = errors_as_found(before.record, before.profile, phase=phase)
    found = errors_of_judgement(case.judgement, case.record, case.profile)
    history = ErrorHistory(found, start, case.record.steps[0].at.date(), last_good)
    return work_through(
        rows, history, limits, method=asked["method"], excess_air=asked["excess_air"], air_free=asked["air_free"]
    )


def _write(case: Case, result: LogResult, asked: dict[str, Any]) -> list[str]:
    from flueproof.impact.field_log.writing import result_csv, result_json

    folder: Path = asked["out"]
    files: dict[str, bytes] = {
        "list.csv": result_csv(result, "degF" if asked["units"] == "us" else "degC").encode("utf-8-sig"),
        "list.json": json.dumps(result_json(result), ensure_ascii=False, allow_nan=False, indent=1).encode(),
    }
    letter = _letter(case, result, asked)
    if letter is not None:
        files["notice.pdf"] = letter
    folder.mkdir(parents=True, exist_ok=True)
    there = [name for name in files if (folder / name).exists()]
    if there and not asked["overwrite"]:
        raise Refusal("--out", f"{folder.name} holds {', '.join(there)} already.", "Use --overwrite or another folder.")
    for name, content in files.items():
        (folder / name).write_bytes(content)
    return list(files)


def _letter(case: Case, result: LogResult, asked: dict[str, Any]) -> bytes | None:
    from flueproof.impact.duties.duty import duty_of
    from flueproof.impact.duties.notice import NoticeFrame, notice_of
    from flueproof.impact.found.from_record import errors_of_judgement
    from flueproof.papers.notice_letter.letter import NoticeHead, notice_letter_pdf

    record = case.record
    duty = duty_of(case.judgement, errors_of_judgement(case.judgement, record, case.profile), asked["units"])
    if duty is None:
        return None
    today = dt.date.today()  # noqa: DTZ011  the day on the letter is that of the machine
    last_good = asked["last_good"].date() if asked["last_good"] is not None else None
    frame = NoticeFrame(asked["phone"], asked["signer"] or record.shop.name, today, last_good, asked["units"])
    head = NoticeHead(
        shop=record.shop.name,
        shop_lines=tuple(record.shop.address),
        to=(record.owner.name, *record.owner.address),
        written_on=today,
        paper=asked["paper"],
        reference=record.job,
    )
    return notice_letter_pdf(notice_of(duty, record, frame, result), head)


def _show(result: LogResult, written: list[str]) -> None:
    import textwrap

    from flueproof.impact.statements.wording import HEADS, ONE_RULE

    click.echo(textwrap.fill(ONE_RULE, text_width()))
    for name, count in result.counts.items():
        if count:
            click.echo(f"{count:7,} {HEADS[name]}")
    for one in result.danger[:_SHOWN]:
        day = one.row.day.isoformat() if one.row.day is not None else "no date"
        click.echo(f"{day:11}{one.row.site or 'no site'}: {HEADS[one.worst]}")
    if len(result.danger) > _SHOWN:
        click.echo(f"and {len(result.danger) - _SHOWN} more; --out writes the whole list")
    for note in result.notes:
        click.echo(textwrap.fill(note, text_width(), subsequent_indent="  "))
    if written:
        click.echo(f"Written: {', '.join(written)}")
