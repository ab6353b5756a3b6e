"""`flueproof gas decide`: what a bottle can decide against a profile's limits, before it is bought or used."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from flueproof.cli.gas.bottle import Bottle, bottles_of, describes_bottles
from flueproof.cli.words.console import finite, print_json
from flueproof.cli.words.faults import Refusal, refusing
from flueproof.cli.words.rules import RULES
from flueproof.cli.words.table import Table

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Channel, Profile
    from flueproof.metrology.conformity import DecisionRule
    from flueproof.testgas.blend import GasComponent

PHASES: Final = ("as-found", "as-left")


@click.command()
@describes_bottles
@click.option("--profile", default="two-cell-residential", show_default=True, metavar="FILE|NAME", help="Whose limits.")
@click.option("--rule", type=click.Choice(RULES), help="One decision rule; by default all of them.")
@click.option("--r", "r", type=float, default=0.5, show_default=True, metavar="R", help="For guarded-rU.")
@click.option("--other-u", type=float, metavar="U", help="All but the bottle [unit of the channel]; from the profile.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def decide(
    record: Path | None,
    components: tuple[str, ...],
    balance: str,
    certified: datetime | None,
    expires: datetime | None,
    profile: str,
    rule: str | None,
    r: float,
    other_u: float | None,
    *,
    as_json: bool,
) -> None:
    """Which share of each limit a bottle's uncertainty eats, and what can still be decided on it.

    Beside the bottle count the profile's repeatability and display step, unless --other-u is given.
    """
    from flueproof.cli.words.profile_named import profile_named

    with refusing(as_json=as_json):
        used = profile_named(profile)
        bottles = bottles_of(record, components, balance, certified, expires)
        rules = _rules(rule, r)
        told = [_told(one, used, rules, other_u) for one in bottles]
        if as_json:
            print_json({"profile": {"name": used.name, "version": used.version}, "bottles": told})
            return
        for one in told:
            _show(one, used)


def _rules(name: str | None, r: float) -> list[DecisionRule]:
    from flueproof.metrology.conformity import decision_rule

    names = RULES if name is None else (name,)
    return [decision_rule(one, r if one == "guarded-rU" else None) for one in names]


def _told(bottle: Bottle, profile: Profile, rules: list[DecisionRule], other_u: float | None) -> dict[str, Any]:
    from flueproof.testgas.cautions import handling_cautions

    rows = [
        row
        for channel, component in _points(bottle, profile)
        for phase in PHASES
        for rule in rules
        if (row := _row(channel, component, phase, rule, other_u)) is not None
    ]
    if not rows:
        raise Refusal(
            "--component", f"no channel of {profile.name} measures what it holds.", "Give another profile or gas."
        )
    cautions = [*bottle.blend.cautions_of_use(), *handling_cautions(bottle.blend)]
    return {"bottle": bottle.name, "decides": rows, "cautions": cautions}


def _points(bottle: Bottle, profile: Profile) -> Iterator[tuple[Channel, GasComponent]]:
    """Yield each channel that measures something of the bottle, O2 also where a nitrogen balance makes its zero."""
    for channel in profile.channels.values():
        gas = channel.name.split("_", maxsplit=1)[0]
        if not channel.measures_gas:
            continue
        if bottle.blend.certified(gas) or (gas == "o2" and bottle.blend.balance == "nitrogen"):
            component = bottle.blend.component(gas, channel.unit)
            if channel.low <= component.value <= channel.high:
                yield channel, component


def _row(
    channel: Channel, component: GasComponent, phase: str, rule: DecisionRule, other_u: float | None
) -> dict[str, Any] | None:
    from flueproof.analyzer.errors import NoLimitError
    from flueproof.metrology.coverage import coverage_factor
    from flueproof.testgas.deciding import can_decide

    try:
        limit = channel.limit_at(component.value, phase)
    except NoLimitError:
        return None
    scatter = channel.repeatability.s_at(component.value)
    rest = math.hypot(scatter, channel.step / math.sqrt(12.0)) if other_u is None else other_u
    u = math.hypot(component.u, rest)
    dof = math.inf
    if other_u is None and scatter > 0.0 and math.isfinite(channel.repeatability.dof):
        dof = channel.repeatability.dof * (u / scatter) ** 4  # JCGM 100:2008, G.4 (only the scatter has finite dof)
    k = float(coverage_factor(dof))
    power = can_decide(component.u, rest, limit.value, rule, dof=dof, k=k, unit=channel.unit)
    return {
        "channel": channel.name,
        "phase": phase,
        "reference": component.value,
        "unit": channel.unit,
        "stated": component.stated,
        "rule": rule.name,
        "limit": power.limit,
        "limit_in_words": limit.in_words(channel.unit),
        "limit_source": limit.source,
        "expanded_bottle": power.expanded_bottle,
        "other_u": rest,
        "U": power.expanded,
        "k": k,
        "share_pct": power.share_pct,
        "guard": power.guard,
        "guard_share_pct": power.guard_share_pct,
        "tur": finite(power.tur),
        "can_conform": power.can_conform,
        "largest_conform": power.largest_conform,
        "smallest_not_conform": power.smallest_not_conform,
        "one_to_three": power.meets_ratio(3.0),
        "in_words": power.in_words,
    }


def _show(told: dict[str, Any], profile: Profile) -> None:
    click.echo(f"{told['bottle']} against the limits of {profile.name} {profile.version}")
    head = ("point", "phase", "limit", "bottle's U", "eats", "rule", "conform up to", "not conform above", "TUR")
    table = Table(head, right=(2, 3, 4, 6, 7, 8))
    for row in told["decides"]:
        unit = row["unit"]
        largest = row["largest_conform"]
        table.add(
            (
                f"{row['channel']} {row['reference']:g} {unit}",
                row["phase"].replace("-", " "),
                f"{row['limit']:.3g} {unit}",
                f"{row['expanded_bottle']:.2g} {unit}",
                f"{row['share_pct']:.0f} %",
                row["rule"],
                "never" if largest is None else f"{largest:.3g} {unit}",
                f"{row['smallest_not_conform']:.3g} {unit}",
                "-" if row["tur"] is None else f"{row['tur']:.1f}",
            )
        )
    for line in table.lines():
        click.echo(f"  {line}")
    for caution in told["cautions"]:
        click.echo(f"  {caution}")
