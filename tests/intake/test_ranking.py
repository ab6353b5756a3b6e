import datetime as dt

import pytest

from flueproof.intake.clues import Clues
from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.ranking import rank
from flueproof.intake.recognition import Reason


@pytest.fixture
def answer(roster, today):
    """Return the ranking of clues."""
    return lambda **clues: rank(Clues(**clues), roster, today)


def first(answer):
    return None if answer.is_stranger else answer.owners[0].owner.key


def weights(candidate):
    return {reason.clue: reason.weight for reason in candidate.reasons}


def test_a_serial_as_on_file_is_enough(answer):
    found = answer(serial="2105813", make="Hollin")
    assert found.best.analyzer.serial == "2105813"
    assert found.owners[0].probability > 0.8


@pytest.mark.parametrize("read", ["21O58I3", "2105?13", "210581", "05813", "21*813", "2150813", "210583", "21 05-813"])
def test_a_serial_misread_in_any_usual_way_leads_to_its_analyzer(answer, read):
    found = answer(serial=read, model="HC-200", name="Marsh")
    assert (found.best.owner.key, found.best.analyzer.serial) == ("marsh", "2105813")


def test_the_sender_decides_between_serials_that_differ_by_one_character(answer):
    assert first(answer(serial="210581?", name="Vale Mechanical")) == "vale"
    assert first(answer(serial="210581?", name="Marsh Heating")) == "marsh"


def test_where_the_serial_cannot_be_read_the_sender_is_enough(answer):
    found = answer(name="Vale Mechancal", phone="015 200 4417")
    assert first(found) == "vale"
    assert found.owners[0].probability > 0.9


def test_of_firms_with_one_surname_the_trade_decides(answer):
    for name, ranked in (("Marsh Oil", ["marsh2", "marsh"]), ("Marsh Heating", ["marsh", "marsh2"])):
        keys = [share.owner.key for share in answer(name=name).owners]
        assert [key for key in keys if key in ranked] == ranked


def test_an_unknown_name_from_an_unknown_town_is_a_stranger(answer):
    found = answer(serial="44820193", make="Brightwell", name="Quilford Climate", postcode="99001", town="Quilton")
    assert found.is_stranger
    assert found.stranger > 0.8
    assert found.in_one_sentence.startswith(("Likely none on file", "Very likely none on file"))


def test_a_known_owner_may_send_a_new_analyzer(answer):
    found = answer(serial="44820193", make="Brightwell", name="Vale Mechanical", phone="015-200-4417")
    assert (found.best.owner.key, found.best.kind, found.best.analyzer) == ("vale", "new", None)


def test_an_open_request_lifts_its_analyzer_over_the_owners_other_one(answer):
    found = answer(name="Reed Boiler Service", model="HC-400")
    known = {row.analyzer.serial: row.probability for row in found.candidates if row.kind == "known"}
    assert known["1805822"] > 3 * known["1805999"]
    assert "open request since 20 November 2026" in [reason.words for reason in found.best.reasons]


def test_the_sender_of_a_request_who_is_no_owner_yet_is_found_by_it(answer):
    found = answer(serial="229900?", name="L. Wren")
    assert found.best.kind == "requested"
    assert not found.best.owner.on_file
    assert found.best.request.serial == "2299001"


def test_an_analyzer_sold_on_is_told_as_such(answer):
    found = answer(serial="2204456", model="HC-210", name="Vale Mechanical", phone="015-200-4417")
    row = next(row for row in found.candidates if row.kind == "sold-on")
    assert (row.owner.key, row.analyzer.serial) == ("vale", "2204456")
    assert any("Marsh & Sons Oil Service" in reason.words for reason in row.reasons)


def test_all_probabilities_add_up_to_one(roster, today):
    for clues in (Clues(), Clues(serial="2105813"), Clues(name="Marsh"), Clues(town="Harford", model="HC-400")):
        found = rank(clues, roster, today)
        shown = sum(share.probability for share in found.owners) + found.stranger + found.other
        assert shown <= 1 + 1e-9
        assert shown > 0.5 or clues.empty
        assert all(0 <= row.probability <= 1 for row in found.candidates)


def test_each_clue_that_was_read_gives_its_reason(answer):
    found = answer(serial="2105818", model="HC-200", name="Vale", town="Millbridge", phone="015-200-4417")
    assert {"serial", "make", "name", "address", "phone", "call"} <= set(weights(found.best))
    assert all(isinstance(reason, Reason) and reason.words for reason in found.best.reasons)
    strengths = [abs(reason.weight) for reason in found.best.reasons]
    assert strengths == sorted(strengths, reverse=True)


def test_nothing_typed_gives_what_is_expected_anyway(answer):
    found = answer()
    assert {share.owner.key for share in found.owners[:2]} == {"reed", "vale"}
    assert 0.05 < found.stranger < 0.3


def test_a_moment_is_taken_as_its_day(roster, today):
    clues = Clues(serial="210581?")
    moment = dt.datetime.combine(today, dt.time(14), dt.UTC)
    assert rank(clues, roster, moment) == rank(clues, roster, today)


@pytest.mark.parametrize("text", ["???", "***", "—", "💧", "ß" * 200, "0" * 200, "a@b@c", "'; --", "<b>"])
def test_odd_text_is_no_error(roster, today, text):
    for clue in Clues.__dataclass_fields__:
        found = rank(Clues(**{clue: text}), roster, today)
        assert 0 <= found.stranger <= 1


def test_an_empty_file_knows_strangers_only(today):
    found = rank(Clues(serial="2105813", name="Marsh"), MemoryRoster([]), today)
    assert found.is_stranger
    assert found.best is None
    assert found.stranger == pytest.approx(1)


def test_a_due_day_near_today_speaks_for_an_analyzer(owners, today):
    from dataclasses import replace

    marsh = owners[0]
    due = replace(marsh.analyzers[1], next_due=today + dt.timedelta(days=6))
    roster = MemoryRoster([replace(marsh, analyzers=(marsh.analyzers[0], due)), *owners[1:]])
    found = rank(Clues(name="Marsh Heating"), roster, today)
    assert found.best.analyzer == due
    assert weights(found.best)["due"] > 0
