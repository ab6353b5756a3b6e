from flueproof.papers.content.references import letters_of, reference_rows, room_lines


def test_references_get_letters_in_the_order_of_their_use(record):
    assert letters_of(record) == {"cyl-co-500": "A", "can-co-100": "B", "therm-1": "C", "mano-1": "D"}


def test_a_reference_used_only_in_a_struck_step_is_not_listed(sample):
    given = sample.record_json()
    at = given["steps"][-1]["at"]
    given["steps"].append(
        {"id": "x", "at": at, "by": "R. Vale", "kind": "strike", "strikes": "s7", "why": "hose kinked"}
    )
    assert "mano-1" not in letters_of(sample.record_of(given))


def test_gas_rows_give_value_uncertainty_certificate_and_expiry(record):
    rows = reference_rows(record)
    assert rows[0]["what"] == "Cylinder C-7731, lot L-20, Gas House (invented)"
    assert rows[0]["value"] == "CO 502 ppm, U 5 ppm (k = 2); balance nitrogen"
    assert (rows[0]["certificate"], rows[0]["until"]) == ("LN-88213, 01 Feb 2026", "01 Feb 2028")
    assert "± 2 % stated, taken as rectangular" in rows[1]["value"]
    assert rows[2]["value"] == "U 0.3 °C (k = 2); source of heat u 0.4 °C"


def test_a_certificate_that_was_over_when_it_was_used_is_marked_beside_its_day(sample):
    given = sample.record_json()
    given["references"]["cyl-co-500"]["expires"] = "2026-11-02"
    rows = reference_rows(sample.record_of(given))
    assert [row["until"] for row in rows[:2]] == ["02 Nov 2026, was over", "01 Sep 2027"]


def test_the_room_is_one_value_or_a_range_in_the_shops_units(sample):
    given = sample.record_json()
    given["steps"].insert(1, {"id": "r2", "at": "2026-11-03T09:20:00-05:00", "by": "R. Vale", "kind": "room",
                              "air": {"unit": "degF", "value": 74.0}})  # fmt: skip
    lines = {line["name"]: line["value"] for line in room_lines(sample.record_of(given), "us")}
    assert lines["air temperature"] == "72.3 to 74.0 °F"
    assert lines["humidity"] == "41 % RH"
    assert lines["air pressure"] == "1008 hPa"
