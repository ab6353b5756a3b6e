"""Readings looked over: reasons in words."""

from flueproof.chemistry.field.looking import look_over


def test_good_readings_have_no_reasons():
    assert look_over({"o2": 5.0, "co": 100.0, "stack": 200.0, "air": 20.0}).reasons() == []


def test_each_fault_is_told_once_with_its_number():
    looked = look_over(
        {
            "o2": [20.0, 19.0, 16.0, 5.0, 5.0],
            "co": [1.0, 1.0, 1.0, float("nan"), 1.0],
            "stack": [200.0, 200.0, 200.0, 200.0, 15.0],
            "air": [20.0, 20.0, 20.0, -300.0, 20.0],
        }
    )
    told = looked.reasons()
    assert [text.split(" x ")[0] for text in told] == ["2", "1", "1", "1", "1"]
    assert "below 18 %" in told[0]
    assert "CO" in told[1]
    assert "temperature is no reading" in told[2]
    assert "colder" in told[3]
    assert "doubtful" in told[4]


def test_a_single_reading_is_told_without_a_number():
    (told,) = look_over({"o2": 16.0}).reasons()
    assert told.startswith("O2 above 15 %")


def test_notes_stand_beside_their_reading():
    notes = look_over({"o2": [5.0, 16.0, 20.0], "stack": [100.0, 10.0, 100.0], "air": 20.0}).notes()
    assert notes[0] == ""
    assert "colder" in notes[1]
    assert "doubtful" in notes[1]
    assert notes[2].startswith("O2 is no reading")
