"""The certificate's values as form fields, and back: content of a bench record's reference, format 1."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django import forms
from pydantic import ValidationError as RecordValidationError

from flueproof.shop.records.gas.as_certified import Certified, certified

GASES: Final = ("o2", "co", "no", "no2", "so2", "co2", "h2")
GAS_IN_WORDS: Final = {
    "o2": "O₂", "co": "CO", "no": "NO", "no2": "NO₂", "so2": "SO₂", "co2": "CO₂", "h2": "H₂",
}  # fmt: skip
UNITS_OF: Final = {
    "thermometer": ("degC", "degF", "K"),
    "manometer": ("Pa", "hPa", "kPa", "mbar", "inH2O", "mmH2O", "inHg", "mmHg", "psi"),
    "flow-meter": ("l/min",),
}
PARTS: Final = ("value", "unit", "expanded_uncertainty", "k", "stated_accuracy_pct")
_GAS_TEXTS: Final = ("supplier", "number", "lot", "certificate", "balance")
_DAYS: Final = ("certified", "expires", "due")
_NUMBERS: Final = ("expanded_uncertainty", "k", "source_u")


def certificate_fields(kind: str) -> dict[str, forms.Field]:
    """Return the form fields of one kind of reference, by name."""
    return _gas_fields() if kind == "test-gas" else _instrument_fields(kind)


def _gas_fields() -> dict[str, forms.Field]:
    fields: dict[str, forms.Field] = {
        "supplier": forms.CharField(label="Who filled and certified it", max_length=120, required=False),
        "number": forms.CharField(label="Number on the cylinder", max_length=120, required=False),
        "lot": forms.CharField(
            label="Lot",
            max_length=120,
            required=False,
            help_text="A certificate for a whole lot: begin its number with the word lot.",
        ),
        "certificate": forms.CharField(label="Certificate number", max_length=120, required=False),
        "balance": forms.CharField(
            label="Balance gas", max_length=120, required=False, initial="nitrogen", help_text="nitrogen or air"
        ),
        "certified": _day("Certified on"),
        "expires": _day("Last good day"),
    }
    for gas in GASES:
        name = GAS_IN_WORDS[gas]
        fields[f"{gas}_value"] = _number(f"{name} value")
        fields[f"{gas}_unit"] = forms.ChoiceField(
            label=f"{name} unit", choices=[("ppm", "ppm"), ("%", "%")], initial="%" if gas in {"o2", "co2"} else "ppm"
        )
        fields[f"{gas}_expanded_uncertainty"] = _number(f"{name} expanded uncertainty")
        fields[f"{gas}_k"] = _number(f"{name} k")
        fields[f"{gas}_stated_accuracy_pct"] = _number(f"{name} stated accuracy, %")
    return fields


def _instrument_fields(kind: str) -> dict[str, forms.Field]:
    fields: dict[str, forms.Field] = {
        "certificate": forms.CharField(label="Certificate number", max_length=120, required=False),
        "unit": forms.ChoiceField(label="Unit of the uncertainty", choices=[(one, one) for one in UNITS_OF[kind]]),
        "expanded_uncertainty": _number("Expanded uncertainty"),
        "k": _number("Coverage factor k", initial=2.0),
        "due": _day("Due again by"),
    }
    if kind == "thermometer":
        fields["source_u"] = _number("Standard uncertainty of the source of heat (evenness, stability)")
    return fields


def _number(label: str, initial: float | None = None) -> forms.FloatField:
    widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
    return forms.FloatField(label=label, required=False, initial=initial, widget=widget)


def _day(label: str) -> forms.DateField:
    widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return forms.DateField(label=label, required=False, widget=widget, input_formats=["%Y-%m-%d"])


def typed_of(kind: str, content: dict[str, Any]) -> dict[str, Any]:
    """Return what a content looks like in the form: field name -> value; "" where it says nothing."""
    typed: dict[str, Any] = {}
    for name in certificate_fields(kind):
        gas, _, part = name.partition("_")
        if kind == "test-gas" and gas in GASES and part in PARTS:
            value = content.get("components", {}).get(gas, {}).get(part)
            if part == "unit" and value is None:
                continue  # the usual unit of the gas stands
        else:
            value = content.get(name)
        typed[name] = "" if value is None else value
    return typed


def content_of(kind: str, values: dict[str, Any]) -> dict[str, Any]:
    """Return cleaned values of the form as content; fields left empty are left out."""
    content: dict[str, Any] = {"kind": kind}
    if kind == "test-gas":
        content |= {name: values[name] for name in _GAS_TEXTS if values.get(name)}
        content["components"] = {
            gas: _component(gas, values)
            for gas in GASES
            if any(values.get(f"{gas}_{part}") is not None for part in PARTS if part != "unit")
        }
    else:
        content |= {name: values[name] for name in ("certificate", "unit") if values.get(name)}
        content |= {name: values[name] for name in _NUMBERS if values.get(name) is not None}
    content |= {name: values[name].isoformat() for name in _DAYS if values.get(name)}
    return content


def _component(gas: str, values: dict[str, Any]) -> dict[str, Any]:
    return {part: values[f"{gas}_{part}"] for part in PARTS if values.get(f"{gas}_{part}") not in {None, ""}}


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a certificate: the form field it stands at (None: the whole), and what in words."""

    field: str | None
    message: str


def read_certificate(content: dict[str, Any], fields: set[str]) -> tuple[Certified | None, list[Fault]]:
    """Return the content as a bench record would read it, or the faults, each at its form field."""
    try:
        return certified(content), []
    except RecordValidationError as error:
        return None, [_fault(one, fields) for one in error.errors(include_url=False)]


def _fault(error: Any, fields: set[str]) -> Fault:
    context = error.get("ctx", {})
    place = list(error["loc"])[1:]  # the first is the kind
    message = error["msg"]
    if error["type"] == "flueproof":
        place += list(context["at"])
        message = f"{context['message'][:1].upper()}{context['message'][1:]} {_in_words(context['remedy'])}"
    elif error["type"] == "missing":
        message = "This must be filled in: copy it from the certificate."
    if place == ["components"] and error["type"] == "too_short":
        return Fault(None, "No component has a value. Copy at least one from the certificate.")
    named = [str(one) for one in place if one != "components"]
    for name in ("_".join(named), f"{'_'.join(named)}_value"):
        if name in fields:
            return Fault(name, message)
    return Fault(None, message)


def _in_words(remedy: str) -> str:
    """Return a remedy in the words of the form, which shows no names of keys."""
    words = {"expanded_uncertainty": "the expanded uncertainty", "stated_accuracy_pct": "the stated accuracy"}
    for key, said in words.items():
        remedy = remedy.replace(key, said)
    return remedy
