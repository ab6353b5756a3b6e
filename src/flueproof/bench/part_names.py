"""What the name of a part means, as people write it."""

from __future__ import annotations

import re

from flueproof.analyzer.profile import Profile

GAS_WORDS = {"co": ("monoxide",), "o2": ("oxygen",), "no": ("nitric",), "so2": ("sulfur", "sulphur")}


def cells_named(what: str, profile: Profile) -> frozenset[str]:
    """Return the cells that a part's name means: "co cell", "CO-sensor", "oxygen cell"; all where it names none.

    what: the part as written. A sensor that names no gas is one of temperature or pressure.
    Source: own rule (names of gases: common practice, no source).
    """
    words = set(re.split(r"[^a-z0-9]+", what.lower()))
    named = frozenset(gas for gas in profile.cells if words & {gas, *GAS_WORDS.get(gas, ())})
    if named and words & {"cell", "cells", "sensor", "sensors"}:
        return named
    return frozenset(profile.cells) if words & {"cell", "cells"} else frozenset()
