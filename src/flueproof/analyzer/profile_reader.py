"""Profiles read from TOML: the shipped ones and a shop's own."""

from __future__ import annotations

import functools
import hashlib
import math
import tomllib
from importlib import resources
from pathlib import Path

from flueproof.analyzer import profile as model
from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.limit_reader import read_limits
from flueproof.analyzer.toml_table import TomlTable
from flueproof.analyzer.units import CORE_UNITS

LARGEST_BYTES = 1_000_000
_DATA = "data/profiles"


def shipped_profile_names() -> tuple[str, ...]:
    """Return the names of the profiles that ship with the program, sorted (common practice, no source)."""
    folder = resources.files("flueproof.analyzer").joinpath(_DATA)
    return tuple(sorted(item.name.removesuffix(".toml") for item in folder.iterdir() if item.name.endswith(".toml")))


@functools.cache
def shipped_profile(name: str) -> model.Profile:
    """Return a profile that ships with the program.

    Raises: ProfileError when there is none of this name.
    Source: the profile's own.
    """
    if name not in shipped_profile_names():
        raise ProfileError(
            "name", f"is {name!r}, no shipped profile.", f"Use one of: {', '.join(shipped_profile_names())}."
        )
    item = resources.files("flueproof.analyzer").joinpath(f"{_DATA}/{name}.toml")
    return read_profile(item.read_bytes(), where=f"{name}.toml")


def read_profile(source: Path | str | bytes, where: str | None = None) -> model.Profile:
    """Return a profile from a file's path or its bytes.

    where: name of the file in messages.
    Raises: ProfileError, naming the key path; OSError when the file cannot be read.
    Source: the profile's own `source` keys.
    """
    where = where or ("profile" if isinstance(source, bytes) else Path(source).name)
    data = source if isinstance(source, bytes) else _bytes_of(Path(source))
    root = TomlTable(parse_toml(data, where), "", where)
    profile = _read_root(root, hashlib.sha256(data).hexdigest())
    root.close()
    return profile


def _bytes_of(path: Path) -> bytes:
    """Read little further than a profile can be long: a device may never end, and parse_toml refuses the rest."""
    with path.open("rb") as file:
        return file.read(LARGEST_BYTES + 1)


def parse_toml(data: bytes, where: str) -> dict[str, object]:
    """Return the parsed file.

    Raises: ProfileError when it is too large, not UTF-8 or not TOML.
    Source: TOML 1.0.0.
    """
    if len(data) > LARGEST_BYTES:
        raise ProfileError("-", f"is longer than the {LARGEST_BYTES} bytes allowed.", "Is it a profile?", where)
    try:
        return tomllib.loads(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise ProfileError("-", f"is not UTF-8 at byte {error.start}.", "Save it as UTF-8.", where) from error
    except tomllib.TOMLDecodeError as error:
        raise ProfileError("-", f"is not TOML: {error}.", "Correct the line.", where) from error


def _read_root(root: TomlTable, sha256: str) -> model.Profile:
    root.text("format", choices=("flueproof-profile/1",))
    channels = {name: _read_channel(name, table) for name, table in root.children("channels")}
    if not channels:
        raise root.fault("channels", "names no channel.", "Write at least one [channels.NAME] table.")
    leak = root.child("leak_limit")
    profile = model.Profile(
        name=root.text("name"),
        version=root.text("version"),
        title=root.text("title"),
        source=root.text("source"),
        sha256=sha256,
        warm_up_s=root.number("warm_up_s", low=0.0, high=86_400.0),
        hold_s=root.number("hold_s", low=1.0, high=3600.0),
        purge_s=root.number("purge_s", low=0.0, high=3600.0),
        pump_flow_l_min=_read_flow(root.child("pump_flow_l_min")),
        minimum_pressure_kpa=root.number("minimum_pressure_kpa", low=0.0, high=5000.0),
        leak_limit_pct=leak.number("percent", low=0.01, high=20.0),
        leak_limit_source=leak.text("source"),
        dead_volume_ml=root.optional_number("dead_volume_ml", low=0.1, high=10_000.0),
        interval_months=_whole(root, "interval_months", 12),
        recovery_after_high_co=_read_recovery(root.child("recovery_after_high_co")),
        zeroing=_read_zeroing(root.child("zeroing")),
        channels=channels,
        points=_read_points(root, channels),
        adjust={name: _read_adjust(name, table) for name, table in root.children("adjust")},
        cells={name: _read_cell(name, table) for name, table in root.children("cells")},
    )
    leak.close()
    for name in profile.adjust:
        if name not in channels:
            raise root.fault(f"adjust.{name}", "is no channel of this profile.", f"Known are: {', '.join(channels)}.")
    return profile


def _whole(table: TomlTable, name: str, default: int) -> int:
    value = table.number(name, default=float(default), low=1.0, high=120.0)
    if value != round(value):
        raise table.fault(name, f"is {value:g}, allowed is a whole number from 1 to 120.", "Correct it.")
    return int(value)


def _read_flow(table: TomlTable) -> model.FlowRange:
    low, typical, high = (table.number(name, low=0.01, high=20.0) for name in ("low", "typical", "high"))
    flow = model.FlowRange(low, typical, high, table.text("source"))
    table.close()
    if not low <= typical <= high:
        raise table.fault("typical", f"is {typical:g}, not between low {low:g} and high {high:g}.", "Correct it.")
    return flow


def _read_recovery(table: TomlTable) -> model.Recovery:
    recovery = model.Recovery(
        ppm=table.number("ppm", low=1.0, high=1e6),
        minutes=table.number("minutes", low=0.0, high=10_000.0),
        source=table.text("source"),
    )
    table.close()
    return recovery


def _read_zeroing(table: TomlTable) -> model.Zeroing:
    zeroing = model.Zeroing(
        when=table.texts("when", ("switch-on", "on-request")),
        seconds=table.number("seconds", low=0.0, high=3600.0),
        source=table.text("source"),
    )
    table.close()
    return zeroing


def _read_channel(name: str, table: TomlTable) -> model.Channel:
    low, high = table.number("low"), table.number("high")
    if low >= high:
        raise table.fault("high", f"is {high:g}, not above low {low:g}.", "Write the range upwards.")
    snap_to = table.optional_number("snap_to")
    response, repeatability = table.optional_child("response"), table.child("repeatability")
    channel = model.Channel(
        name=name,
        title=table.text("title"),
        unit=table.text("unit", choices=tuple(CORE_UNITS.values())),
        low=low,
        high=high,
        step=table.number("step", low=1e-9, high=high - low),
        kind=table.text("kind", choices=model.CHANNEL_KINDS),
        zeroed_in_air=table.flag("zeroed_in_air"),
        set_to=table.optional_number("set_to"),
        clamp_low=table.optional_number("clamp_low"),
        snap_to=snap_to,
        snap_width=0.0 if snap_to is None else table.number("snap_width", low=0.0, high=high - low),
        limits=read_limits(table, "limits", low, high),
        response=None if response is None else _read_response(response),
        repeatability=_read_repeatability(repeatability),
        cross={gas: _read_cross(gas, row) for gas, row in table.children("cross")},
        linear_claimed=table.flag("linear_claimed", default=False),
    )
    table.close()
    if channel.zeroed_in_air and channel.set_to is None:
        raise table.fault("set_to", "is missing.", "A channel zeroed in air says what it is set to (20.9 or 0).")
    return channel


def _read_response(table: TomlTable) -> model.Response:
    response = model.Response(t90_s=table.number("t90_s", low=0.1, high=3600.0), source=table.text("source"))
    table.close()
    return response


def _read_repeatability(table: TomlTable) -> model.Repeatability:
    repeatability = model.Repeatability(
        absolute=table.number("absolute", low=0.0),
        percent=table.number("percent", default=0.0, low=0.0, high=100.0),
        dof=table.number("dof", default=math.inf, low=1.0),
        source=table.text("source"),
    )
    table.close()
    return repeatability


def _read_cross(gas: str, table: TomlTable) -> model.CrossLimit:
    if gas not in model.GASES:
        raise ProfileError(table.path, f"{gas!r} is no gas.", f"Known: {', '.join(model.GASES)}.", table.where)
    cross = model.CrossLimit(
        gas=gas,
        limit_pct=table.number("limit_pct", low=0.0, high=200.0),
        spent_pct=table.optional_number("spent_pct", low=0.0, high=500.0),
        by=table.text("by"),
        source=table.text("source"),
    )
    table.close()
    return cross


def _read_points(root: TomlTable, channels: dict[str, model.Channel]) -> tuple[model.Point, ...]:
    points: list[model.Point] = []
    for row in root.rows("points"):
        point = _read_point(row, channels)
        if any(other.id == point.id for other in points):
            raise row.fault("id", f"{point.id!r} is used twice.", "Give each point its own id.")
        points.append(point)
    return tuple(points)


def _read_point(row: TomlTable, channels: dict[str, model.Channel]) -> model.Point:
    kind = row.text("kind", choices=model.POINT_KINDS)
    on_path = kind in {"plug-test", "flow"}
    any_of = row.texts("any_of", model.STEP_KINDS)
    point = model.Point(
        id=row.text("id"),
        kind=kind,
        channel=None if on_path else row.text("channel", choices=tuple(channels)),
        low=row.optional_number("low") if on_path else row.number("low"),
        high=row.optional_number("high") if on_path else row.number("high"),
        required=row.flag("required"),
        title=row.text("title"),
        feed=row.optional_text("feed", choices=model.FEEDS),
        of=row.optional_text("of", choices=model.PARTS),
        gas=row.text("gas", choices=model.GASES) if kind == "cross" else row.optional_text("gas", model.GASES),
        balance=row.texts("balance", ("nitrogen", "air")),
        any_of=any_of or ("test-gas" if kind == "cross" else kind,),
    )
    row.close()
    if point.low is not None and point.high is not None and point.low >= point.high:
        raise row.fault("high", f"is {point.high:g}, not above low {point.low:g}.", "Write the range upwards.")
    channel = channels.get(point.channel or "")
    if kind != "cross" and channel and not (channel.low <= row.number("low") and row.number("high") <= channel.high):
        raise row.fault("low", f"or `high` leave the channel's {channel.low:g}..{channel.high:g}.", "Narrow them.")
    return point


def _read_adjust(name: str, table: TomlTable) -> model.Adjust:
    adjust = model.Adjust(
        channel=name,
        can=table.texts("can", model.ADJUSTMENTS),
        code_needed=table.flag("code_needed"),
        gain_low=table.number("gain_low", low=0.01, high=1.0),
        gain_high=table.number("gain_high", low=1.0, high=100.0),
        how=table.text("how"),
        source=table.text("source"),
    )
    table.close()
    return adjust


def _read_cell(name: str, table: TomlTable) -> model.Cell:
    cell = model.Cell(
        gas=table.text("gas", default=name, choices=model.GASES),
        gain_low=table.number("gain_low", low=0.01, high=1.0),
        gain_high=table.number("gain_high", low=1.0, high=100.0),
        end_gain=table.number("end_gain", low=0.01, high=1.0),
        settle_hours=table.number("settle_hours", low=0.0, high=1000.0),
        life=table.text("life"),
        filter_ppm_h=table.optional_number("filter_ppm_h", low=0.0),
        source=table.text("source"),
    )
    table.close()
    return cell
