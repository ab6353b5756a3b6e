"""`flueproof profile`: check, list and show profiles of analyzers."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import refusing
from flueproof.cli.words.table import Table

if TYPE_CHECKING:
    from flueproof.analyzer.limit import Limit
    from flueproof.analyzer.profile import Channel, Profile


@click.group(short_help="Check, list and show analyzer profiles.")
def profile() -> None:
    """Profiles say what an analyzer model measures, what is asked of it, and what this shop can adjust on it."""


@profile.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def check(file: Path, *, as_json: bool) -> None:
    """Check a profile: what is wrong by its key, or what is in it."""
    with refusing(as_json=as_json, where=None if as_json else file.name):
        from flueproof.analyzer.profile_reader import read_profile

        found = read_profile(file)
        _tell(found, as_json=as_json)


@profile.command(name="list")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def list_profiles(*, as_json: bool) -> None:
    """List the profiles that ship with the program."""
    with refusing(as_json=as_json):
        from flueproof.analyzer.profile_reader import shipped_profile, shipped_profile_names

        profiles = [shipped_profile(name) for name in shipped_profile_names()]
        if as_json:
            print_json({"profiles": [_head(one) for one in profiles]})
            return
        table = Table(("name", "version", "title", "channels"))
        for one in profiles:
            table.add((one.name, one.version, one.title, " ".join(one.channels)))
        for line in table.lines():
            click.echo(line)


@profile.command()
@click.argument("name", metavar="NAME")
@click.option("--json", "as_json", is_flag=True, help="One JSON object with everything in it.")
@click.option("--toml", "as_toml", is_flag=True, help="The file itself, as a pattern for your own.")
def show(name: str, *, as_json: bool, as_toml: bool) -> None:
    """Show a shipped profile, or with --toml its file, to copy and change."""
    with refusing(as_json=as_json):
        from flueproof.analyzer.profile_reader import shipped_profile

        found = shipped_profile(name)
        if as_toml:
            from importlib import resources

            file = resources.files("flueproof.analyzer").joinpath(f"data/profiles/{found.name}.toml")
            click.echo(file.read_text(encoding="utf-8"), nl=False)
            return
        _tell(found, as_json=as_json)


def _head(found: Profile) -> dict[str, Any]:
    return {
        "name": found.name,
        "version": found.version,
        "title": found.title,
        "source": found.source,
        "sha256": found.sha256,
        "channels": list(found.channels),
    }


def _tell(found: Profile, *, as_json: bool) -> None:
    if as_json:
        print_json({**_head(found), "profile": _plain(found)})
        return
    click.echo(f"{found.name} {found.version}: {found.title}")
    click.echo(f"Source: {found.source}")
    click.echo(f"sha256: {found.sha256}\n")
    table = Table(("channel", "unit", "range", "step", "limits as found", "as left", "adjust"))
    for one in found.channels.values():
        adjust = found.adjust.get(one.name)
        can = "none" if adjust is None else " ".join(adjust.can) + (", code needed" if adjust.code_needed else "")
        span = f"{one.low:g} to {one.high:g}"
        table.add((one.name, one.unit, span, f"{one.step:g}", _limits(one, "as-found"), _limits(one, "as-left"), can))
    for line in table.lines():
        click.echo(line)
    click.echo("\nTest points")
    for point in found.points:
        needed = "required" if point.required else "optional"
        click.echo(f"  {point.id} ({needed}): {point.title}")
    times = f"warm-up {found.warm_up_s:g} s, hold {found.hold_s:g} s, purge {found.purge_s:g} s"
    click.echo(f"\n{times}; leak limit {found.leak_limit_pct:g} % of the flow ({found.leak_limit_source})")
    for source in sorted({line.source for one in found.channels.values() for line in one.limits}):
        click.echo(f"Limit source: {source}")


def _limits(channel: Channel, phase: str) -> str:
    lines = [line for line in channel.limits if line.phase in {"any", phase}]
    return "; ".join(f"{_words(line, channel)}{_range(line, channel)}" for line in lines) or "none"


def _words(line: Limit, channel: Channel) -> str:
    from flueproof.analyzer.limit import LimitAt

    return LimitAt(0.0, line.absolute, line.percent, line.of, line.source, line.combine).in_words(channel.unit)


def _range(line: Limit, channel: Channel) -> str:
    low = line.from_ if line.from_ > channel.low else None
    high = line.to if line.to < channel.high else None
    if low is None and high is None:
        return ""
    if low is None:
        return f" to {high:g}"
    return f" from {low:g}" if high is None else f" from {low:g} to {high:g}"


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name.rstrip("_"): _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if hasattr(value, "items"):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
