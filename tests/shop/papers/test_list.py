"""Ready to sign, and what was issued."""

import pytest
from django.urls import reverse

from flueproof.shop.records.issuing import listing
from flueproof.shop.records.issuing.listing import issued_papers
from flueproof.shop.records.models import Paper

LIST = "/papers/"


def numbers(answer):
    return [paper.number for paper, _ in answer.context["rows"]]


def test_what_waits_for_a_signature_stands_first(signer_client, visit_of, paper_of):
    paper_of("no-probe-came")
    visit = visit_of("healthy")
    visit_of("co-cell-low", state="bench")
    answer = signer_client.get(LIST)
    assert [job.number for job in answer.context["ready"]] == [visit.job.number]
    assert reverse("papers:sign", args=(visit.job.number,)) in answer.content.decode()
    assert numbers(answer) == ["FP-2026-00001"]


def test_issued_papers_come_newest_first(counter_client, paper_of):
    for name in ("healthy", "no-probe-came", "co-cell-low"):
        paper_of(name)
    assert numbers(counter_client.get(LIST)) == ["BR-2026-00001", "FP-2026-00002", "FP-2026-00001"]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("FP-2026-00002", ["FP-2026-00002"]),
        ("fp 2026 2", ["FP-2026-00002"]),
        ("fp-2", ["FP-2026-00002"]),
        ("O5-20018", ["FP-2026-00002"]),
        ("o5 20018", ["FP-2026-00002"]),
        ("fernhill", ["FP-2026-00002"]),
        ("FP-2025-00002", []),
        ("no such firm", []),
        ("%", []),
    ],
)
def test_it_finds_by_number_serial_and_owner(counter_client, paper_of, wanted, found):
    for name in ("healthy", "no-probe-came"):
        paper_of(name)
    assert numbers(counter_client.get(LIST, {"wanted": wanted})) == found


def test_a_search_without_result_says_what_to_try_and_keeps_what_was_typed(counter_client, shop):
    said = counter_client.get(LIST, {"wanted": "nothing <b>"}).content.decode()
    assert "No paper fits “nothing &lt;b&gt;”" in said
    assert 'value="nothing &lt;b&gt;"' in said


def test_pages_follow_the_key_and_show_each_paper_once(counter_client, paper_of, monkeypatch, now):
    for name in ("healthy", "no-probe-came", "co-cell-low"):
        paper_of(name)
    seen, before = [], None
    while True:
        page = issued_papers(Paper.objects.all(), "", before, now.date(), size=2)
        seen += [paper.number for paper in page.papers]
        before = page.older
        if before is None:
            break
    assert seen == ["BR-2026-00001", "FP-2026-00002", "FP-2026-00001"]
    first = Paper.objects.order_by("id").first()
    assert numbers(counter_client.get(LIST, {"before": first.pk + 1})) == ["FP-2026-00001"]
    assert numbers(counter_client.get(LIST, {"before": "x"})) == seen
    assert listing.PAGE == 30


def test_an_empty_shop_says_what_will_come_here(counter_client, shop):
    said = counter_client.get(LIST).content.decode()
    assert "Nothing waits for a signature" in said
    assert "Nothing was issued yet" in said


def test_a_long_list_takes_few_queries(counter_client, paper_of, django_assert_max_num_queries):
    for name in ("healthy", "no-probe-came", "co-cell-low"):
        paper_of(name)
    counter_client.get(LIST)
    with django_assert_max_num_queries(6):
        answer = counter_client.get(LIST)
    assert len(numbers(answer)) == 3


def test_an_owner_is_led_to_their_own(owner_client, shop):
    assert owner_client.get(LIST)["Location"] == reverse("papers:own")


def test_a_stranger_is_sent_to_sign_in(client, shop):
    assert "/sign-in" in client.get(LIST)["Location"]


def test_another_method_is_refused(counter_client, shop):
    assert counter_client.post(LIST).status_code == 405


class TestOwn:
    def test_an_owner_sees_their_own_papers_and_no_others(self, owner_client, paper_of):
        paper_of("healthy")  # Tidewater
        paper_of("no-probe-came")  # Fernhill
        said = owner_client.get(reverse("papers:own")).content.decode()
        assert "FP-2026-00001" in said
        assert "FP-2026-00002" not in said
        assert reverse("papers:file", args=("FP-2026-00001", "certificate.pdf")) in said

    def test_none_yet_says_so(self, owner_client, shop):
        assert "There are no papers yet" in owner_client.get(reverse("papers:own")).content.decode()

    def test_the_shops_people_go_to_the_whole_list(self, counter_client, shop):
        assert counter_client.get(reverse("papers:own"))["Location"] == LIST

    def test_a_stranger_is_sent_to_sign_in(self, client, shop):
        assert client.get(reverse("papers:own")).status_code == 302

    def test_another_method_is_refused(self, owner_client, shop):
        assert owner_client.post(reverse("papers:own")).status_code == 405


def test_replacements_are_asked_for_once_a_page_and_not_joined(people, paper_of, django_assert_num_queries, now):
    for name in ("healthy", "no-probe-came", "co-cell-low"):
        paper_of(name)
    with django_assert_num_queries(2) as asked:  # the papers; what replaced them (none amends another)
        page = issued_papers(Paper.objects.all(), "", None, now.date())
        assert [getattr(paper, "amended_by", None) for paper in page.papers] == [None, None, None]
        assert all(paper.job.owner.name and paper.job.analyzer.serial for paper in page.papers)
    assert sum("amends_id" in query["sql"].partition("FROM")[2] for query in asked.captured_queries) == 1
