"""A stranger at the public page, and the way through its steps."""

import importlib.util
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse

from flueproof.shop.records.models import ServiceRequest

WHO = {
    "firm": "Quayside Air (invented)",
    "contact": "Ben Holm (invented)",
    "email": "ben@quayside.example",
    "phone": "555-0122",
    "page": "p1",
}


class Stranger:
    """Somebody without an account; knows the secret of the draft that was begun."""

    def __init__(self):
        self.client, self.secret = Client(), ""

    def begin(self, **changed):
        answer = self.client.post(reverse("requests:begin"), {**WHO, **changed})
        if answer.status_code == 302:
            self.secret = answer["Location"].split("/")[2]
        return answer

    @property
    def row(self):
        return ServiceRequest.objects.order_by("pk").last()

    def at(self, step):
        return self.client.get(reverse("requests:step", args=[self.secret, step]))

    def save(self, step, act="on", unit=(), **fields):
        """Post a step as its page would: every field of the row and of each analyzer, then what is changed."""
        page = self.at(step)
        assert page.status_code == 200
        sent = {}
        for form in (page.context["own"], *(row[0] for row in page.context["units"])):
            for name in form.fields if form else ():
                value = form[name].value()
                if value not in (None, False, ""):
                    sent[form.add_prefix(name)] = value
        first = page.context["units"][0][0].prefix if page.context["units"] else ""
        sent |= {f"{first}-{name}": value for name, value in dict(unit).items()}
        sent = {name: value for name, value in ({**sent, **fields}).items() if value is not None}
        return self.client.post(reverse("requests:step", args=[self.secret, step]), {**sent, "act": act})

    def fill(self, **unit):
        """Go through all steps."""
        self.begin()
        plate = {"make": "Orrin", "model": "Orrin 5", "serial": "O5-20417", **unit}
        self.save("analyzers", unit=plate)
        self.save("wrong", unit={"complaint": "CO stays at 3 ppm", "accidents": ["wet"]})
        self.save("wanted", unit={"service": "verify-adjust"})
        self.save("box", unit={"enclosed": ["probe", "hose"]}, lines="9 Slip Road", town="Port Alder")
        return self

    def post(self, name, **fields):
        return self.client.post(reverse(f"requests:{name}", args=[self.secret]), fields)

    def get(self, name):
        return self.client.get(reverse(f"requests:{name}", args=[self.secret]))


@pytest.fixture
def stranger(shop):
    return Stranger()


@pytest.fixture
def sent(stranger):
    stranger.fill()
    assert stranger.post("send").status_code == 302
    return stranger


@pytest.fixture(scope="session")
def readback():
    """What reads papers back, of the papers' own tests."""
    path = Path(__file__).parents[2] / "papers" / "readback.py"
    spec = importlib.util.spec_from_file_location("requests_readback", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
