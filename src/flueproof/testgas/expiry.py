"""Whether a gas may still be used on a day: the certificate's date rules, published periods only warn."""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date

from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.certificate import GasCertificate
from flueproof.testgas.shipped_table import shipped_table

STATES = ("in-date", "expires-soon", "expired", "not-yet", "no-date")


@dataclass(frozen=True, slots=True)
class Period:
    """A published shelf life: `years` [a] for a gas, by its source."""

    gas: str
    years: int
    source: str


@dataclass(frozen=True, slots=True)
class ExpiryState:
    """State of a gas on a day.

    state: see STATES; usable: whether results on it may be signed; days_left: to the last good day [d], None without
    a date; warnings: sentences.
    """

    state: str
    usable: bool
    days_left: int | None
    warnings: tuple[str, ...]


def years_later(start: date, years: int) -> date:
    """Return the same day `years` later; 29 February becomes 28 February where there is none.

    Source: common practice, no source.
    """
    last = calendar.monthrange(start.year + years, start.month)[1]
    return start.replace(year=start.year + years, day=min(start.day, last))


def period_of(component: GasComponent, balance: str) -> Period | None:
    """Return the published shelf life of one component in a balance gas, None when the tables name none.

    Source: data/shelf_life.toml, per entry.
    """
    ppm = component.in_unit("ppm").value
    for row in shipped_table("shelf_life")["periods"]:
        inside = float(row.get("from_ppm", 0.0)) <= ppm <= float(row.get("to_ppm", 1e6))
        if row["gas"] == component.gas and balance in row["balance"] and inside:
            return Period(component.gas, int(row["years"]), row["source"])
    return None


def shortest_period(blend: Blend) -> Period | None:
    """Return the shortest published shelf life among a blend's components, None when none is named.

    Source: EPA Traceability Protocol 2012, Table 2-3 (shortest of the parts), from memory.
    """
    known = [period_of(component, blend.balance) for component in blend.components.values()]
    return min((one for one in known if one is not None), key=lambda one: one.years, default=None)


def expiry_state(certificate: GasCertificate, blend: Blend, day: date) -> ExpiryState:
    """Return whether a gas may be used on a day; its last good day is the expiry date itself.

    Source: never after expiry: 40 CFR 60 App. A-4, Method 7E, 7.1; periods and the soon-warning: data/shelf_life.toml.
    """
    warnings = list(_period_warnings(certificate, blend, day))
    if certificate.certified is not None and day < certificate.certified:
        warnings.insert(0, f"Certified on {certificate.certified.isoformat()}, after this day: check both dates.")
        return ExpiryState("not-yet", usable=False, days_left=None, warnings=tuple(warnings))
    if certificate.expires is None:
        warnings.insert(0, "The certificate gives no expiry date: ask the supplier; nothing is signed on this gas.")
        return ExpiryState("no-date", usable=False, days_left=None, warnings=tuple(warnings))
    days = (certificate.expires - day).days
    if days < 0:
        warnings.insert(0, f"Expired on {certificate.expires.isoformat()}: replace it, nothing is signed on this gas.")
        return ExpiryState("expired", usable=False, days_left=days, warnings=tuple(warnings))
    soon = days <= int(shipped_table("shelf_life")["soon"]["days"])
    if soon:
        warnings.insert(0, f"Expires in {days} days, on {certificate.expires.isoformat()}: order the next one.")
    return ExpiryState("expires-soon" if soon else "in-date", usable=True, days_left=days, warnings=tuple(warnings))


def _period_warnings(certificate: GasCertificate, blend: Blend, day: date) -> tuple[str, ...]:
    period = shortest_period(blend)
    if period is None or certificate.certified is None:
        return ()
    until = years_later(certificate.certified, period.years)
    if certificate.expires is not None and certificate.expires > until:
        promised = f"The certificate runs to {certificate.expires.isoformat()}"
        return (f"{promised}, longer than the {period.years} years for {period.gas.upper()} in {period.source}.",)
    if certificate.expires is None and day > until:
        return (f"Older than the {period.years} years for {period.gas.upper()} in {period.source}.",)
    return ()
