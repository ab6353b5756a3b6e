def test_a_strike_says_why(good, read):
    assert read(good).steps[10].why == "hose was kinked"


def test_a_photo_may_say_what_it_shows(good, read, step):
    good["steps"].append(step("photo", file="case.jpg", text="crack at the hinge"))
    assert read(good).steps[-1].text == "crack at the hinge"


def test_a_note_may_run_over_several_lines(good, read, step):
    good["steps"].append(step("note", text="owner called:\nneeds it on Friday"))
    assert "\n" in read(good).steps[-1].text
