"""Work lists: the page and the PDF, for everybody or one person, for one day or all."""

import pytest

from flueproof.shop.promises.presenters.work_list import sheets_of, work_list_of
from flueproof.shop.records.models import Plan, Shop
from shop.planned import MONDAY, make_job

LIST, FILE = "/promises/work-list", "/promises/work-list.pdf"


def text(answer):
    return answer.content.decode()


@pytest.fixture
def planned(counter_client, bench):
    counter_client.post("/promises/anew")
    return bench


def test_one_person_or_everybody_one_day_or_all(technician_client, planned):
    page = text(technician_client.get(LIST))
    assert "R. Vale: Monday 30 November 2026" in page
    assert "S. Alder: Monday 30 November 2026" in page
    alone = text(technician_client.get(f"{LIST}?who=technician&day=2026-11-30"))
    assert "R. Vale: Monday" in alone
    assert "S. Alder: Monday" not in alone
    assert '<option value="technician" selected>' in alone
    empty = text(technician_client.get(f"{LIST}?day=2026-12-04"))
    assert "Nothing is planned for them then." in empty


def test_an_unknown_person_and_a_day_that_is_none_give_all(technician_client, planned):
    page = text(technician_client.get(f"{LIST}?who=nobody&day=soon"))
    assert "R. Vale: Monday" in page
    assert "S. Alder: Monday" in page


@pytest.mark.parametrize("paper", ["letter", "a4", "", "a5"])
def test_the_file_is_a_pdf_on_the_paper_asked_for_or_the_shops(technician_client, planned, paper):
    answer = technician_client.get(FILE, {"paper": paper, "day": "2026-11-30"})
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == 'inline; filename="work-list-2026-11-30.pdf"'
    assert answer.content.startswith(b"%PDF")


def test_the_sheets_are_those_of_the_page(planned):
    lists = work_list_of(MONDAY)
    sheets = sheets_of(lists, Shop.here(), "a4", MONDAY)
    assert [(page.who, page.day) for page in sheets.pages] == [(one.who, one.day) for one in lists]
    first, line = lists[0].entries[0], sheets.pages[0].lines[0]
    job = next(job for job in planned if job.number == first.job)
    assert (line.at, line.serial) == (first.start, first.serial) == ("09:00", job.analyzer.serial)
    assert line.item == f"Orrin 5, {job.owner.name}, {job.number}"
    assert line.takes.startswith("10 min, then it waits 15 min")
    assert sheets.paper == "a4"
    assert sheets_of(lists, Shop.here(), "a5", MONDAY).paper == "letter"


def test_steps_that_follow_at_once_in_one_place_are_one_line(planned):
    words = [entry.words for one in work_list_of(MONDAY) for entry in one.entries]
    assert len(words) <= 15
    assert all(words)


def test_nothing_planned_says_so_and_prints_nothing(technician_client, shop):
    assert "Nothing is planned for anybody" in text(technician_client.get(LIST))
    answer = technician_client.get(FILE, follow=True)
    assert answer.redirect_chain == [(LIST, 302)]
    assert "there is nothing to print" in text(answer)
    assert not Plan.objects.exists()


def test_a_late_job_is_marked(counter_client, bench, owner, people):
    make_job(owner, 4, promised_on=(MONDAY.replace(day=26)).date())
    counter_client.post("/promises/anew")
    late = [entry.job for one in work_list_of(MONDAY) for entry in one.entries if entry.late]
    assert set(late) == {"J-2026-00004"}
    assert "◆ late" in text(counter_client.get(LIST))


def test_strangers_and_wrong_methods_are_refused(client, owner_client, technician_client, planned):
    assert client.get(FILE).status_code == 302
    assert owner_client.get(FILE).status_code == 403
    assert technician_client.post(FILE).status_code == 405
