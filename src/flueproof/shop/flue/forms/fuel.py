"""A fuel of the shop's own: what it is made of, row by row, and who says so."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Final

from django import forms

from flueproof.chemistry.emissions.f_factors import published_groups
from flueproof.chemistry.errors import FuelError
from flueproof.chemistry.fuels.fuel import KINDS
from flueproof.chemistry.fuels.reading import GERMAN_GROUPS, shipped_fuels
from flueproof.chemistry.loss.german import german_form
from flueproof.chemistry.plausibility.fo import published_fo_ranges
from flueproof.shop.flue.forms.numbers import DecimalText
from flueproof.shop.records.fuels.writing import WrittenFuel, fault_of, free_key, parts_of, toml_of, written_of
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import ShopFuel

KIND_WORDS: Final = {"gas": "gas (mole %)", "liquid": "liquid (mass %)", "solid": "solid (mass %)"}
_PLAIN: Final = ("kind", "source", "note", "fo", "epa", "german", "gross_mj_kg", "gross_source")
_NOTHING: Final = [("", "none")]
_LONGEST: Final = 2000


class FuelForm(VersionedModelForm):
    """The rows of both kinds stand in the form; those of the kind that is chosen count."""

    kind = forms.ChoiceField(choices=[(kind, KIND_WORDS[kind]) for kind in KINDS], widget=forms.RadioSelect)
    composition = forms.CharField(required=False, widget=forms.HiddenInput)
    """Never sent; what is wrong with the sum stands here."""
    source = forms.CharField(
        max_length=500,
        label="Source",
        help_text="Who says so: the supplier's analysis with its date, a laboratory, a table.",
    )
    note = forms.CharField(max_length=_LONGEST, required=False, label="Note", widget=forms.Textarea(attrs={"rows": 2}))
    gross_mj_kg = DecimalText(
        low=1.0, high=150.0, unit="MJ/kg", required=False, label="Measured gross heating value, MJ/kg",
        help_text="Of an oil or solid; empty: computed from the elements.",
    )  # fmt: skip
    gross_source = forms.CharField(max_length=500, required=False, label="Who measured it")
    fo = forms.ChoiceField(required=False, label="Published Fo range", help_text="None: 12 % about its own Fo.")
    epa = forms.ChoiceField(required=False, label="Published F factors")
    german = forms.ChoiceField(required=False, label="Constants of the German form")

    class Meta:
        """The text is made of the rows; it is no field to be typed into."""

        model = ShopFuel
        fields = ("name", "text")
        labels: ClassVar[dict[str, Any]] = {"name": "Name"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Add a row for every part and fill in what is written."""
        super().__init__(*args, **kwargs)
        self.fields["text"].required = False
        self.fields["fo"].choices = _NOTHING + [(one.key, one.name) for one in published_fo_ranges()]  # type: ignore[attr-defined]
        self.fields["epa"].choices = _NOTHING + list(published_groups().items())  # type: ignore[attr-defined]
        self.fields["german"].choices = _NOTHING + [(key, german_form(key).name) for key in GERMAN_GROUPS]  # type: ignore[attr-defined]
        for prefix, kind in (("gas", "gas"), ("mass", "solid")):
            for part, name in parts_of(kind).items():
                label = part if part == name else f"{part}, {name}"
                self.fields[f"{prefix}_{part}"] = DecimalText(
                    low=0.0, high=100.0, unit="%", required=False, label=label
                )
        for name, value in self._as_fields(self.instance.text).items():
            self.initial.setdefault(name, value)
        self.initial.setdefault("kind", "gas")

    def rows(self, prefix: str) -> list[Any]:
        """Return the bound fields of the parts: `gas` or `mass`."""
        return [self[name] for name in self.fields if name.startswith(f"{prefix}_")]

    @property
    def gas_rows(self) -> list[Any]:
        """The parts of a gas."""
        return self.rows("gas")

    @property
    def mass_rows(self) -> list[Any]:
        """The parts of a liquid or solid."""
        return self.rows("mass")

    def clean_name(self) -> str:
        """Refuse a name that another fuel has: two of one name cannot be told apart in a list."""
        name = str(self.cleaned_data["name"]).strip()
        same = ShopFuel.objects.filter(name__iexact=name).exclude(pk=self.instance.pk)
        if same.exists() or any(name.lower() == one.name.lower() for one in shipped_fuels().values()):
            raise forms.ValidationError("There is already a fuel of this name; add what makes it another one.")
        return name

    def clean(self) -> dict[str, Any]:
        """Make the text; what the core does not take is said where it was typed."""
        given: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors.keys() - {"text"}:
            return given
        written = self.written()
        fault = fault_of(written)
        if fault is not None:
            self._say(fault)
            return given
        given["text"] = toml_of(written)
        if self.instance.pk is None:
            self.instance.key = free_key(written.name)
        return given

    def written(self) -> WrittenFuel:
        """Return what was written down, with the rows of the chosen kind."""
        given = self.cleaned_data
        kind = given["kind"]
        prefix = "gas" if kind == "gas" else "mass"
        shares = {part: given.get(f"{prefix}_{part}") for part in parts_of(kind)}
        return WrittenFuel(
            given["name"].strip(),
            kind,
            {part: share for part, share in shares.items() if share},
            given["source"].strip(),
            given["note"].strip(),
            fo=given["fo"],
            epa=given["epa"],
            german=given["german"],
            gross_mj_kg=given["gross_mj_kg"],
            gross_source=given["gross_source"].strip(),
        )

    def save_seen(self, by: Any) -> Any | None:
        """Save as any versioned form; of two who changed different rows, both stay."""
        saved = super().save_seen(by)
        if saved is None and self.conflict is not None:
            item = next((one for one in self.conflict.differences if one.field == "text"), None)
            if item is not None:
                self._merge_rows(item.before or "", item.theirs)
        return saved

    def _merge_rows(self, before: str, theirs: str) -> None:
        """Where I left a row as it was, theirs stands in the form now."""
        was, now = self._as_fields(before), self._as_fields(theirs)
        posted: Any = self.data
        data = posted.copy()
        for name in {*was, *now}:
            if _alike(str(data.get(name, "")), was.get(name, "")):
                data[name] = now.get(name, "")
        self.data = data

    def _as_fields(self, text: str) -> dict[str, str]:
        """Return a fuel's text as this form's fields; empty where it is none."""
        if not text:
            return {}
        try:
            written = written_of(text)
        except FuelError:
            return {}
        prefix = "gas" if written.kind == "gas" else "mass"
        fields = {name: _text(getattr(written, name)) for name in _PLAIN}
        return fields | {f"{prefix}_{part}": _text(share) for part, share in written.composition.items()}

    def _say(self, fault: FuelError) -> None:
        """Put what the core says at the field that it is about."""
        place = [part.strip() for part in fault.place.split(",")][1:]
        prefix = "gas" if self.cleaned_data["kind"] == "gas" else "mass"
        names: Mapping[str, str] = {name: name for name in (*_PLAIN, "name")}
        said = f"{fault.problem[:1].upper()}{fault.problem[1:]}"
        if len(place) > 1 and f"{prefix}_{place[1]}" in self.fields:
            self.add_error(f"{prefix}_{place[1]}", said)
        else:
            self.add_error(names.get(place[0], "composition") if place else "composition", said)


def _text(value: object) -> str:
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def _alike(typed: str, was: str) -> bool:
    """Return whether a field holds what it was filled with, as text or as number."""
    if typed.strip() == was.strip():
        return True
    try:
        return float(typed.replace(",", ".") or 0.0) == float(was or 0.0)
    except ValueError:
        return False
