"""What an owner reads, with the sizes that the own reference sheet of flue gas (section 9) gives for such errors.

CO that reads a fifth low turns a true 131.4 ppm air-free into 105.2; room air of 6.27 % leaves CO air-free as it is and
makes a true 5 % O2 read 6 %.
"""

import datetime as dt

import pytest
from django.utils import timezone

from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.demo_shop.filling.duties import FOUND
from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.duties.notices import found_of, last_good_on, letter_pdf, notice_for, suggested, with_rule
from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.visits.judged import judged
from flueproof.simulate.demo import demo_record
from shop.at_the_bench import fed, job_of


@pytest.fixture
def demo_duty(bench, owner, people):
    """Return a function: place in the demo's list -> its duty."""

    def make(place):
        number, case = FOUND[place]
        demo, now = demo_record(case, number), timezone.now()
        visit = fed(demo, job_of(demo, owner, now), people["technician"], now, bench)
        return duty_of_visit(visit, now)

    return make


def sizes(duty):
    return {one.channel: one for one in found_of(duty.facts).sizes}


def test_a_fifth_too_low_is_told_with_direction_and_size(demo_duty):
    duty = demo_duty(0)
    found = sizes(duty)
    assert (found["co"].direction, round(found["co"].value)) == ("low", -20)
    assert found["co_air_free"].low < 100.0 * (105.2 / 131.4 - 1.0) < found["co_air_free"].high
    words = suggested(duty, None, timezone.now()).text
    assert "CO about 20 % too low" in words
    assert "Places that you called safe with it" in words
    assert "do-not-use tag" in words


def test_room_air_leaves_co_air_free_and_lifts_o2_by_one(demo_duty):
    duty = demo_duty(1)
    found = sizes(duty)
    assert (found["o2"].direction, round(found["o2"].value)) == ("high", 1)
    assert found["co"].low < -6.27 < found["co"].high
    assert found["co_air_free"].direction == "none"
    words = suggested(duty, None, timezone.now()).text
    assert "CO air-free was not, because the leak thins CO and flue gas alike" in words
    assert "O2 about 1.0 % O2 too high" in words


@pytest.mark.parametrize(("place", "co", "o2", "air_free"), [(0, 80.0, 5.0, 131.4), (1, 93.7, 6.0, 131.4)])
def test_a_reading_of_the_sheet_is_corrected_back_to_what_was_true(demo_duty, place, co, o2, air_free):
    stands = judged(demo_duty(place).visit)
    errors = errors_as_found(stands.record, stands.profile)
    readings = field_readings(o2_pct=o2, co_ppm=co, stack_c=200.0, air_c=20.0)
    value = correct(readings, errors, Convention(shipped_fuel("natural-gas-us")))["co_air_free_ppm"]
    assert value.low[0] < air_free < value.high[0]


def test_the_one_rule_goes_with_every_word(low, outside):
    for duty in (low, outside):
        assert ONE_RULE in suggested(duty, None, timezone.now()).text
        assert notice_for(duty, None, timezone.now()).rule == ONE_RULE
    assert with_rule("Call us.").endswith(ONE_RULE)
    assert with_rule(f"{ONE_RULE} Call us.").count(ONE_RULE) == 1


def test_the_letter_names_shop_and_owner(low):
    assert letter_pdf(low, None, timezone.now()).startswith(b"%PDF")


def test_an_earlier_good_paper_is_the_last_good_day(visit_of, people, bench, low):
    earlier = visit_of("healthy")
    earlier.opened_at = low.visit.opened_at - dt.timedelta(days=300)
    earlier.save()
    assert last_good_on(low) is None
    paper = sign_visit(earlier, people["signer"], judged(earlier).last_hash, timezone.now(), bench)
    low.analyzer = earlier.job.analyzer
    low.save()
    assert last_good_on(low) == paper.issued_on
