"""The invented shop of the demo: rack, owners, analyzers, and the head of a record made from them."""

from __future__ import annotations

import copy
import functools
import tomllib
from importlib import resources
from typing import TYPE_CHECKING, Any

from flueproof.simulate.errors import StepError

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from flueproof.analyzer.profile import Profile


@functools.cache
def demo_world() -> dict[str, Any]:
    """Return data/demo.toml: shop, technicians, owners, analyzers, references; every name is invented.

    Source: invented for the demo.
    """
    text = resources.files("flueproof.simulate").joinpath("data/demo.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def references_named(names: Collection[str]) -> dict[str, Any]:
    """Return references of the demo's rack as a record writes them.

    Raises: StepError for a name that the rack does not have.
    Source: invented for the demo.
    """
    rack = demo_world()["references"]
    missing = [name for name in names if name not in rack]
    if missing:
        raise StepError(f"the rack has no {', '.join(missing)}; it has {', '.join(rack)}")
    return {name: copy.deepcopy(rack[name]) for name in names}


def record_head(
    profile: Profile,
    *,
    job: str,
    number: int,
    received: Mapping[str, Any],
    order: Mapping[str, Any],
    owner: str = "tidewater",
    references: Collection[str] = ("cyl-co-500", "therm-1", "therm-air", "mano-1"),
) -> dict[str, Any]:
    """Return everything of a bench record but format and steps.

    job: its number; number: makes the analyzer's serial; received, order: as bench-record.md writes them; owner: key
    of the demo's owners; references: keys of the rack.
    Source: bench-record.md, format 1; names invented.
    """
    world = demo_world()
    analyzer = dict(world["analyzers"][profile.name])
    gases = analyzer.pop("cells")
    analyzer["serial"] = f"{analyzer['serial']}-{20000 + number}"
    analyzer["profile"] = {"name": profile.name, "version": profile.version, "sha256": None}
    analyzer["cells"] = [
        {"gas": gas, "serial": f"{gas.upper()}-{number:03d}", "fitted": f"202{3 + number % 3}-0{1 + number % 9}-14"}
        for gas in gases
    ]
    return {
        "job": job,
        "shop": dict(world["shop"]),
        "owner": dict(world["owners"][owner]),
        "order": dict(order),
        "received": dict(received),
        "analyzer": analyzer,
        "references": references_named(references),
    }
