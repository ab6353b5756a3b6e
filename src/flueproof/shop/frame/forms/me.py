"""The form of a person's own page: name, units, light or dark."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from django import forms

from flueproof.shop.records.models import Person

if TYPE_CHECKING:
    _PersonForm = forms.ModelForm[Person]
else:
    _PersonForm = forms.ModelForm  # takes no parameter when it runs


class MeForm(_PersonForm):
    """What a person may change about themselves; role and firm are the manager's."""

    class Meta:
        """Five fields."""

        model = Person
        fields = ("first_name", "last_name", "temperature_unit", "pressure_unit", "theme")
        widgets: ClassVar[dict[str, Any]] = {
            "first_name": forms.TextInput(attrs={"autocomplete": "given-name"}),
            "last_name": forms.TextInput(attrs={"autocomplete": "family-name"}),
            "temperature_unit": forms.RadioSelect,
            "pressure_unit": forms.RadioSelect,
            "theme": forms.RadioSelect,
        }
        labels: ClassVar[dict[str, Any]] = {"first_name": "First name or initial", "last_name": "Last name"}
        help_texts: ClassVar[dict[str, Any]] = {"last_name": "Stands in bench records and on papers you sign."}
