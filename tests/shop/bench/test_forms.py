"""Every form records its step: works, wrong input kept and refused at its field, a second press does nothing."""

import html
import json
import re
import uuid

import pytest
from django.urls import reverse

from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.shop.bench.forms.kinds import FORMS, OFFERED
from flueproof.shop.bench.forms.typed import BarometerField
from flueproof.shop.records.visits.judged import judged

GIVEN = {
    "drain": {"water": "drained", "text": "a spoonful"},
    "visual": {"text": "case scratched"},
    "room": {"air": "21,5", "air_unit": "degC", "humidity_pct": "41", "pressure_hpa": "1008.3", "room_co_ppm": "0"},
    "zeroing": {"where": "outdoors", "probe": "on"},
    "settings": {"as_found": "fuel = natural gas\nO2 reference = 3 %", "changed": ""},
    "memory": {"answer": "none", "text": ""},
    "plug-test": {"feed": "tip", "probe": "owner", "pump": "stalls", "hiss": "yes"},
    "bulb-test": {"feed": "instrument", "probe": "owner", "stays_flat": "yes"},
    "vacuum-hold": {
        "feed": "instrument",
        "probe": "owner",
        "exhaust_capped": "yes",
        "volume_ml": "",
        "unit": "kPa",
        "display_step": "0.01",
        "shown_0": "8.0",
        "shown_10": "7.9",
        "shown_20": "7.9",
        "shown_30": "7.8",
    },
    "temperature": {
        "channel": "stack",
        "of": "probe",
        "reference": "THERM-1",
        "reference_value": "392",
        "reference_unit": "degF",
        "shown_1": "391",
        "shown_2": "391",
        "shown_3": "",
        "unit": "degF",
        "display_step": "1",
    },
    "pressure": {
        "channel": "draft",
        "reference": "MANO-1",
        "reference_value": "-0.10",
        "reference_unit": "inH2O",
        "shown_1": "-0.10",
        "unit": "inH2O",
        "display_step": "0.01",
    },
    "flow": {"reference": "FLOW-1", "reference_value": "0.9", "feed": "tip", "probe": "owner"},
    "ambient-air": {"shown_o2": "20.9", "step_o2": "0.1", "shown_co": "0", "step_co": "1"},
    "swap-test": {
        "reference": "CYL-CO-500",
        "feed": "tip",
        "probe": "shop",
        "supply_l_min": "1.8",
        "vent_open": "yes",
        "shown_o2": "0.1",
        "step_o2": "0.1",
        "shown_co": "499",
        "step_co": "1",
    },
    "displayed": {
        "fuel": "natural gas",
        "unit": "degF",
        "o2": "5.0",
        "stack": "392",
        "air": "68",
        "efficiency": "82.1",
    },
    "upkeep": {"done": "cleaned", "what": "hose", "text": ""},
    "adjust": {
        "channel": "co",
        "reference": "CYL-CO-500",
        "value": "502",
        "unit": "ppm",
        "accepted": "yes",
        "attempt": "1",
    },
    "part": {"done": "replaced", "what": "co cell", "serial": "B9", "opened_case": "yes"},
    "note": {"text": "second technician took over"},
    "skip": {"point": "draft-one", "why": "draft hose did not come"},
    "strike": {"strikes": "s1", "why": "wrong unit on the bench"},
}
KINDS = list(GIVEN)
RECORDED = {"drain": "drain", "memory": "note", "skip": "note"}


def address(kind, job):
    return reverse("bench:step", args=[job.number, kind])


def kinds_of(visit):
    return [step["kind"] for step in judged(visit).tree["steps"]]


@pytest.fixture
def begun(visit, add):
    """What other forms ask for first: water looked for, memory settled."""
    add("visual", text="Water: none seen in trap and hose.")
    add("note", text="Memory: this unit stores nothing.")
    return visit


@pytest.fixture
def given(page_id):
    return lambda kind, **more: {**GIVEN[kind], "page": page_id, **more}


def test_every_step_kind_has_a_form_or_is_a_timed_or_photographed_one():
    kinds = {step.model_fields["kind"].annotation.__args__[0] for step in AnyStep.__origin__.__args__}
    assert kinds - set(FORMS) == {"test-gas", "photo"}
    assert set(FORMS) == set(GIVEN)


def test_every_offered_form_has_a_key_of_its_own():
    keys = [one.key for _, forms in OFFERED for one in forms]
    assert len(keys) == len(set(keys))
    assert {one.kind for _, forms in OFFERED for one in forms} | {"skip"} == set(FORMS)


@pytest.mark.parametrize("kind", KINDS)
class TestEachForm:
    def test_it_opens_with_a_label_for_every_field(self, kind, technician_client, begun, job):
        page = technician_client.get(address(kind, job)).content.decode()
        form = page[page.index('<form class="sheet"') :]
        fields = set(re.findall(r'<(?:input type="(?:text|number)"|textarea|select)[^>]* id="([^"]+)"', form))
        assert fields <= set(re.findall(r'<label for="([^"]+)"', form))
        assert 'style="' not in page
        assert "<script>" not in page

    def test_it_records_once_however_often_it_is_pressed(self, kind, technician_client, begun, job, given):
        for _ in range(2):
            answer = technician_client.post(address(kind, job), given(kind))
            assert answer.status_code == 302, answer.content.decode()[:3000]
        assert kinds_of(begun)[2:] == [RECORDED.get(kind, kind)]

    def test_by_htmx_it_answers_that_something_was_recorded(self, kind, technician_client, begun, job, given):
        answer = technician_client.post(address(kind, job), given(kind), headers={"HX-Request": "true"})
        assert answer.status_code == 200
        assert answer.content == b""
        assert "flueproof:recorded" in json.loads(answer["HX-Trigger"])

    def test_an_empty_form_is_refused_and_writes_nothing(self, kind, technician_client, begun, job):
        answer = technician_client.post(address(kind, job), {"page": str(uuid.uuid4())})
        assert answer.status_code == 422
        assert 'class="wrong"' in answer.content.decode() or 'class="refusal"' in answer.content.decode()
        assert len(kinds_of(begun)) == 2

    @pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 403)])
    def test_who_may_not_work_at_the_bench_is_refused(self, kind, who, status, client_of, begun, job, given):
        for answer in (
            client_of(who).get(address(kind, job)),
            client_of(who).post(address(kind, job), given(kind)),
        ):
            assert answer.status_code == status
        assert len(kinds_of(begun)) == 2

    def test_another_method_is_refused(self, kind, technician_client, begun, job):
        assert technician_client.put(address(kind, job)).status_code == 405


class TestWhatIsRefused:
    def refused(self, client, kind, job, data):
        answer = client.post(address(kind, job), data, headers={"HX-Request": "true"})
        assert answer.status_code == 422
        return html.unescape(answer.content.decode())

    def test_a_refusal_of_the_record_stands_at_its_field_with_the_remedy(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "temperature", job, given("temperature", reference_value="-600"))
        at = page.index('id="id_reference_value_wrong"')
        assert "below absolute zero" in page[at : at + 300]
        assert "Correct the value or its unit." in page

    def test_what_was_typed_is_kept(self, technician_client, begun, job, given):
        page = self.refused(
            technician_client, "temperature", job, given("temperature", reference_value="-600", shown_2="390.5")
        )
        assert 'value="-600"' in page
        assert 'value="390.5"' in page
        assert re.search(r'<option value="THERM-1" selected', page)

    def test_humidity_beyond_a_hundred(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "room", job, given("room", humidity_pct="141"))
        assert "141" in page[page.index('id="id_humidity_pct_wrong"') :]

    def test_no_number(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "room", job, given("room", air="warm"))
        assert "“warm” is no number" in page

    def test_a_display_text_is_taken_as_shown(self, technician_client, begun, job, given):
        technician_client.post(address("ambient-air", job), given("ambient-air", shown_co="OVER"))
        assert judged(begun).tree["steps"][-1]["readings"][1]["shown"] == ["OVER"]

    def test_a_channel_that_is_not_there(self, technician_client, begun, job, given):
        self.refused(technician_client, "temperature", job, given("temperature", channel="no"))

    def test_an_expired_bottle_says_why(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "swap-test", job, given("swap-test", reference="CYL-OLD"))
        assert "CYL-OLD" in page[page.index('id="id_reference_wrong"') :]
        assert "flueproof:recorded" not in page

    def test_a_value_far_from_the_reference_is_asked_back_once(self, technician_client, begun, job, given):
        typed = given("swap-test", shown_co="402")
        page = self.refused(technician_client, "swap-test", job, typed)
        assert "CO: 402 ppm on a 502 ppm bottle: is that what the display shows?" in page
        asked = re.search(r'name="asked" value="([^"]+)"', page)[1]
        answer = technician_client.post(address("swap-test", job), {**typed, "asked": asked})
        assert answer.status_code == 302
        assert kinds_of(begun)[-1] == "swap-test"

    def test_another_far_value_is_asked_again(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "swap-test", job, given("swap-test", shown_co="402"))
        asked = re.search(r'name="asked" value="([^"]+)"', page)[1]
        page = self.refused(technician_client, "swap-test", job, given("swap-test", shown_co="300", asked=asked))
        assert "300 ppm" in page

    def test_the_entered_value_of_an_adjustment_is_asked_back_too(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "adjust", job, given("adjust", value="402"))
        assert "402 ppm entered on a 502 ppm bottle" in page

    def test_the_same_form_with_other_values_is_no_correction(self, technician_client, begun, job, given):
        technician_client.post(address("note", job), given("note"))
        page = self.refused(technician_client, "note", job, given("note", text="changed my mind"))
        assert "sent before" in page

    def test_a_strike_of_nothing(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "strike", job, given("strike", strikes="s77"))
        assert "no step 's77'" in page[page.index('id="id_strikes_wrong"') :]

    def test_power_before_the_look_for_water(self, technician_client, visit, job, given):
        assert "trap and hose come first" in self.refused(technician_client, "zeroing", job, given("zeroing")).lower()

    def test_a_closed_bench_measures_nothing(self, technician_client, begun, job, given, open_shop):
        from flueproof.shop.frame.the_shop import forget_the_shop

        open_shop.morning_check_needed = True
        open_shop.save()
        forget_the_shop()
        assert "The bench is closed" in self.refused(technician_client, "plug-test", job, given("plug-test"))
        assert technician_client.post(address("note", job), given("note")).status_code == 302

    def test_settings_without_a_sign_between(self, technician_client, begun, job, given):
        page = self.refused(technician_client, "settings", job, given("settings", as_found="fuel natural gas"))
        assert "write it like: fuel = natural gas" in page

    def test_an_unknown_kind_is_not_found(self, technician_client, begun, job):
        assert technician_client.get(address("magic", job)).status_code == 404


class TestBeginnings:
    def test_the_persons_unit_stands_first_with_its_display_step(self, technician_client, begun, job):
        page = technician_client.get(address("temperature", job)).content.decode()
        assert re.search(r'name="unit"[^>]*>.*?<option value="degF" selected', page, re.DOTALL)
        assert 'data-steps="degC=1 degF=1 K=1"' in page

    def test_another_person_has_another_unit(self, signer_client, people, begun, job):
        people["signer"].pressure_unit = "mbar"
        people["signer"].save()
        page = signer_client.get(address("pressure", job)).content.decode()
        assert re.search(r'name="unit"[^>]*>.*?<option value="mbar" selected', page, re.DOTALL)
        assert re.search(r'name="display_step" value="0.01"', page)

    def test_a_query_fills_the_form_in_but_never_its_own_id(self, technician_client, begun, job):
        page = technician_client.get(address("adjust", job) + "?channel=co&value=502&unit=ppm&page=x").content.decode()
        assert 'value="502"' in page
        assert 'name="page" value="x"' not in page


@pytest.mark.parametrize(
    ("typed", "hpa"),
    [("1013.25", 1013.25), ("29.92", 1013.2), ("101.3", 1013.0), ("840", 840)],
)
def test_the_air_pressure_is_known_by_its_size(typed, hpa):
    """29.92 inHg is 1013.2 hPa: NIST SP 811, Appendix B.8 (conventional inch of mercury)."""
    assert BarometerField().clean(typed) == pytest.approx(hpa, abs=0.05)
