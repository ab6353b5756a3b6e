"""Adding and changing references: the certificate is validated as a bench record validates it."""

import pytest
from django.urls import reverse

from flueproof.shop.frame.forms.pressure import PressureField
from flueproof.shop.records.models import Reference
from shop.cylinders import make_cylinder

GAS = {
    "code": "CYL-0010",
    "title": "CO 500 in nitrogen",
    "place": "rack 2",
    "water_volume_l": "8",
    "fill_kpa": "2000 psi",
    "minimum_kpa": "690 kPa",
    "price": "240.00",
    "supplier": "Gas House (invented)",
    "number": "C-10",
    "certificate": "LN-10",
    "balance": "nitrogen",
    "certified": "2026-10-01",
    "expires": "2028-10-01",
    "co_value": "502",
    "co_unit": "ppm",
    "co_expanded_uncertainty": "5",
    "co_k": "2",
    **{f"{gas}_unit": "ppm" for gas in ("no", "no2", "so2", "h2")},
    **{f"{gas}_unit": "%" for gas in ("o2", "co2")},
}
THERMOMETER = {
    "code": "THERM-2", "title": "Dry block", "certificate": "T-2", "unit": "degC", "expanded_uncertainty": "0.3",
    "k": "2", "source_u": "0.4", "due": "2027-05-01",
}  # fmt: skip


def add(client, kind, data):
    return client.post(reverse("gas_rack:add", args=[kind]), data)


def test_a_cylinder_comes_as_new_with_its_certificate(technician_client, shop):
    answer = add(technician_client, "test-gas", GAS)
    row = Reference.objects.get(code="CYL-0010")
    assert answer["Location"] == reverse("gas_rack:reference", args=["CYL-0010"])
    assert row.state == "new"
    assert row.content["components"] == {"co": {"value": 502.0, "unit": "ppm", "expanded_uncertainty": 5.0, "k": 2.0}}
    assert row.good_until.isoformat() == "2028-10-01"
    assert row.fill_kpa == pytest.approx(13789.5, abs=0.1)
    assert row.history.get().history_user.username == "technician"


def test_a_stated_accuracy_stands_without_k(technician_client, shop):
    changes = {"co_expanded_uncertainty": "", "co_k": "", "co_stated_accuracy_pct": "2"}
    add(technician_client, "test-gas", {**GAS, **changes})
    row = Reference.objects.get(code="CYL-0010")
    assert row.content["components"]["co"] == {"value": 502.0, "unit": "ppm", "stated_accuracy_pct": 2.0}


def test_an_instrument_is_in_use_at_once(technician_client, shop):
    add(technician_client, "thermometer", THERMOMETER)
    row = Reference.objects.get(code="THERM-2")
    assert (row.state, row.kind, row.content["source_u"]) == ("in-use", "thermometer", 0.4)


@pytest.mark.parametrize(("kind", "unit"), [("manometer", "inH2O"), ("flow-meter", "l/min")])
def test_other_instruments_are_kept_too(technician_client, shop, kind, unit):
    add(technician_client, kind, {**THERMOMETER, "unit": unit})
    assert Reference.objects.get(code="THERM-2").content["unit"] == unit


def test_a_kind_that_is_none_is_not_found(technician_client, shop):
    assert technician_client.get(reverse("gas_rack:add", args=["scale"])).status_code == 404


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"co_k": ""}, "co_k", "without its coverage factor"),
        ({"co_stated_accuracy_pct": "2"}, "co_value", "has both"),
        ({"co_expanded_uncertainty": "", "co_k": ""}, "co_value", "has no uncertainty"),
        ({"expires": "2026-09-01"}, "expires", "expired on 2026-09-01"),
        ({"expires": ""}, "expires", "must be filled in"),
        ({"certificate": ""}, "certificate", "must be filled in"),
        ({"co_value": "abc"}, "co_value", "Enter a number"),
        ({"co_value": "-3"}, "co_value", "greater than or equal to 0"),
        ({"co_value": "200", "co_unit": "%"}, "co_value", "more than the whole gas"),
        ({"code": "A B"}, "code", "no spaces"),
        ({"water_volume_l": "x"}, "water_volume_l", "Enter a number"),
    ],
)
def test_what_is_wrong_stands_at_its_field_and_what_was_typed_is_kept(technician_client, shop, changes, field, words):
    answer = add(technician_client, "test-gas", {**GAS, **changes})
    form = answer.context["form"]
    assert answer.status_code == 422
    assert words in " ".join(form.errors.get(field, []))
    assert 'value="LN-10"' in answer.content.decode() or "certificate" in changes
    assert not Reference.objects.exists()


def test_a_gas_without_any_component_is_told(technician_client, shop):
    answer = add(technician_client, "test-gas", {**GAS, "co_value": "", "co_expanded_uncertainty": "", "co_k": ""})
    assert "No component has a value" in answer.content.decode()


def test_a_code_is_given_once_also_in_other_letters(technician_client, shop):
    add(technician_client, "test-gas", GAS)
    assert add(technician_client, "test-gas", GAS).status_code == 422
    assert "in other letters" in add(technician_client, "test-gas", {**GAS, "code": "cyl-0010"}).content.decode()
    assert Reference.objects.count() == 1


class TestChanging:
    @pytest.fixture
    def row(self, technician_client, shop):
        add(technician_client, "test-gas", GAS)
        return Reference.objects.get()

    def change(self, client, row, version=None, **changes):
        data = {**GAS, "fill_kpa": PressureField().prepare_value(row.fill_kpa), **changes}
        data["seen_version"] = row.version if version is None else version
        return client.post(reverse("gas_rack:change", args=[row.code]), data)

    def test_a_change_is_kept_with_its_history(self, signer_client, row):
        self.change(signer_client, row, title="CO 500, new name", co_value="503")
        row.refresh_from_db()
        assert (row.title, row.content["components"]["co"]["value"]) == ("CO 500, new name", 503.0)
        assert row.history.first().history_user.username == "signer"

    def test_saving_without_a_change_writes_nothing(self, technician_client, row):
        self.change(technician_client, row)
        before = row.version
        row.refresh_from_db()
        assert row.version == before

    def test_the_code_never_changes(self, technician_client, row):
        self.change(technician_client, row, code="OTHER")
        assert Reference.objects.get().code == "CYL-0010"

    def test_the_second_sees_the_first_ones_change_and_loses_nothing(self, technician_client, signer_client, row):
        seen = row.version
        self.change(signer_client, row, co_value="504", place="rack 9")
        answer = self.change(technician_client, row, version=seen, title="My title", certificate="LN-11")
        form = answer.context["form"]
        assert answer.status_code == 422
        assert form.data["co_value"] == "504.0"
        assert form.data["certificate"] == "LN-11"
        assert (form.data["place"], form.data["title"]) == ("rack 9", "My title")
        again = signer_client.post(reverse("gas_rack:change", args=[row.code]), form.data.dict())
        row.refresh_from_db()
        assert again.status_code == 302
        assert row.content["components"]["co"]["value"] == 504.0
        assert (row.content["certificate"], row.place, row.title) == ("LN-11", "rack 9", "My title")

    def test_a_page_that_does_not_know_its_version_writes_nothing(self, technician_client, row):
        answer = self.change(technician_client, row, version="", title="Blind")
        assert answer.status_code == 422
        assert Reference.objects.get().title != "Blind"


def test_the_new_one_can_name_the_one_it_replaces(technician_client, shop):
    old = make_cylinder("OLD")
    add(technician_client, "test-gas", {**GAS, "replaces": str(old.pk)})
    assert Reference.objects.get(code="CYL-0010").replaces == old
