import pytest

LIMITS = {
    "co": {"unit": "ppm", "absolute": 10.0, "percent": 5.0, "of": "reference", "combine": "larger"},
    "o2": {"unit": "%", "absolute": 0.3},
}


def test_the_owners_own_limits_are_read_by_channel(good, read):
    good["order"]["limits"] = LIMITS
    limits = read(good).order.limits
    assert limits["co"].percent == 5.0
    assert limits["o2"].of is None


@pytest.mark.parametrize(
    ("limits", "path"),
    [
        ({}, "$.order.limits"),
        ({"co": {}}, "$.order.limits.co"),
        ({"co": {"absolute": 10}}, "$.order.limits.co.unit"),
        ({"co": {"absolute": -10, "unit": "ppm"}}, "$.order.limits.co.absolute"),
        ({"co": {"percent": 5}}, "$.order.limits.co.of"),
        ({"co": {"percent": 5, "of": "span"}}, "$.order.limits.co.of"),
        ({"co": 5}, "$.order.limits.co"),
        (5, "$.order.limits"),
        (None, "$.order.limits"),
    ],
)
def test_limits_that_do_not_say_how_much_of_what_are_refused(limits, path, good, refused):
    good["order"]["limits"] = limits
    assert refused(good).path == path


@pytest.mark.parametrize("rule", ["simple", "guarded-U", "risk-2", "specific-2"])
def test_every_rule_without_a_factor_is_read(rule, good, read):
    good["order"]["decision_rule"] = rule
    assert read(good).order.r is None


@pytest.mark.parametrize("r", [0.1, 1])
def test_a_guard_of_a_part_of_u_takes_its_factor(r, good, read):
    good["order"].update(decision_rule="guarded-rU", r=r)
    assert read(good).order.r == r


@pytest.mark.parametrize("r", [0, -0.5, 1.5])
def test_a_factor_outside_0_to_1_is_refused(r, good, refused):
    good["order"].update(decision_rule="guarded-rU", r=r)
    assert refused(good).path == "$.order.r"


@pytest.mark.parametrize("service", ["verify", "verify-adjust", "repair", "call-first"])
def test_every_service_is_read(service, good, read):
    good["order"]["service"] = service
    assert read(good).order.service == service
