"""Blends and what their certificates say."""

import math

import pytest

from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.errors import BlendError

CO = GasComponent.from_expanded("co", "ppm", 502.0, 5.0, 2.0)


def test_an_expanded_uncertainty_is_divided_by_its_k():
    assert (CO.u, CO.kind) == (2.5, "normal")
    assert CO.stated == "U = 5 ppm (k = 2) by certificate"


def test_a_stated_accuracy_is_rectangular_and_says_so():
    component = GasComponent.from_accuracy("co", "ppm", 100.0, 2.0)
    assert component.u == pytest.approx(2.0 / math.sqrt(3.0))
    assert component.kind == "rectangular"
    assert "taken as rectangular" in component.stated


def test_percent_and_ppm_are_the_same_component():
    o2 = GasComponent.from_expanded("o2", "%", 4.0, 0.04).in_unit("ppm")
    assert (o2.value, o2.u) == (pytest.approx(40_000.0), pytest.approx(200.0))
    assert o2.in_unit("%").value == pytest.approx(4.0)
    assert o2.relative_u_pct() == pytest.approx(0.5)


def test_nitrogen_holds_no_oxygen_within_a_bound_and_says_so():
    o2 = Blend({"co": CO}, "nitrogen").component("o2", "%")
    assert o2.value == 0.0
    assert o2.u == pytest.approx(0.01 / math.sqrt(3.0))
    assert "not on the certificate" in o2.stated


def test_an_air_balance_holds_the_oxygen_of_air():
    o2 = Blend({"co": CO}, "air").component("o2", "%")
    assert o2.value == pytest.approx(20.946 * (1.0 - 502e-6))


def test_what_a_blend_cannot_show_is_said():
    no = GasComponent.from_expanded("no", "ppm", 100.0, 2.0)
    assert "cannot show a leak" in Blend({"co": CO}, "air").cautions_of_use()[0]
    assert "turns into NO2" in Blend({"no": no}, "air").cautions_of_use()[0]
    o2 = GasComponent.from_expanded("o2", "%", 4.0, 0.04)
    assert Blend({"co": CO, "o2": o2}, "nitrogen").cautions_of_use() == ()


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: GasComponent.from_expanded("xe", "ppm", 1.0, 0.1), "'xe' is not known"),
        (lambda: GasComponent.from_expanded("co", "mg", 1.0, 0.1), "unit 'mg'"),
        (lambda: GasComponent.from_expanded("co", "ppm", math.nan, 0.1), "no share of a gas"),
        (lambda: GasComponent.from_expanded("o2", "%", 101.0, 0.1), "0 to 100"),
        (lambda: GasComponent.from_expanded("co", "ppm", 1.0, -0.1), "not below zero"),
        (lambda: GasComponent.from_expanded("co", "ppm", 1.0, 0.1, 0.0), "k = 0"),
        (lambda: GasComponent.from_accuracy("co", "ppm", 1.0, 0.0), "stated accuracy"),
        (lambda: CO.in_unit("mg"), "unit 'mg'"),
        (lambda: Blend({"co": CO}, "helium"), "balance 'helium'"),
        (lambda: Blend({"no": CO}, "nitrogen"), "'no' holds the values of 'co'"),
        (
            lambda: Blend({g: GasComponent.from_expanded(g, "%", 60.0, 1.0) for g in ("o2", "co2")}, "nitrogen"),
            "add up to 120",
        ),
    ],
)
def test_what_cannot_be_is_refused(make, message):
    with pytest.raises(BlendError, match=message):
        make()
