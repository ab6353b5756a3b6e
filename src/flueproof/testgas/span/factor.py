"""The span factor of a cylinder on the control analyzer, and whether two cylinders agree by it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from flueproof.metrology.conformity import normalized_error
from flueproof.testgas.errors import SpanFactorError

K = 2.0
ALIKE_PCT = 20.0  # common practice, no source: further apart the control analyzer's linearity would speak too


@dataclass(frozen=True, slots=True)
class SpanFactor:
    """Certificate value over settled reading [-].

    value; u_certificate, u_reading: the two parts of its standard uncertainty; certificate: the value on the paper
    [unit of the channel]; cause: tag of the certificate's error, the same for two cans of one lot.
    """

    value: float
    u_certificate: float
    u_reading: float
    certificate: float
    cause: str

    @property
    def u(self) -> float:
        """Its standard uncertainty [-].

        Source: JCGM 100:2008, 5.1.2.
        """
        return math.hypot(self.u_certificate, self.u_reading)


@dataclass(frozen=True, slots=True)
class Agreement:
    """How two cylinders compare.

    difference: new span factor minus old [-]; u: its standard uncertainty [-]; score: E_n [-]; agrees: |E_n| <= 1;
    in_words: a sentence or two.
    """

    difference: float
    u: float
    score: float
    agrees: bool
    in_words: str


def span_factor(certificate: float, u_certificate: float, settled: float, u_reading: float, cause: str) -> SpanFactor:
    """Return the span factor of one reading.

    certificate, settled: value on the paper and settled reading [unit of the channel], both above zero;
    u_certificate: standard uncertainty of the first; u_reading: of the second, settling, noise, display step and
    repeatability together [unit of the channel]; cause: see SpanFactor.
    Raises: SpanFactorError.
    Source: JCGM 100:2008, 5.1.6, equation (12), for a quotient.
    """
    values = (certificate, u_certificate, settled, u_reading)
    if not all(math.isfinite(one) for one in values) or certificate <= 0.0 or settled <= 0.0:
        raise SpanFactorError(
            f"no span factor from certificate {certificate!r} and reading {settled!r}: both must be numbers above zero."
        )
    if u_certificate < 0.0 or u_reading < 0.0:
        raise SpanFactorError("an uncertainty is never below zero.")
    value = certificate / settled
    return SpanFactor(value, value * u_certificate / certificate, value * u_reading / settled, certificate, cause)


def alike(value: float, other: float) -> bool:
    """Return whether two certified values [one unit], none below zero, are near enough to be compared.

    Source: common practice, no source.
    """
    return abs(value - other) <= ALIKE_PCT / 100.0 * max(value, other)


def agreement(new: SpanFactor, old: SpanFactor) -> Agreement:
    """Return whether a new cylinder agrees with the old one on the same control analyzer.

    The unit's own gain is in both factors and drops out of their difference. One certificate for both (a lot) drops
    out too: then only the readings are compared, and the words say that it is no second witness.
    Raises: SpanFactorError where the two values are too far apart or nothing is uncertain.
    Source: E_n score with k = 2: ISO 13528, from memory; uncertainty: JCGM 100:2008, 5.1.2 and 5.2.2.
    """
    if not alike(new.certificate, old.certificate):
        raise SpanFactorError(
            f"{new.certificate:g} and {old.certificate:g} are too far apart; at most {ALIKE_PCT:g} % can be compared, "
            "else the control analyzer's own linearity would count. Take an old cylinder of about the same value."
        )
    shared = new.cause == old.cause
    parts = (new.u_reading, old.u_reading) if shared else (new.u, old.u)
    if not any(parts):
        raise SpanFactorError("neither cylinder has any uncertainty; enter their certificates.")
    score = float(normalized_error(new.value, old.value, K * parts[0], K * parts[1]))
    return Agreement(
        difference=new.value - old.value,
        u=math.hypot(*parts),
        score=score,
        agrees=abs(score) <= 1.0,
        in_words=_agreement_in_words(new, old, score, shared=shared),
    )


def _agreement_in_words(new: SpanFactor, old: SpanFactor, score: float, *, shared: bool) -> str:
    percent = 100.0 * (new.value / old.value - 1.0)
    verb = "agree" if abs(score) <= 1.0 else "do not agree"
    said = (
        f"New and old {verb}: the new one's span factor is {percent:+.2f} % off the old one's, "
        f"E_n = {score:+.2f} (they agree from -1 to +1)."
    )
    return f"{said} Both rest on one certificate, so this says nothing about its value." if shared else said
