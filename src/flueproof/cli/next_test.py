"""`flueproof next`: the next useful test of a visit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from flueproof.cli.words.console import print_json, text_width
from flueproof.cli.words.faults import Refusal, refusing
from flueproof.cli.words.rules import RULES, checked_rule

if TYPE_CHECKING:
    from flueproof.bench.next_test.proposal import Proposal


@click.command(name="next", short_help="Name the next useful test of a visit.")
@click.argument("record", metavar="RECORD", type=click.Path(path_type=Path))
@click.option("--budget", "budget_l", type=float, metavar="LITRES", help="Gas that may be spent on the visit.")
@click.option("--profile", type=click.Path(path_type=Path), metavar="FILE", help="Profile, instead of the shipped one.")
@click.option(
    "--bundle", type=click.Path(path_type=Path), metavar="FILE", help="Frozen further inputs of the judgement."
)
@click.option("--rule", type=click.Choice(RULES), help="Decision rule instead of the order's.")
@click.option("--r", "r", type=float, metavar="R", help="Guard band over U, for --rule guarded-rU.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def next_test(
    record: Path,
    budget_l: float | None,
    profile: Path | None,
    bundle: Path | None,
    rule: str | None,
    r: float | None,
    *,
    as_json: bool,
) -> None:
    """Name the next step that can still change the verdict or that the certificate needs, and say when none can.

    It proposes; the person at the bench decides, with the cautions for gas in mind: vent outdoors, keep a CO alarm on.
    """
    with refusing(as_json=as_json, where=None if as_json else record.name):
        if budget_l is not None and not budget_l >= 0.0:
            raise Refusal("--budget", f"is {budget_l:g} L; allowed is 0 or more.", "Correct it or leave it out.")
        proposal = _proposal(record, budget_l, profile, bundle, checked_rule(rule, r))
        if as_json:
            print_json({"record": record.name, **proposal.to_json_dict()})
        else:
            _show(proposal)


def _proposal(
    path: Path, budget_l: float | None, profile: Path | None, bundle: Path | None, rule: tuple[str, float | None] | None
) -> Proposal:
    from flueproof.bench.bundle import EMPTY_BUNDLE
    from flueproof.bench.next_test.proposing import next_test as proposed
    from flueproof.bench.record.reader import read_record
    from flueproof.cli.judging.bundle_file import bundle_of, read_bundle_file
    from flueproof.cli.judging.profiles_in_use import profile_of, profiles_given
    from flueproof.cli.words.files import LARGEST_PROFILE, bytes_of
    from flueproof.metrology.conformity import decision_rule

    record = read_record(path)
    given = () if profile is None else ((profile.name, bytes_of(profile, LARGEST_PROFILE, "a profile")),)
    used = profile_of(record, profiles_given(given))
    inputs = EMPTY_BUNDLE if bundle is None else bundle_of(read_bundle_file(bundle))
    chosen = None if rule is None else decision_rule(*rule)
    return proposed(record, used, budget_l=budget_l, bundle=inputs, rule=chosen)


def _show(proposal: Proposal) -> None:
    import textwrap

    def wrapped(label: str, text: str) -> None:
        click.echo(textwrap.fill(f"{label:11}{text}", text_width(), subsequent_indent=" " * 11))

    wrapped("Stop" if proposal.stop else "Next", proposal.words)
    wrapped("Why", proposal.why)
    if proposal.reference:
        place = f", at the {proposal.feed}" if proposal.feed else ""
        wrapped("Reference", f"{proposal.reference}{place}{', inlet pinched' if proposal.pinched else ''}")
    if proposal.litres > 0.0:
        wrapped("Gas", f"{proposal.litres:.1f} L, held at most {proposal.hold_s:.0f} s")
    if proposal.chance is not None:
        wrapped("Chance", f"{100.0 * proposal.chance:.0f} % that it decides what is open")
    if proposal.decides:
        wrapped("Decides", "; ".join(proposal.decides))
    if proposal.not_tested:
        wrapped("Not tested", "; ".join(proposal.not_tested))
