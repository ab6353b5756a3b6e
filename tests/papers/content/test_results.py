import dataclasses

from flueproof.papers.content.results import pairs_of, place_in_words, result_pictures, results_content


def test_as_found_and_as_left_of_one_point_become_one_row(judgement):
    pairs = pairs_of(judgement.points)
    assert len(pairs) == 6
    assert sum(pair.found is not None and pair.left is not None for pair in pairs) == 5
    assert all(pair.found is None or pair.left is None or pair.found.channel == pair.left.channel for pair in pairs)


def test_every_point_is_in_exactly_one_pair(judgement):
    pairs = pairs_of(judgement.points)
    seen = [id(point) for pair in pairs for point in (pair.found, pair.left) if point is not None]
    assert sorted(seen) == sorted(id(point) for point in judgement.points)


def test_another_bottle_or_place_is_another_row(sample):
    found = sample.point("co", 502.0, 500.0)
    other = sample.point("co", 502.0, 500.0, phase="as-left", reference_id="cyl-new")
    inlet = sample.point("co", 502.0, 500.0, phase="as-left", feed="instrument")
    assert len(pairs_of((found, other, inlet))) == 3


def test_a_bath_that_is_a_little_off_is_still_the_same_point(sample):
    found = sample.point("stack", 199.8, 201.0)
    left = sample.point("stack", 200.3, 201.0, phase="as-left")
    (pair,) = pairs_of((found, left))
    assert (pair.found, pair.left) == (found, left)


def test_the_table_has_ready_text_in_the_shops_units(judgement, profile):
    content = results_content(judgement.points, profile, "si", {"cyl-co-500": "A"})
    co = next(group for group in content["groups"] if group["quantity"] == "CO")
    row = co["rows"][1]
    assert row["place"] == "A, tip"
    assert (row["reference"]["t"], row["found"]["limit"]["t"]) == ("502.0", "±25.1")
    assert [row["found"][key]["t"] for key in ("reading", "error", "U")] == ["447.6", "−54.4", "5.7"]
    assert (row["found"]["word"], row["left"]["word"]) == ("not conform", "conform")
    assert content["found"]
    assert content["left"]


def test_a_missing_phase_is_a_dash_and_never_blank(sample, profile):
    content = results_content((sample.point("co", 502.0, 500.0),), profile, "si", {})
    left = content["groups"][0]["rows"][0]["left"]
    assert not content["left"]
    assert {left[key]["t"] for key in ("reading", "error", "U")} == {"–"}


def test_caveats_get_numbered_notes_and_points_for_information_parentheses(sample, profile):
    points = (
        sample.point("co", 502.0, 500.0, counts=False),
        sample.point("co", 100.0, 99.0, caveat="The display cannot go lower: an upper bound."),
    )
    content = results_content(points, profile, "si", {})
    assert [note["mark"] for note in content["notes"]] == ["1"]
    counting, aside = content["groups"][0]["rows"]  # what counts stands first, whatever its reference
    assert (counting["notes"], counting["counts"], counting["found"]["word"]) == (["1"], True, "conform")
    assert (aside["notes"], aside["counts"], aside["found"]["word"]) == ([], False, "(conform)")
    assert any("not part of the statement" in remark for remark in content["remarks"])


def test_each_phase_has_its_own_limit(sample, profile):
    points = (sample.point("co", 502.0, 500.0, limit=50.2), sample.point("co", 502.0, 500.0, phase="as-left"))
    (row,) = results_content(points, profile, "si", {})["groups"][0]["rows"]
    assert (row["found"]["limit"]["t"], row["left"]["limit"]["t"]) == ("±50.2", "±25.1")


def test_where_a_point_was_tested_stands_in_words(sample):
    point = sample.point("co", 502.0, 500.0)
    assert place_in_words(point, "A") == "A, tip"
    changed = dataclasses.replace(point, feed="instrument-pinched", probe="shop", repeats=3)
    assert place_in_words(changed, "") == "inlet, pinched, shop's probe, mean of 3"


def test_one_picture_per_quantity_with_a_row_per_point(judgement, profile):
    pictures = result_pictures(judgement.points, profile, "us")
    assert [picture.title for picture in pictures] == [
        "O₂: error, %", "CO: error, ppm", "Stack temperature: error, °F", "Draft: error, inH₂O",
    ]  # fmt: skip
    assert [len(picture.rows) for picture in pictures] == [2, 4, 3, 2]
