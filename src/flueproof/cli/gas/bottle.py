"""The bottles that a gas command speaks of: described by options, or those of a bench record."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from flueproof.cli.words.faults import Refusal

if TYPE_CHECKING:
    from flueproof.bench.record.references import TestGas
    from flueproof.testgas.blend import Blend, GasComponent
    from flueproof.testgas.certificate import GasCertificate

_NUMBER: Final = r"[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?"
_COMPONENT: Final = re.compile(
    rf"\s*(?P<gas>[a-z0-9]+)\s*=\s*(?P<value>{_NUMBER})\s*(?P<unit>ppm|%)\s*[, ]\s*"
    rf"(?:U\s*=\s*(?P<expanded>{_NUMBER})(?:\s*[, ]\s*k\s*=\s*(?P<k>{_NUMBER}))?"
    rf"|acc\s*=\s*(?P<accuracy>{_NUMBER})\s*%)\s*"
)
_PATTERN: Final = "Write it like --component 'co=502ppm U=5 k=2', or 'co=100ppm acc=2%' for a stated accuracy."
_NITROGEN: Final = frozenset({"nitrogen", "n2"})
_AIR: Final = frozenset({"air", "zero air", "synthetic air"})


@dataclass(frozen=True, slots=True)
class Bottle:
    """A test gas by its name here, what it holds, and the paper behind it."""

    name: str
    blend: Blend
    certificate: GasCertificate


def describes_bottles(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that describe bottles to a command."""
    for option in (
        click.option(
            "--expires", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help="Last day of the certificate."
        ),
        click.option("--certified", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", help="Date of the certificate."),
        click.option(
            "--balance", type=click.Choice(["nitrogen", "air"]), default="nitrogen", show_default=True, help="The rest."
        ),
        click.option(
            "--component",
            "components",
            multiple=True,
            metavar="TEXT",
            help="What the certificate names, like 'co=502ppm U=5 k=2' or 'co=100ppm acc=2%'; once per component.",
        ),
        click.option(
            "--record", type=click.Path(path_type=Path), metavar="FILE", help="Take all test gases of a bench record."
        ),
    ):
        command = option(command)
    return command


def bottles_of(
    record: Path | None,
    components: tuple[str, ...],
    balance: str,
    certified: datetime | None = None,
    expires: datetime | None = None,
) -> list[Bottle]:
    """Return the bottles of a record, or the one that the options describe.

    Raises: Refusal, RecordError, BlendError.
    """
    if record is not None and components:
        raise Refusal("--record", "stands beside --component.", "Give the bottles of a record or describe one.")
    if record is not None:
        return _of_record(record)
    if not components:
        raise Refusal("--component", "no gas is given.", f"{_PATTERN} Or give --record FILE.")
    from flueproof.testgas.blend import Blend
    from flueproof.testgas.certificate import GasCertificate

    parts = [component_of(text) for text in components]
    twice = {part.gas for part in parts if sum(other.gas == part.gas for other in parts) > 1}
    if twice:
        raise Refusal("--component", f"{', '.join(sorted(twice))} is given twice.", "Give each component once.")
    paper = GasCertificate("as given", _day(certified), _day(expires))
    return [Bottle("as given", Blend({part.gas: part for part in parts}, balance), paper)]


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def component_of(text: str) -> GasComponent:
    """Return the component that a text like "co=502ppm U=5 k=2" describes.

    Raises: Refusal for another form, BlendError for values that cannot be.
    """
    from flueproof.testgas.blend import GasComponent

    found = _COMPONENT.fullmatch(text)
    if found is None:
        raise Refusal("--component", f"{text!r} cannot be read.", _PATTERN)
    gas, unit, value = found["gas"], found["unit"], float(found["value"])
    if found["accuracy"] is not None:
        return GasComponent.from_accuracy(gas, unit, value, float(found["accuracy"]))
    return GasComponent.from_expanded(gas, unit, value, float(found["expanded"]), float(found["k"] or 2.0))


def _of_record(path: Path) -> list[Bottle]:
    from flueproof.bench.record.reader import read_record
    from flueproof.bench.record.references import TestGas

    record = read_record(path)
    found = [_bottle(key, one) for key, one in record.references.items() if isinstance(one, TestGas)]
    if not found:
        raise Refusal("$.references", f"{path.name} names no test gas.", "Describe one with --component.")
    return found


def _bottle(key: str, gas: TestGas) -> Bottle:
    from flueproof.testgas.blend import Blend
    from flueproof.testgas.certificate import GasCertificate

    written = gas.balance.strip().lower()
    balance = "nitrogen" if written in _NITROGEN else "air" if written in _AIR else written
    parts: dict[str, GasComponent] = {name: _component(name, one) for name, one in gas.components.items()}
    paper = GasCertificate(gas.certificate, gas.certified, gas.expires, gas.number, gas.lot, gas.supplier)
    return Bottle(key, Blend(parts, balance), paper)


def _component(gas: str, given: Any) -> GasComponent:
    from flueproof.testgas.blend import GasComponent

    if given.stated_accuracy_pct is not None:
        return GasComponent.from_accuracy(gas, given.unit, given.value, given.stated_accuracy_pct)
    return GasComponent.from_expanded(gas, given.unit, given.value, given.expanded_uncertainty, given.k)
