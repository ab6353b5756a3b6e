"""Every kind of broken record is refused with its exact path, what is wrong and what to do."""

import json

import pytest

GAS = ("references", "cyl-co-500")
CO = (*GAS, "components", "co")
READING = ("steps", 2, "readings", 1)


def put(value, *place):
    """Return a breaker that sets the value at a place."""

    def breaker(tree):
        *above, last = place
        node = tree
        for key in above:
            node = node[key]
        node[last] = value

    return breaker


def drop(*place):
    def breaker(tree):
        *above, last = place
        node = tree
        for key in above:
            node = node[key]
        del node[last]

    return breaker


def rename(new, *place):
    def breaker(tree):
        *above, last = place
        node = tree
        for key in above:
            node = node[key]
        node[new] = node.pop(last)

    return breaker


def both(*breakers):
    def breaker(tree):
        for one in breakers:
            one(tree)

    return breaker


# name: (breaker, exact path, a word of the message, a word of the remedy)
BROKEN = {
    # missing
    "no format": (drop("format"), "$.format", "missing", "flueproof-bench-record/1"),
    "no job": (drop("job"), "$.job", "'job' is missing", "number of the job"),
    "no shop": (drop("shop"), "$.shop", "'shop' is missing", "address"),
    "no owner's name": (drop("owner", "name"), "$.owner.name", "missing", "name of the owner"),
    "no order": (drop("order"), "$.order", "missing", "ordered"),
    "no service": (drop("order", "service"), "$.order.service", "missing", "verify"),
    "no day received": (drop("received", "date"), "$.received.date", "missing", "day"),
    "no serial": (drop("analyzer", "serial"), "$.analyzer.serial", "missing", "serial number"),
    "no profile": (drop("analyzer", "profile"), "$.analyzer.profile", "missing", "profile"),
    "no references": (drop("references"), "$.references", "missing", "compared"),
    "no certificate": (drop(*GAS, "certificate"), "$.references['cyl-co-500'].certificate", "missing", "certificate"),
    "no last day of a gas": (drop(*GAS, "expires"), "$.references['cyl-co-500'].expires", "missing", "last day"),
    "no day of next calibration": (drop("references", "mano-1", "due"), "$.references['mano-1'].due", "missing", "day"),
    "no steps key": (drop("steps"), "$.steps", "missing", "order"),
    "no steps in it": (put([], "steps"), "$.steps", "no steps", "order"),
    "no step id": (drop("steps", 2, "id"), "$.steps[2].id", "missing", "once in a record"),
    "no time": (drop("steps", 3, "at"), "$.steps[3].at", "missing", "offset"),
    "nobody did it": (drop("steps", 3, "by"), "$.steps[3].by", "missing", "who"),
    "no kind of step": (drop("steps", 2, "kind"), "$.steps[2].kind", "missing", "test-gas"),
    "no phase": (drop("steps", 2, "phase"), "$.steps[2].phase", "missing", "as-found"),
    "no path": (drop("steps", 2, "path"), "$.steps[2].path", "missing", "gas goes in"),
    "no display step": (drop(*READING, "step"), "$.steps[2].readings[1].step", "missing", "display step"),
    "no unit": (drop(*READING, "unit"), "$.steps[2].readings[1].unit", "missing", "unit"),
    "no reference value": (drop("steps", 6, "reference_value"), "$.steps[6].reference_value", "missing", "thermometer"),
    "no reason of a strike": (drop("steps", 10, "why"), "$.steps[10].why", "missing", "why"),
    "no vacuum times": (drop("steps", 5, "readings", 0, "t_s"), "$.steps[5].readings[0].t_s", "two looks", "t_s"),
    # misspelt or unknown
    "misspelt format key": (rename("formt", "format"), "$.format", "missing", "'formt'"),
    "misspelt key at the top": (rename("refrences", "references"), "$.refrences", "not known", "'references'"),
    "misspelt key in a step": (
        rename("refrence", "steps", 2, "reference"),
        "$.steps[2].refrence",
        "not known",
        "'reference'",
    ),
    "misspelt kind key": (rename("knd", "steps", 2, "kind"), "$.steps[2].knd", "not known", "'kind'"),
    "misspelt optional key": (
        rename("humidity", "steps", 0, "humidity_pct"),
        "$.steps[0].humidity",
        "not known",
        "'humidity_pct'",
    ),
    "misspelt key in a component": (
        rename("expandedUncertainty", *CO, "expanded_uncertainty"),
        "$.references['cyl-co-500'].components.co.expandedUncertainty",
        "not known",
        "'expanded_uncertainty'",
    ),
    "key of another step": (put("s1", "steps", 2, "strikes"), "$.steps[2].strikes", "not known", "gas_on_s"),
    "key that needs quoting": (put(1, "owner", "it's new"), "$.owner['it\\'s new']", "not known", "address"),
    "unknown kind of step": (put("testgas", "steps", 2, "kind"), "$.steps[2].kind", "'testgas'", "'test-gas'"),
    "unknown kind of reference": (
        put("barometer", "references", "mano-1", "kind"),
        "$.references['mano-1'].kind",
        "'barometer'",
        "'manometer'",
    ),
    "unknown phase": (put("as found", "steps", 2, "phase"), "$.steps[2].phase", "as-left", "'as-found'"),
    "unknown place of the gas": (
        put("nozzle", "steps", 2, "path", "feed"),
        "$.steps[2].path.feed",
        "after-trap",
        "tip",
    ),
    "unknown owner of the probe": (
        put("theirs", "steps", 2, "path", "probe"),
        "$.steps[2].path.probe",
        "owner",
        "shop",
    ),
    "unknown gas": (put({}, *GAS, "components", "xe"), "$.references['cyl-co-500'].components.xe", "'xe'", "co"),
    "unknown service": (put("calibrate", "order", "service"), "$.order.service", "verify-adjust", "verify"),
    "unknown rule": (put("guarded", "order", "decision_rule"), "$.order.decision_rule", "risk-2", "'guarded-U'"),
    "unknown limits": (put("standard", "order", "limits"), "$.order.limits", "'standard'", "'profile'"),
    "unknown unit": (put("PPM", *READING, "unit"), "$.steps[2].readings[1].unit", "'PPM'", "ppm"),
    "unknown pump state": (put("stops", "steps", 4, "pump"), "$.steps[4].pump", "runs-on", "stalls"),
    "unit of another quantity": (
        put("ppm", "steps", 6, "readings", 0, "unit"),
        "$.steps[6].readings[0].unit",
        "temperature",
        "degF",
    ),
    "thermometer in Pa": (
        put("Pa", "references", "therm-1", "unit"),
        "$.references['therm-1'].unit",
        "temperature",
        "degC",
    ),
    # wrong type
    "number in quotes": (put("41", "steps", 0, "humidity_pct"), "$.steps[0].humidity_pct", "'41'", "humidity"),
    "true for a number": (put(True, "steps", 0, "humidity_pct"), "$.steps[0].humidity_pct", "true", "humidity"),
    "text for a truth value": (
        put("yes", "order", "accredited"),
        "$.order.accredited",
        "true or false",
        "accreditation",
    ),
    "fraction for a count": (
        put(1.5, "steps", 2, "application"),
        "$.steps[2].application",
        "whole number",
        "application",
    ),
    "number for a text": (
        put(1, "analyzer", "profile", "version"),
        "$.analyzer.profile.version",
        "text in quotes",
        "as text",
    ),
    "null for an object": (put(None, "owner"), "$.owner", "null", "name"),
    "list for an object": (put([], "references", "mano-1"), "$.references['mano-1']", "a list", "kind"),
    "text for a step": (put("gas", "steps", 1), "$.steps[1]", "'gas'", "kind"),
    "object for a list": (
        put({}, "steps", 2, "readings"),
        "$.steps[2].readings",
        "an object",
        "one reading per channel",
    ),
    "bare number for a quantity": (put(22.4, "steps", 0, "air"), "$.steps[0].air", "22.4", "unit, value"),
    "text for a list": (put("1 Harrow Lane", "shop", "address"), "$.shop.address", "a list", "one line an item"),
    "bare shown value": (put(486, *READING, "shown"), "$.steps[2].readings[1].shown", "a list", "square brackets"),
    "null shown": (put(None, *READING, "shown", 2), "$.steps[2].readings[1].shown[2]", "null", "----"),
    "true shown": (put(True, *READING, "shown", 2), "$.steps[2].readings[1].shown[2]", "true", "number shown"),
    "shown number in quotes": (
        put("468", *READING, "shown", 2),
        "$.steps[2].readings[1].shown[2]",
        "'468'",
        "without quotes",
    ),
    "shown decimal comma": (
        put("20,9", *READING, "shown", 2),
        "$.steps[2].readings[1].shown[2]",
        "'20,9'",
        "decimal point",
    ),
    "limits without what": (
        put({"co": {"percent": 5}}, "order", "limits"),
        "$.order.limits.co.of",
        "of what",
        "full-scale",
    ),
    "misspelt limit": (
        put({"co": {"percent": 5, "off": "reading"}}, "order", "limits"),
        "$.order.limits.co.off",
        "not known",
        "'of'",
    ),
    "short hash": (put("abc", "analyzer", "profile", "sha256"), "$.analyzer.profile.sha256", "'abc'", "64"),
    # not finite, out of range
    "NaN humidity": (put(float("nan"), "steps", 0, "humidity_pct"), "$.steps[0].humidity_pct", "NaN", "humidity"),
    "NaN shown": (put(float("nan"), *READING, "shown", 2), "$.steps[2].readings[1].shown[2]", "NaN", "OVER"),
    "NaN in quotes": (put("NaN", *READING, "shown", 2), "$.steps[2].readings[1].shown[2]", "'NaN'", "without quotes"),
    "infinite shown": (put(float("-inf"), *READING, "shown", 0), "$.steps[2].readings[1].shown[0]", "Infinity", "OVER"),
    "huge shown": (put(10**400, *READING, "shown", 0), "$.steps[2].readings[1].shown[0]", "too large", "number"),
    "infinite time": (put(float("inf"), *READING, "t_s", 4), "$.steps[2].readings[1].t_s[4]", "Infinity", "seconds"),
    "NaN reference value": (
        put(float("nan"), "steps", 6, "reference_value", "value"),
        "$.steps[6].reference_value.value",
        "NaN",
        "absolute zero",
    ),
    "humidity over 100": (put(141, "steps", 0, "humidity_pct"), "$.steps[0].humidity_pct", "at most 100", "0 to 100"),
    "pressure in inches": (put(29.9, "steps", 0, "pressure_hpa"), "$.steps[0].pressure_hpa", "29.9", "hPa"),
    "below absolute zero": (
        put(-300, "steps", 6, "reference_value", "value"),
        "$.steps[6].reference_value.value",
        "absolute zero",
        "unit",
    ),
    "display step of 0": (put(0, *READING, "step"), "$.steps[2].readings[1].step", "above 0", "display step"),
    "supply of 0": (put(0, "steps", 2, "feed", "supply_l_min"), "$.steps[2].feed.supply_l_min", "above 0", "l/min"),
    "negative gauge": (
        put(-5, "steps", 2, "feed", "gauge_kpa_before"),
        "$.steps[2].feed.gauge_kpa_before",
        "at least 0",
        "kPa",
    ),
    "application 0": (put(0, "steps", 2, "application"), "$.steps[2].application", "at least 1", "from 1"),
    "no months": (put(0, "order", "due", "months"), "$.order.due.months", "at least 1", "months"),
    # uncertainties and certificates
    "negative uncertainty": (
        put(-5.0, *CO, "expanded_uncertainty"),
        "$.references['cyl-co-500'].components.co.expanded_uncertainty",
        "-5.0",
        "certificate",
    ),
    "zero uncertainty": (
        put(0, "references", "mano-1", "expanded_uncertainty"),
        "$.references['mano-1'].expanded_uncertainty",
        "above 0",
        "certificate",
    ),
    "k of 0": (put(0, *CO, "k"), "$.references['cyl-co-500'].components.co.k", "above 0", "mostly 2"),
    "no k": (
        drop(*CO, "k"),
        "$.references['cyl-co-500'].components.co.k",
        "without its coverage factor",
        "certificate",
    ),
    "no uncertainty": (
        both(drop(*CO, "expanded_uncertainty"), drop(*CO, "k")),
        "$.references['cyl-co-500'].components.co",
        "no uncertainty",
        "stated_accuracy_pct",
    ),
    "two uncertainties": (
        put(2.0, *CO, "stated_accuracy_pct"),
        "$.references['cyl-co-500'].components.co",
        "both",
        "Keep the one",
    ),
    "k beside an accuracy": (
        put(2.0, "references", "can-co-100", "components", "co", "k"),
        "$.references['can-co-100'].components.co.k",
        "no meaning",
        "Remove k",
    ),
    "accuracy of nothing": (
        put(0, "references", "can-co-100", "components", "co", "value"),
        "$.references['can-co-100'].components.co.stated_accuracy_pct",
        "says nothing",
        "expanded_uncertainty",
    ),
    "negative concentration": (
        put(-1, *CO, "value"),
        "$.references['cyl-co-500'].components.co.value",
        "at least 0",
        "0 or more",
    ),
    "more than the whole gas": (
        both(put("%", *CO, "unit"), put(502, *CO, "value")),
        "$.references['cyl-co-500'].components.co.value",
        "more than the whole",
        "unit",
    ),
    "no component": (put({}, *GAS, "components"), "$.references['cyl-co-500'].components", "empty", "zero gas"),
    "expired before certified": (
        put("2025-02-01", *GAS, "expires"),
        "$.references['cyl-co-500'].expires",
        "before it was certified",
        "both dates",
    ),
    # empty, unordered, uneven
    "empty trace": (
        both(put([], *READING, "shown"), put([], *READING, "t_s")),
        "$.steps[2].readings[1].t_s",
        "empty",
        "at least one look",
    ),
    "nothing shown": (put([], *READING, "shown"), "$.steps[2].readings[1].shown", "empty", "at least one look"),
    "no readings": (put([], "steps", 2, "readings"), "$.steps[2].readings", "empty", "one reading per channel"),
    "time going back": (
        put([0, 30, 90, 60, 120], *READING, "t_s"),
        "$.steps[2].readings[1].t_s[3]",
        "from 90 s to 60 s",
        "order",
    ),
    "negative time": (put(-1, *READING, "t_s", 0), "$.steps[2].readings[1].t_s[0]", "before the step's start", "start"),
    "too few times": (
        put([0, 30], *READING, "t_s"),
        "$.steps[2].readings[1].t_s",
        "2 times stand beside 5",
        "one time per",
    ),
    "channel read twice": (
        put("o2", *READING, "channel"),
        "$.steps[2].readings[1].channel",
        "twice",
        "second application",
    ),
    "another channel read": (put("air", "steps", 6, "channel"), "$.steps[6].channel", "'stack'", "same channel"),
    "gas on after the end": (
        put(500, "steps", 2, "gas_on_s"),
        "$.steps[2].gas_on_s",
        "after the last look",
        "gas_on_s",
    ),
    "blank text shown": (put("  ", *READING, "shown", 1), "$.steps[2].readings[1].shown[1]", "printable", "----"),
    "room that says nothing": (
        put({"id": "s1", "at": "2026-11-03T09:12:00Z", "by": "R. Vale", "kind": "room"}, "steps", 0),
        "$.steps[0]",
        "nothing about the room",
        "humidity_pct",
    ),
    # times and dates
    "time without offset": (put("2026-11-03T09:40:00", "steps", 2, "at"), "$.steps[2].at", "no offset", "-05:00"),
    "time that does not exist": (
        put("2026-11-31T09:40:00Z", "steps", 2, "at"),
        "$.steps[2].at",
        "does not exist",
        "day",
    ),
    "words for a time": (put("this morning", "steps", 2, "at"), "$.steps[2].at", "no ISO 8601", "2026-11-03T"),
    "number for a time": (put(1793700000, "steps", 2, "at"), "$.steps[2].at", "text in quotes", "2026-11-03T"),
    "steps out of order": (
        put("2026-11-03T09:00:00-05:00", "steps", 2, "at"),
        "$.steps[2].at",
        "which is later",
        "strike",
    ),
    "date that does not exist": (put("2027-02-29", "received", "date"), "$.received.date", "does not exist", "date"),
    "date the other way round": (put("11/02/2026", "received", "date"), "$.received.date", "no date", "2026-11-03"),
    "words for a month": (
        put("June 2024", "analyzer", "cells", 0, "made"),
        "$.analyzer.cells[0].made",
        "neither",
        "2026-11",
    ),
    # what must agree
    "unknown reference": (
        put("cyl-co-600", "steps", 2, "reference"),
        "$.steps[2].reference",
        "no reference 'cyl-co-600'",
        "'cyl-co-500'",
    ),
    "adjusted on an unknown gas": (
        put("x", "steps", 8, "reference"),
        "$.steps[8].reference",
        "no reference 'x'",
        "'can-co-100'",
    ),
    "manometer for a temperature": (
        put("mano-1", "steps", 6, "reference"),
        "$.steps[6].reference",
        "kind thermometer",
        "thermometer",
    ),
    "thermometer for a gas": (
        put("therm-1", "steps", 2, "reference"),
        "$.steps[2].reference",
        "kind test-gas",
        "test-gas",
    ),
    "gas for a pressure": (
        put("cyl-co-500", "steps", 7, "reference"),
        "$.steps[7].reference",
        "kind manometer",
        "manometer",
    ),
    "step id twice": (put("s3", "steps", 3, "id"), "$.steps[3].id", "$.steps[2]", "of its own"),
    "unknown step struck": (put("s99", "steps", 10, "strikes"), "$.steps[10].strikes", "no step 's99'", "earlier"),
    "strike of itself": (put("s10", "steps", 10, "strikes"), "$.steps[10].strikes", "does not stand before", "earlier"),
    "r under another rule": (put(0.5, "order", "r"), "$.order.r", "no meaning", "guarded-rU"),
    "no r under its rule": (put("guarded-rU", "order", "decision_rule"), "$.order.r", "without r", "0.5"),
    # texts
    "empty job": (put("", "job"), "$.job", "empty", "number of the job"),
    "blank job": (put("   ", "job"), "$.job", "blank", "Write it"),
    "unprintable job": (put("J\u0007", "job"), "$.job", "U+0007", "Remove"),
    "job on two lines": (put("J\n1", "job"), "$.job", "line break", "one line"),
    "text turned round": (put("\u202eabc", "owner", "name"), "$.owner.name", "U+202E", "Remove"),
    "half a character": (put("\ud800", "job"), "$.job", "half of a character", "number of the job"),
    "endless job": (put("J" * 500, "job"), "$.job", "500 characters", "Shorten"),
    # versions
    "newer format": (put("flueproof-bench-record/2", "format"), "$.format", "version 2", "Update"),
    "another format": (
        put("flueproof-judgement/1", "format"),
        "$.format",
        "flueproof-judgement/1",
        "flueproof-bench-record/1",
    ),
    "number for a format": (put(1, "format"), "$.format", "no format", "flueproof-bench-record/1"),
}


@pytest.mark.parametrize("kind", BROKEN)
def test_a_broken_record_is_refused_with_path_message_and_remedy(kind, good, refused):
    breaker, path, message, remedy = BROKEN[kind]
    breaker(good)
    error = refused(good)
    assert error.path == path
    assert message in error.message
    assert remedy in error.remedy


def test_an_as_found_step_after_an_adjustment_is_refused(good, refused, step):
    late = step("plug-test", phase="as-found", path={"feed": "instrument"}, pump="stalls")
    good["steps"].append(late)
    error = refused(good)
    assert error.path == "$.steps[11].phase"
    assert "'s8' (adjust)" in error.message
    assert "as-left" in error.remedy


def test_a_refusal_speaks_in_whole_sentences(good, refused):
    for breaker, *_ in BROKEN.values():
        tree = json.loads(json.dumps(good))
        breaker(tree)
        error = refused(tree)
        assert error.message.endswith(".")
        assert error.remedy.rstrip(")").endswith((".", "?"))
        assert len(error.message) + len(error.remedy) < 600


def test_the_reader_leaves_the_file_as_it_was(tmp_path, good_bytes, refused):
    path = tmp_path / "broken.json"
    path.write_bytes(good_bytes.replace(b'"as-found"', b'"asfound"'))
    before = (path.read_bytes(), path.stat().st_mtime_ns, sorted(tmp_path.iterdir()))
    refused(path.read_bytes())
    assert (path.read_bytes(), path.stat().st_mtime_ns, sorted(tmp_path.iterdir())) == before
