"""Bottles from options or from a record."""

import math

import pytest

from flueproof.cli.gas.bottle import bottles_of, component_of
from flueproof.cli.words.faults import Refusal
from flueproof.testgas.errors import BlendError


@pytest.mark.parametrize(
    ("text", "gas", "unit", "value", "u"),
    [
        ("co=502ppm U=5 k=2", "co", "ppm", 502.0, 2.5),
        ("co = 502 ppm, U = 6, k = 3", "co", "ppm", 502.0, 2.0),
        ("o2=4% U=0.04", "o2", "%", 4.0, 0.02),
        ("co=100ppm acc=2%", "co", "ppm", 100.0, 2.0 / math.sqrt(3.0)),
        ("no=1e3ppm acc=1.5 %", "no", "ppm", 1000.0, 15.0 / math.sqrt(3.0)),
    ],
)
def test_a_component_is_read_as_certificates_state_it(text, gas, unit, value, u):
    one = component_of(text)
    assert (one.gas, one.unit, one.value) == (gas, unit, value)
    assert one.u == pytest.approx(u, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["", "co", "co=502", "co=502ppm", "co=-5ppm U=1", "co=502ppm U=5 k=2 x", "co=5ppb U=1"]
)
def test_another_form_is_refused_with_the_pattern(text):
    with pytest.raises(Refusal) as caught:
        component_of(text)
    assert "co=502ppm U=5 k=2" in caught.value.fault.remedy


@pytest.mark.parametrize("text", ["xe=5ppm U=1", "co=5ppm U=1 k=0", "co=5ppm acc=500%", "co=200% U=1"])
def test_what_no_gas_can_be_is_refused(text):
    with pytest.raises(BlendError):
        component_of(text)


def test_a_record_gives_all_its_test_gases(demo_files):
    bottles = bottles_of(demo_files["healthy"], (), "nitrogen")
    assert [one.name for one in bottles] == ["cyl-co-500", "can-co-100"]
    assert all(one.certificate.expires for one in bottles)


@pytest.mark.parametrize("components", [(), ("co=5ppm U=1", "co=6ppm U=1")])
def test_no_bottle_or_one_component_twice_is_refused(components):
    with pytest.raises(Refusal):
        bottles_of(None, components, "nitrogen")


def test_a_record_and_a_description_do_not_go_together(demo_files):
    with pytest.raises(Refusal):
        bottles_of(demo_files["healthy"], ("co=5ppm U=1",), "nitrogen")
