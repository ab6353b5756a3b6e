"""Forms about people: who they are and what they may, and their password."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.contrib.auth.password_validation import password_validators_help_texts, validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from flueproof.shop.house.forms.owner_field import OwnerField
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Person
from flueproof.shop.records.people.changing import LastManagerError, refuse_to_lose_the_last_manager
from flueproof.shop.records.people.rights import OWNER


class PersonForm(VersionedModelForm):
    """Sign-in name, name on papers, role; for an external person, the firm whose papers they see."""

    owner = OwnerField(
        required=False, label="Firm", help_text="Only for an external person: the owner whose papers they see."
    )

    class Meta:
        """What a manager sets."""

        model = Person
        fields = ("username", "first_name", "last_name", "email", "role", "owner")
        labels: ClassVar[dict[str, Any]] = {
            "username": "Signs in as",
            "first_name": "First name or initial",
            "last_name": "Last name",
            "email": "E-mail",
        }
        help_texts: ClassVar[dict[str, Any]] = {
            "username": "Letters, digits and @ . + - _ only.",
            "last_name": "Stands in bench records and on papers.",
        }
        widgets: ClassVar[dict[str, Any]] = {
            "username": forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        }

    def clean(self) -> dict[str, Any]:
        """Tie the firm to the role: an external person has one, the shop's own people have none."""
        cleaned = super().clean() or self.cleaned_data
        role, owner = cleaned.get("role"), cleaned.get("owner")
        if role == OWNER and owner is None and "owner" not in self.errors:
            self.add_error("owner", "Say which firm this person belongs to.")
        if role != OWNER and owner is not None:
            self.add_error("owner", "Only an external person belongs to a firm. Clear this, or choose that role.")
        return cleaned

    def save_seen(self, by: Any) -> Any | None:
        """Save, unless the last manager would be lost: then the role says so."""
        try:
            with transaction.atomic():
                if self.instance.pk is not None:
                    standing = Person.objects.get(pk=self.instance.pk)
                    refuse_to_lose_the_last_manager(standing, self.cleaned_data["role"], active=standing.is_active)
                return super().save_seen(by)
        except LastManagerError as error:
            self.add_error("role", str(error))
            return None


class PasswordForm(forms.Form):
    """A new password for a person, typed once and readable: it is told to them, not guessed at."""

    password = forms.CharField(
        label="New password",
        max_length=128,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        strip=False,
        help_text=" ".join(password_validators_help_texts()),
    )

    def __init__(self, *args: Any, person: Person | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person or Person()

    def clean_password(self) -> str:
        """Return the password when it is strong enough."""
        password: str = self.cleaned_data["password"]
        try:
            validate_password(password, self.person)
        except ValidationError as error:
            raise ValidationError([f"{message} Type another." for message in error.messages]) from error
        return password
