"""The picture of a finding: a row a quantity, in words too, and honest where nothing was found off."""

from flueproof.shop.duties.presenters.picture import in_words, picture_of, rows_of


def facts(*sizes, kind="co-low"):
    names = ("channel", "direction", "value", "low", "high", "unit")
    return {"kind": kind, "sizes": [dict(zip(names, size, strict=True)) for size in sizes]}


CO = ("co", "low", -20.0, -23.0, -17.0, "%")
O2 = ("o2", "high", 1.0, 0.8, 1.2, "% O2")


def test_a_share_is_shown_at_a_value_that_people_meet():
    (row,) = rows_of(facts(CO))
    assert in_words(row) == "CO: a true 100 ppm was shown as 80 ppm (77 to 83)."


def test_oxygen_is_shown_at_five_percent():
    (row,) = rows_of(facts(O2))
    assert in_words(row) == "O₂: a true 5.0 % was shown as 6.0 % (5.8 to 6.2)."


def test_the_picture_says_the_same_to_those_who_do_not_see_it():
    drawn = picture_of(facts(CO, O2))
    assert 'role="img"' in drawn
    assert "a true 5.0 % was shown as 6.0 %" in drawn
    assert drawn.count("<circle") == 2


def test_what_lies_within_its_uncertainty_has_a_hollow_mark():
    assert 'class="fine"' in picture_of(facts(("co_air_free", "none", 0.4, -4.0, 4.8, "%")))
    assert 'class="fine"' not in picture_of(facts(CO))


def test_no_reading_is_a_cross_and_no_number():
    drawn = picture_of(facts(("co", "no-reading", None, None, None, "%")))
    assert "no reading" in drawn
    assert "<circle" not in drawn


def test_without_numbers_there_is_no_picture():
    assert picture_of(facts()) == ""
    assert picture_of(facts(("draft", "low", None, None, None, "Pa"))) == ""
    assert picture_of(facts(CO, kind="reference")) == ""


def test_words_of_others_are_escaped():
    assert "<b>" not in picture_of(facts(("<b>x</b>", "low", -1.0, -2.0, -0.5, "Pa")))
