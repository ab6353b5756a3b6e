"""What the commands do with their options; both doors, the light one and `flueproof capture`, come in here."""

# ruff: noqa: TID252  (this folder is also installed alone, under another name)
from __future__ import annotations

import contextlib
import math
import re
import signal
import threading
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from random import Random
from typing import Any

from ..agent import Agent
from ..delivery import Delivery
from ..errors import CaptureError, SettingError
from ..lines.pattern_file import read_pattern
from ..shop import Refused, Shop, Unclear
from ..sources import SerialSource, Source, TcpSource
from ..spool import Spool
from ..telling import Tell, Telling
from .options import CHECK, RUN, TOKEN_VARIABLE
from .trying import try_pattern

_SIGNALS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGBREAK") if hasattr(signal, name)]


def do(command: str, asked: Mapping[str, Any]) -> int:
    """Do one command of `options.COMMANDS` with its options by name; return the exit code.

    Raises: CaptureError for what a person must mend.
    """
    if command == RUN.name:
        return _run(asked)
    if command == CHECK.name:
        return _check(asked, Telling(as_json=asked["json"]))
    return try_pattern(asked["pattern"], asked["file"], json=asked["json"])


def _run(asked: Mapping[str, Any]) -> int:
    tell = Telling(as_json=asked["json"])
    pattern = read_pattern(asked["pattern"])
    source, shop, agent_id = _source(asked), _shop(asked), _agent_id(asked["agent"])
    if source is None:
        raise SettingError("No source is named.", "Give --tcp HOST:PORT or --serial PORT.")
    for name in ("ceiling", "report"):
        if not math.isfinite(asked[name]):
            raise SettingError(f"--{name} {asked[name]}: is no number.", "Write a number, or leave it out.")
    folder = _folder(asked)
    random = Random()  # noqa: S311  jitter between agents, nothing secret
    with _stopping() as stop, contextlib.closing(Spool(folder, agent_id, first=_first_number())) as spool:
        _greet(tell, pattern.title, folder, shop, spool)
        delivery = Delivery(spool, shop, agent_id, tell, random)
        ceiling = int(asked["ceiling"] * 1e6)
        Agent(source, pattern, spool, delivery, tell, ceiling, report_s=asked["report"]).run(stop)
    return 0


def _greet(tell: Tell, title: str, folder: Path, shop: Shop, spool: Spool) -> None:
    state = spool.state()
    tell(
        "started",
        f"Pattern: {title}. Spool: {folder}, {state.unsent} readings waiting. Shop: {shop.server}.",
        waiting=state.unsent,
        last=state.last,
    )
    if shop.unprotected:
        tell("unprotected", "The token goes over the network unprotected (http): only on the shop's own network.")
    if spool.unclear_under_another_id:
        tell(
            "id-changed",
            f"The id was changed: up to {spool.unclear_under_another_id} readings may stand there under both ids.",
        )


def _check(asked: Mapping[str, Any], tell: Tell) -> int:
    """Look at everything and say it all, also when the first thing is wrong."""
    looks = (_look_at_shop, _look_at_pattern, _look_at_source, _look_at_spool)
    good = True
    for look in looks:
        try:
            look(asked, tell)
        except CaptureError as error:
            good = False
            tell("wrong", str(error))
    return 0 if good else 2


def _look_at_shop(asked: Mapping[str, Any], tell: Tell) -> None:
    _agent_id(asked["agent"])
    shop = _shop(asked)
    with contextlib.closing(shop):
        answer = shop.hello()
    if isinstance(answer, Unclear):
        raise SettingError(f"{answer.why}.", "Look at --server, the network, and whether the shop is running.")
    if isinstance(answer, Refused):
        raise SettingError(f"The shop refuses ({answer.status}): {answer.message}", answer.remedy)
    station, name = str(answer.get("station", "?")), str(answer.get("shop", "?"))
    tell("shop", f"Shop: {name}, station {station}.", shop=name, station=station)


def _look_at_pattern(asked: Mapping[str, Any], tell: Tell) -> None:
    if asked["pattern"] is not None:
        pattern = read_pattern(asked["pattern"])
        tell("pattern", f"Pattern: {pattern.title}; channels {', '.join(pattern.channels)}.")


def _look_at_source(asked: Mapping[str, Any], tell: Tell) -> None:
    source = _source(asked)
    if source is not None:
        with contextlib.closing(source):
            source.open()
        tell("source", f"Source: {source.name} can be opened.")


def _look_at_spool(asked: Mapping[str, Any], tell: Tell) -> None:
    folder = _folder(asked)
    if not folder.is_dir():
        tell("spool", f"Spool: {folder} will be made at the first start.")
        return
    with contextlib.closing(Spool(folder, _agent_id(asked["agent"]), first=_first_number())) as spool:
        state = spool.state()
    tell(
        "spool",
        f"Spool: {folder}, {state.unsent} readings waiting, {state.size_bytes / 1e6:.1f} MB.",
        waiting=state.unsent,
        last=state.last,
        size_bytes=state.size_bytes,
    )


def _source(asked: Mapping[str, Any]) -> Source | None:
    if asked["tcp"] and asked["serial"]:
        raise SettingError(
            "Both --tcp and --serial are given.", "Name one source; a second analyzer needs a second agent."
        )
    if asked["tcp"]:
        return TcpSource(asked["tcp"])
    return SerialSource(asked["serial"], asked["baud"], asked["framing"]) if asked["serial"] else None


def _shop(asked: Mapping[str, Any]) -> Shop:
    if asked["token_file"]:
        try:
            token = Path(asked["token_file"]).read_text(encoding="utf-8-sig").strip()
        except (OSError, UnicodeDecodeError) as error:
            raise SettingError(
                f"--token-file {asked['token_file']}: cannot be read.", "Name a file with the token."
            ) from error
        return Shop(asked["server"], token)
    if not asked["token"]:
        raise SettingError("There is no token.", f"Give --token-file FILE, or set {TOKEN_VARIABLE}.")
    return Shop(asked["server"], asked["token"].strip())


def _agent_id(text: str) -> str:
    if not re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9._-]{0,62}", text):
        raise SettingError(f"--agent {text}: is no id.", "Use letters, digits, dot, dash and underline: bench-1.")
    return text


def _folder(asked: Mapping[str, Any]) -> Path:
    if asked["spool"]:
        return Path(asked["spool"])
    return Path.home() / ".flueproof-capture" / _agent_id(asked["agent"])


def _first_number() -> int:
    """Return the first number of a new spool: the clock in milliseconds, so that lost spools repeat no number."""
    return time.time_ns() // 1_000_000


@contextlib.contextmanager
def _stopping() -> Iterator[threading.Event]:
    """Give an event that SIGINT and SIGTERM set; a second one ends the program at once."""
    stop = threading.Event()
    before: dict[int, Any] = {}

    def asked(number: int, _frame: object) -> None:
        stop.set()
        signal.signal(number, before[number] or signal.SIG_DFL)

    if threading.current_thread() is threading.main_thread():
        for number in _SIGNALS:
            before[number] = signal.signal(number, asked)
    try:
        yield stop
    finally:
        for number, handler in before.items():
            signal.signal(number, handler or signal.SIG_DFL)
