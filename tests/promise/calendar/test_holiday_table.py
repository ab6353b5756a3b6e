"""Places whose holidays are known, and what is said of others."""

import subprocess
import sys
from datetime import date

import pytest

from flueproof.promise.calendar.errors import UnknownPlaceError
from flueproof.promise.calendar.holiday_table import checked_place, holidays_of, known_countries, known_regions


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        (("us", "mn"), ("US", "MN")),
        (("US", "Minnesota"), ("US", "MN")),
        (("DE", "bayern"), ("DE", "BY")),
        (("", ""), ("", "")),
    ],
)
def test_codes_and_names_are_understood(given, kept):
    assert checked_place(*given) == kept


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("XX", ""), "country “XX”; possible: AD, AE"),
        (("US", "QQ"), "region “QQ” of US; possible: AK, AL"),
        (("SG", "East"), "none \\(leave the region empty\\)"),
        (("", "MN"), "without a country"),
    ],
)
def test_unknown_places_are_refused_with_what_is_possible(given, words):
    with pytest.raises(UnknownPlaceError, match=words):
        checked_place(*given)


def test_a_region_adds_its_own_days():
    assert date(2026, 6, 4) not in holidays_of("DE", "", 2026)
    assert holidays_of("DE", "BY", 2026)[date(2026, 6, 4)] == ("Corpus Christi",)


def test_no_country_has_no_holidays():
    assert holidays_of("", "", 2026) == {}


def test_every_known_country_gives_a_year_and_its_regions():
    empty = [code for code in known_countries() if not isinstance(holidays_of(code, "", 2026), dict)]
    assert empty == []
    assert len(known_countries()) > 150
    assert set(known_regions("GB")) >= {"ENG", "NIR", "SCT", "WLS"}


def test_the_library_is_imported_at_the_first_question_only():
    code = "import sys, flueproof.promise.calendar.shop_calendar; assert 'holidays' not in sys.modules"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
