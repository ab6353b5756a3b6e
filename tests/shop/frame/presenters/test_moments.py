"""Days and moments with the month as a word; a day without a time is the same day in every time zone."""

import datetime as dt
import zoneinfo

import pytest
from django import forms
from django.template import Context, Template
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.frame.presenters.moments import MONTHS, day_of, day_text, moment_text

ZONES = sorted(zoneinfo.available_timezones() - {"localtime", "Factory"})
zones = st.sampled_from(ZONES).map(zoneinfo.ZoneInfo)
days = st.dates(dt.date(1995, 1, 1), dt.date(2060, 12, 31))
moments = st.datetimes(dt.datetime(1995, 1, 2), dt.datetime(2060, 12, 30)).map(lambda at: at.replace(tzinfo=dt.UTC))  # noqa: DTZ001 -- UTC is put on


def tag(text, value):
    return Template(text).render(Context({"value": value}))


def test_the_month_is_a_word():
    day = dt.date(2026, 4, 2)
    assert day_text(day) == "2\u00a0April\u00a02026"
    assert day_text(day, short=True) == "2\u00a0Apr\u00a02026"
    assert day_text(dt.date(2026, 9, 1), short=True) == "1\u00a0Sep\u00a02026"


@given(zones, days)
def test_a_day_never_shifts_with_the_time_zone(zone, day):
    with timezone.override(zone):
        assert day_of(day) == day
        shown = tag("{% day value %}", day)
    assert f'datetime="{day.isoformat()}"' in shown
    assert day_text(day) in shown


@given(zones, days)
def test_a_printed_day_can_be_read_back_in_one_way_only(zone, day):
    with timezone.override(zone):
        number, month, year = day_text(day).split("\u00a0")
    assert dt.date(int(year), MONTHS.index(month) + 1, int(number)) == day


@given(zones, moments)
def test_a_moment_is_shown_in_the_shops_zone(zone, at):
    local = at.astimezone(zone)
    with timezone.override(zone):
        text = moment_text(at)
        shown = tag("{% moment value %}", at)
    assert text == f"{day_text(local.date())}, {local.hour:02d}:{local.minute:02d}"
    assert dt.datetime.fromisoformat(shown.split('"')[1]) == at.replace(microsecond=0)


@given(zones, moments)
def test_the_day_of_a_moment_is_the_shops_day(zone, at):
    with timezone.override(zone):
        assert day_of(at) == at.astimezone(zone).date()


@pytest.mark.parametrize(
    ("zone", "told"),
    [("America/New_York", "24\u00a0November\u00a02026, 23:30"), ("Europe/Berlin", "25\u00a0November\u00a02026, 05:30")],
)
def test_the_same_moment_is_two_days_in_two_shops(zone, told):
    with timezone.override(zoneinfo.ZoneInfo(zone)):
        assert moment_text(dt.datetime(2026, 11, 25, 4, 30, tzinfo=dt.UTC)) == told


def test_no_value_is_a_dash():
    assert tag("{% day value %}", None) == tag("{% moment value %}", None) == "–"


@given(zones, days)
def test_a_day_typed_into_a_form_is_that_day(zone, day):
    with timezone.override(zone):
        assert forms.DateField().clean(day.isoformat()) == day
        assert forms.DateInput(format="%Y-%m-%d").format_value(day) == day.isoformat()


@pytest.mark.django_db
@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "Pacific/Pago_Pago", "America/New_York", "UTC"])
def test_a_promised_day_shown_on_the_tag_is_the_one_kept(zone, signer_client, shop, job):
    shop.time_zone = zone
    shop.save()
    job.refresh_from_db()
    assert job.promised_on == dt.date(2026, 12, 1)
    assert "1\u00a0December\u00a02026" in signer_client.get("/").content.decode()
