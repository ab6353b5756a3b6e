"""A figure says on which basis it stands."""

import numpy as np

from flueproof.chemistry.oxygen.constants import GERMAN
from flueproof.chemistry.stated import Basis, stated


def test_a_basis_in_words_holds_all_that_applies():
    basis = Basis("some rule", oxygen=GERMAN, moisture="dry", heat="net", reference_o2_pct=3.0, at_c=0.0)
    assert basis.in_words() == (
        "dry, at 3 % O2, air taken as 21 % O2, 0 degC and 101.325 kPa, net heating value (LHV), some rule"
    )


def test_air_free_is_told_by_its_name():
    assert Basis("practice", moisture="dry", reference_o2_pct=0.0).in_words() == "dry, air-free, practice"


def test_what_does_not_apply_is_left_out():
    assert Basis("practice").in_words() == "practice"


def test_masks_take_the_shape_of_the_value():
    figure = stated(np.ones((2, 3)), "ppm", Basis("practice"), np.array([True, False, False]))
    assert figure.doubtful.shape == figure.refused.shape == (2, 3)
    assert figure.doubtful[:, 0].all()
    assert not figure.refused.any()
