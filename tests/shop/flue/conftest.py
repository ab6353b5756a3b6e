"""The flue page, asked as a person asks it."""

import pytest
from django.urls import reverse

TRUE_5 = {"fuel": "natural-gas-us", "unit": "degC", "o2": "5", "stack": "200", "air": "20", "co": "100"}


@pytest.fixture
def flue(technician_client, shop):
    """Return a function values -> (status, text) of the page; `htmx` asks for the panel alone."""

    def ask(client=technician_client, *, htmx=False, **values):
        more = {"HTTP_HX_REQUEST": "true"} if htmx else {}
        answer = client.get(reverse("flue:page"), {**TRUE_5, **values}, **more)
        return answer.status_code, answer.content.decode()

    return ask
