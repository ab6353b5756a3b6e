import datetime as dt
from dataclasses import replace

import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile
from flueproof.intake.file.roster import Totals
from flueproof.intake.weighing.expecting import Expectations


@pytest.fixture
def file(today):
    """Return three owners with two analyzers each, one that called, one with a request, and one analyzer due."""
    owners = []
    for key in "abc":
        analyzers = tuple(AnalyzerOnFile(f"{key}{n}", "Hollin", "HC-200", f"{key}{n}") for n in (0, 1))
        owners.append(OwnerOnFile(key, (key,), analyzers=analyzers))
    owners[0] = replace(owners[0], called_on=today - dt.timedelta(days=3))
    owners[1] = replace(owners[1], requests=(OpenRequest(1, today, "b0"),))
    due = replace(owners[2].analyzers[0], next_due=today + dt.timedelta(days=10))
    owners[2] = replace(owners[2], analyzers=(due, owners[2].analyzers[1]))
    return owners


@pytest.fixture
def expected(today):
    return Expectations(Totals(3, 0, 6, {("Hollin", "HC-200"): 6}, 1, 1, {10: 1}), today, DEFAULT)


def test_all_that_is_expected_adds_up(file, expected):
    known = sum(expected.known(owner, analyzer).prior for owner in file for analyzer in owner.analyzers)
    new = sum(expected.new(owner).prior for owner in file)
    # One in twenty requests is for another analyzer than it names; requests name no new one here.
    assert known == pytest.approx(DEFAULT.known * (1 - DEFAULT.asked * 0.05))
    assert new == pytest.approx(DEFAULT.new * (1 - DEFAULT.new_asked))


def test_request_call_and_due_day_lift_their_analyzers_and_say_so(file, expected):
    usual = expected.known(file[2], file[2].analyzers[1]).prior
    for owner, place, clue in ((0, 0, "call"), (1, 0, "request"), (2, 0, "due")):
        found = expected.known(file[owner], file[owner].analyzers[place])
        assert found.prior > usual
        assert [reason.clue for reason in found.reasons()] == [clue]
        assert found.reasons()[0].weight > 0


def test_a_request_for_one_analyzer_does_not_lift_the_other(file, expected):
    assert expected.known(file[1], file[1].analyzers[1]).reasons() == ()


def test_a_request_without_an_analyzer_lifts_all_of_the_owner_and_a_new_one(file, expected, today):
    owner = replace(file[1], requests=(OpenRequest(1, today),))
    first, second = (expected.known(owner, analyzer).prior for analyzer in owner.analyzers)
    assert first == second > expected.known(file[2], file[2].analyzers[1]).prior
    assert expected.new(owner).prior > expected.new(file[2]).prior


def test_old_calls_are_forgotten(file, expected, today):
    owner = replace(file[0], called_on=today - dt.timedelta(days=15))
    assert expected.known(owner, owner.analyzers[0]).reasons() == ()


def test_an_analyzer_that_is_in_the_shop_already_hardly_comes_once_more(file, expected):
    usual = file[1].analyzers[0]
    here = expected.known(file[1], replace(usual, here_as="J-2026-00007"))
    assert here.prior == pytest.approx(DEFAULT.again * expected.known(file[1], usual).prior)
    assert here.reasons()[-1].words == "it is here already, as J-2026-00007"
    assert here.reasons()[-1].strength == "against"
