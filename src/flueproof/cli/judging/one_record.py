"""One record from file to answer: read, judged, shown, and where asked its papers written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.judgement import Judgement
from flueproof.bench.record.reader import read_record
from flueproof.bench.record.record import Record
from flueproof.cli.judging.bundle_file import bundle_of
from flueproof.cli.judging.profiles_in_use import profile_of, profiles_given
from flueproof.cli.judging.result_folder import JUDGEMENT_FILE, folder_for, refuse_existing, write_folder
from flueproof.cli.judging.setting import IssueSetting, Setting
from flueproof.cli.words.console import json_text, shown_name
from flueproof.cli.words.faults import Fault, fault_of
from flueproof.cli.words.summary import full_summary, one_line
from flueproof.metrology.conformity import DecisionRule, decision_rule


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of one record.

    name: the record's name; text: what to print; fault: why it could not be judged, or None; number: certificate
    number where papers were written; written: names of the files in `folder`.
    """

    name: str
    text: str
    fault: Fault | None = None
    number: str | None = None
    folder: str | None = None
    written: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bench:
    """A setting with everything read that it names: ready for record after record."""

    setting: Setting
    profiles: Mapping[str, Profile]
    bundle: Bundle
    rule: DecisionRule | None


def open_bench(setting: Setting) -> Bench:
    """Return the bench of a setting.

    Raises: ProfileError, DecisionRuleError, Refusal for a bundle that is none.
    """
    rule = None if setting.rule is None else decision_rule(setting.rule, setting.r)
    bundle = EMPTY_BUNDLE if setting.bundle is None else bundle_of(setting.bundle)
    return Bench(setting, profiles_given(setting.profiles), bundle, rule)


def answer(path: Path, bench: Bench) -> Answer:
    """Return what came of one record; a record that cannot be judged is an answer too, and leaves nothing behind."""
    name = path.name
    try:
        return _judged(path, name, bench)
    except Exception as error:  # noqa: BLE001  one bad record must not stop the rest
        return failed(name, fault_of(error), bench.setting)


def failed(name: str, fault: Fault, setting: Setting) -> Answer:
    """Return the answer for a record that cannot be judged."""
    if setting.show == "json":
        text = json_text({"record": name, "error": fault.to_json_dict()}, all_signs=setting.all_signs)
    else:
        text = shown_name(f"{name}: not judged. {fault}")
    return Answer(name, text, fault)


def _judged(path: Path, name: str, bench: Bench) -> Answer:
    setting = bench.setting
    folder = None if setting.out is None else folder_for(Path(setting.out), name)
    if folder is not None:
        refuse_existing(folder, overwrite=setting.overwrite)
    record = read_record(path, name)
    profile = profile_of(record, bench.profiles)
    judgement = judge_record(record, profile, name=name, bundle=bench.bundle, rule=bench.rule)
    written: tuple[str, ...] = ()
    number = None
    if folder is not None and setting.issue is not None:
        number = f"{setting.issue.number_prefix}{record.job}"
        files = papers_and_judgement(record, profile, judgement, setting.issue, number, setting.units)
        write_folder(folder, files, overwrite=setting.overwrite)
        written = tuple(files)
    text = _shown(record, profile, judgement, setting)
    return Answer(name, text, None, number, None if folder is None else str(folder), written)


def papers_and_judgement(
    record: Record, profile: Profile, judgement: Judgement, issue: IssueSetting, number: str, units: str
) -> dict[str, bytes]:
    """Return the papers that the outcome calls for and the judgement as JSON, by file name.

    Raises: PapersError.
    """
    from flueproof.papers.issue import Issue
    from flueproof.papers.papers_for import papers_for

    given = Issue(
        number,
        issue.issued_on,
        issue.signer,
        issue.accredited_claim,
        "a4" if issue.paper == "a4" else "letter",
        "si" if units == "si" else "us",
    )
    files = papers_for(record, profile, judgement, given)
    told = json_text(judgement.to_json_dict(), all_signs=True, indent=2)
    return {**files, JUDGEMENT_FILE: f"{told}\n".encode()}


def _shown(record: Record, profile: Profile, judgement: Judgement, setting: Setting) -> str:
    if setting.show == "json":
        return json_text(judgement.to_json_dict(), all_signs=setting.all_signs)
    if setting.show == "line":
        return one_line(judgement)
    return full_summary(
        record, profile, judgement, units=setting.units, width=setting.width, all_signs=setting.all_signs
    )
