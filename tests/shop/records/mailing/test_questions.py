"""Questions are asked once, answered once, and the clock stands as long as one is open."""

import datetime as dt

import pytest

from flueproof.shop.records.mailing.links import make_link, open_link
from flueproof.shop.records.mailing.questions import QuestionClosedError, answer, ask, withdraw
from flueproof.shop.records.models import ClockEvent, Letter, OwnerQuestion

HOUR = dt.timedelta(hours=1)
WORDS = "The hose is not in the box. What shall we do?"


@pytest.fixture
def question(bench, job, people, now):
    return ask(job, "missing-part", "hose", WORDS, ["I send it", " ", "Go on"], True, people["counter"], now)


def clock(job):
    return list(ClockEvent.objects.filter(job=job, kind__in=("stopped", "went-on")).values_list("kind", "cause"))


def test_a_question_is_mailed_kept_and_stops_the_clock(question, job, people, now):
    assert (question.state, question.choices, question.asked_by) == ("open", ["I send it", "Go on"], people["counter"])
    (letter,) = Letter.objects.all()
    assert WORDS in letter.text
    assert "- I send it\n- Go on" in letter.text
    assert job.moments.filter(what="question", text=WORDS).count() == 1
    assert clock(job) == [("stopped", "owner")]
    assert question.history.get().history_user == people["counter"]


def test_the_same_question_is_asked_once_while_it_is_open(question, job, people, now):
    again = ask(job, "missing-part", "hose", f" {WORDS} ", [], True, people["counter"], now + HOUR)
    assert again == question
    assert Letter.objects.count() == 1


def test_a_question_can_be_asked_without_an_e_mail_and_without_stopping(bench, job, people, now):
    ask(job, "other", "", "Blue or gray?", [], False, people["counter"], now, send=False)
    assert not Letter.objects.exists()
    assert clock(job) == []


def test_an_answer_lets_the_clock_go_on_and_closes_its_links(question, job, now):
    _, address = make_link("answer", question=question, now=now, days=30)
    answer(question, "I send it", " Ada \n Quay ", None, now + HOUR)
    row = OwnerQuestion.objects.get(pk=question.pk)
    assert (row.state, row.answer, row.answered_by, row.answered_at) == (
        "answered",
        "I send it",
        "Ada Quay",
        now + HOUR,
    )
    assert clock(job) == [("stopped", "owner"), ("went-on", "owner")]
    assert open_link(address.split("/answer/")[1].strip("/"), now + HOUR).state == "withdrawn"


def test_the_clock_stands_until_the_last_question_is_answered(question, job, people, now):
    other = ask(job, "other", "", "May we open it?", [], True, people["counter"], now)
    answer(question, "I send it", "Ada", None, now + HOUR)
    assert clock(job) == [("stopped", "owner")]
    answer(other, "Yes", "Ada", None, now + 2 * HOUR)
    assert clock(job)[-1] == ("went-on", "owner")


def test_a_second_answer_is_refused_with_the_first_one(question, people, now):
    answer(question, "I send it", "Ada", None, now)
    with pytest.raises(QuestionClosedError, match="Ada answered already: “I send it”") as refused:
        answer(question, "Go on", "Eve", people["counter"], now)
    assert refused.value.question.answer == "I send it"
    assert question.job.moments.filter(what="answer").count() == 1


def test_a_question_that_was_taken_back_is_not_answered(question, people, now, job):
    withdraw(question, people["counter"], now, "found it")
    assert job.moments.get(what="question withdrawn").text.endswith("found it")
    assert clock(job)[-1] == ("went-on", "owner")
    with pytest.raises(QuestionClosedError, match="withdrawn"):
        answer(question, "I send it", "Ada", None, now)
    with pytest.raises(QuestionClosedError):
        withdraw(question, people["counter"], now)


def test_very_long_answers_are_cut_and_told(question, now):
    kept = answer(question, "a" * 90_000, "b" * 900, None, now)
    assert len(kept.answer) < 4100
    assert len(kept.answered_by) == 120
