"""A test gas as the record writes it, taken over as a blend with its certificate."""

from __future__ import annotations

from datetime import date

from flueproof.bench.record.references import TestGas
from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.certificate import GasCertificate
from flueproof.testgas.expiry import ExpiryState, expiry_state

# Names of balance gases as labels write them (common practice, no source).
BALANCE_NAMES = {"nitrogen": "nitrogen", "n2": "nitrogen", "air": "air", "zero air": "air", "synthetic air": "air"}


def blend_of(gas: TestGas) -> Blend | None:
    """Return the blend with uncertainties as stated; None for a balance gas that nothing is known of.

    Expanded uncertainties are divided by k, an accuracy in % is taken as rectangular.
    Raises: BlendError. Source: JCGM 100:2008, 4.3.3 and 4.3.7.
    """
    balance = BALANCE_NAMES.get(gas.balance.strip().lower())
    if balance is None:
        return None
    return Blend(certified_components(gas), balance)


def certified_components(gas: TestGas) -> dict[str, GasComponent]:
    """Return the certified components by gas, each in its own unit (JCGM 100:2008, 4.3.3 and 4.3.7)."""
    components = {}
    for name, part in gas.components.items():
        if part.expanded_uncertainty is not None and part.k is not None:
            components[str(name)] = GasComponent.from_expanded(
                name, part.unit, part.value, part.expanded_uncertainty, part.k
            )
        else:
            components[str(name)] = GasComponent.from_accuracy(
                name, part.unit, part.value, part.stated_accuracy_pct or 0.0
            )
    return components


def certificate_of(gas: TestGas) -> GasCertificate:
    """Return the paper behind a test gas; one that names the lot as its subject is a lot certificate.

    Source: own rule: the certificate's number begins with the word lot.
    """
    of_lot = gas.lot is not None and gas.certificate.strip().lower().startswith("lot")
    return GasCertificate(
        number=gas.certificate,
        certified=gas.certified,
        expires=gas.expires,
        cylinder=gas.number,
        lot=gas.lot,
        supplier=gas.supplier,
        of_lot=of_lot,
    )


def state_on(gas: TestGas, day: date) -> ExpiryState | None:
    """Return whether the gas may be used on a day, with warnings; None for an unknown balance.

    Source: see testgas.expiry.
    """
    blend = blend_of(gas)
    return None if blend is None else expiry_state(certificate_of(gas), blend, day)


def common_cause(gas: TestGas, key: str) -> str:
    """Return the tag of the error that gases of this paper share: the lot's, else this cylinder's.

    Source: common practice, no source (correlation by common cause: JCGM 100:2008, F.1.2.3).
    """
    certificate = certificate_of(gas)
    return certificate.common_cause() if certificate.of_lot else key
