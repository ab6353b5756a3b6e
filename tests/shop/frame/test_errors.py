"""What went wrong, as a page: one clear sentence and a way on, in the shop's look, with its status."""

import pytest
from django.core.exceptions import BadRequest, PermissionDenied
from django.http import Http404
from django.test import Client
from django.urls import include, path, reverse

from flueproof.shop.frame.errors import broken
from flueproof.shop.records.people.rights import requires
from flueproof.shop.urls import handler400, handler403, handler404, handler500  # noqa: F401 -- of the url conf below

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def fails(error):
    def view(request):
        raise error

    return view


urlpatterns = [
    path("", include("flueproof.shop.urls")),
    path("fails/400", fails(BadRequest("what a mess"))),
    path("fails/403", fails(PermissionDenied("Not today."))),
    path("fails/404", fails(Http404("Job J-1 is not here."))),
    path("fails/500", fails(RuntimeError("secret detail"))),
    path("fails/right", requires("sign")(lambda request: None)),
]


@pytest.fixture
def failing(settings, technician_client):
    """The technician in a shop that has addresses that fail; failures are answered, not raised."""
    settings.ROOT_URLCONF = __name__
    technician_client.raise_request_exception = False
    return technician_client


def page_of(answer):
    page = answer.content.decode()
    assert page.count("<h1") == 1
    assert 'href="/"' in page
    return page


def test_400_says_what_to_do(failing):
    answer = failing.get("/fails/400")
    assert answer.status_code == 400
    assert "Go back, reload, try again." in page_of(answer)
    assert "what a mess" not in page_of(answer)


def test_403_says_why_and_names_the_right_and_who_has_it(failing):
    answer = failing.get("/fails/right")
    page = page_of(answer)
    assert answer.status_code == 403
    assert "sign certificates (asks for the password again)" in page.lower()
    assert "Signer, Manager" in page
    assert "<dd>Technician</dd>" in page


def test_403_without_a_right_says_the_views_own_words(failing):
    answer = failing.get("/fails/403")
    assert answer.status_code == 403
    assert "Not today." in page_of(answer)


def test_404_says_the_views_own_words(failing):
    answer = failing.get("/fails/404")
    assert answer.status_code == 404
    assert "Job J-1 is not here." in page_of(answer)


@pytest.mark.parametrize("address", ["/nothing-here", "/papers/FP-2026-99999/", "/jobs/J-2026-99999"])
def test_404_of_an_address_or_row_that_is_not_there_tells_nothing_of_the_program(technician_client, address):
    answer = technician_client.get(address)
    page = page_of(answer)
    assert answer.status_code == 404
    assert "Scan or type a serial" in page
    assert "matches the given query" not in page


def test_404_for_a_stranger_leads_to_the_sign_in(client):
    answer = client.get("/nothing-here")
    assert answer.status_code == 404
    assert ">Sign in</a>" in answer.content.decode()


def test_500_says_that_nothing_half_written_was_kept_and_tells_no_detail(failing, caplog):
    answer = failing.get("/fails/500")
    page = page_of(answer)
    assert answer.status_code == 500
    assert "Nothing half-written was kept" in page
    assert "secret detail" not in page
    assert "secret detail" in caplog.text, "the log has it"


def test_500_asks_no_database(rf, django_assert_num_queries):
    with django_assert_num_queries(0):
        assert broken(rf.get("/")).status_code == 500


def test_a_form_that_is_too_old_says_so(people):
    client = Client(enforce_csrf_checks=True)
    answer = client.post(reverse("frame:login"), {"username": "technician", "password": "x"})
    assert answer.status_code == 403
    assert "This form is too old" in page_of(answer)


def test_a_form_with_the_pages_own_token_is_taken(people):
    client = Client(enforce_csrf_checks=True)
    client.get(reverse("frame:login"))
    fields = {"username": "technician", "password": "x", "csrfmiddlewaretoken": client.cookies["csrftoken"].value}
    assert client.post(reverse("frame:login"), fields).status_code == 200


def test_a_file_that_is_too_large_in_fields_is_refused_as_a_page(technician_client, settings):
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 1000
    answer = technician_client.post(
        reverse("frame:me"), {"first_name": "x" * 2000}, content_type="application/x-www-form-urlencoded"
    )
    assert answer.status_code == 400
    assert page_of(answer)


def test_a_foreign_host_name_is_refused(client):
    assert client.get("/", headers={"host": "elsewhere.example"}).status_code == 400
