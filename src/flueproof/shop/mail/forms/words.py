"""The shop's own words of a kind of e-mail."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.mailing.kinds import kind_named
from flueproof.shop.records.mailing.words import LONGEST_SUBJECT, LONGEST_TEXT, wrong_with
from flueproof.shop.records.models import LetterTemplate


class WordsForm(VersionedModelForm):
    """Subject and text; what is in braces must be a placeholder of the kind."""

    subject = forms.CharField(max_length=LONGEST_SUBJECT, label="Subject", strip=False)
    text = forms.CharField(
        max_length=LONGEST_TEXT,
        label="Text",
        strip=False,
        widget=forms.Textarea(attrs={"rows": 20, "spellcheck": "true"}),
    )

    class Meta:
        """The kind is the page's."""

        model = LetterTemplate
        fields = ("subject", "text")
        labels: ClassVar[dict[str, Any]] = {}

    def clean_text(self) -> str:
        """Return the text with line ends as they are kept."""
        text: str = self.cleaned_data["text"]
        return text.replace("\r\n", "\n").strip() + "\n"

    def clean(self) -> dict[str, Any]:
        """Refuse what is in braces and no placeholder of this kind, and a subject of several lines."""
        given: dict[str, Any] = super().clean() or {}
        known = kind_named(self.instance.kind).placeholders
        for field, sentence in wrong_with(given.get("subject", "."), given.get("text", "."), known):
            if field not in self.errors or sentence not in self.errors[field]:
                self.add_error(field, sentence)
        return given
