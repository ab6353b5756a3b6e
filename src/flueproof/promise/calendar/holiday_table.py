"""Public holidays of a country and region, by year; the library behind it is imported at the first question."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from datetime import date
from typing import Any

from flueproof.promise.calendar.errors import UnknownPlaceError


def checked_place(country: str, region: str) -> tuple[str, str]:
    """Return country and region as the codes that the table knows (`us`, `Minnesota` -> `US`, `MN`).

    country: two letters of ISO 3166-1, or "" for none. region: code or name of a part of the country, or "".
    Raises: UnknownPlaceError, with the list of what is possible.
    """
    if not country.strip():
        if region.strip():
            raise UnknownPlaceError(f"region “{region}” without a country: give the country too, or leave both empty")
        return "", ""
    code = country.strip().upper()
    known = known_countries()
    if code not in known:
        raise UnknownPlaceError(f"no holidays are known for country “{country}”; possible: {', '.join(known)}")
    return code, _checked_region(code, region.strip())


def _checked_region(country: str, region: str) -> str:
    regions = known_regions(country)
    by_word = {word.casefold(): code for code, words in regions.items() for word in (code, *words)}
    found = by_word.get(region.casefold()) if region else ""
    if found is None:
        possible = ", ".join(regions) or "none (leave the region empty)"
        raise UnknownPlaceError(f"no holidays are known for region “{region}” of {country}; possible: {possible}")
    return found


@functools.cache
def known_countries() -> tuple[str, ...]:
    """Return the two-letter codes of all countries whose holidays are known, in order."""
    import holidays  # noqa: PLC0415 - half a second, and not every command needs a calendar

    return tuple(sorted(code for code in holidays.list_supported_countries() if len(code) == 2))


@functools.cache
def known_regions(country: str) -> Mapping[str, tuple[str, ...]]:
    """Return {code: names} of the parts of a country that have holidays of their own.

    country: a code of `known_countries`.
    """
    table = _table(country, "", ())
    names: dict[str, list[str]] = {code: [] for code in table.subdivisions}
    for name, code in getattr(table, "subdivisions_aliases", {}).items():
        names.setdefault(code, []).append(name)
    return {code: tuple(words) for code, words in names.items()}


@functools.lru_cache(maxsize=256)
def holidays_of(country: str, region: str, year: int) -> Mapping[date, tuple[str, ...]]:
    """Return the public holidays of a year, days off in lieu included: {day: names}.

    country, region: codes as `checked_place` returns them; no country, no holidays.
    """
    if not country:
        return {}
    found = _table(country, region, (year,))
    return {day: tuple(found.get_list(day)) for day in sorted(found) if day.year == year}


def _table(country: str, region: str, years: tuple[int, ...]) -> Any:
    import holidays  # noqa: PLC0415 - see known_countries

    language = _language(country)
    return holidays.country_holidays(country, subdiv=region or None, years=years, language=language)


@functools.cache
def _language(country: str) -> str | None:
    """Return English where the table has it, else nothing, which is the country's own language."""
    import holidays  # noqa: PLC0415 - see known_countries

    spoken = holidays.country_holidays(country).supported_languages
    return next((language for language in ("en_US", "en_GB", "en") if language in spoken), None)
