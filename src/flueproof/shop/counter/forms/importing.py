"""Taking in a list: the file, which column is what, the choices before it is imported."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from django import forms

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.shop.records.importing.reading.dates import ORDERS
from flueproof.shop.records.importing.reading.opening import LARGEST_FILE
from flueproof.shop.records.importing.reading.table import Row, Table
from flueproof.shop.records.importing.understanding.columns import FOR_ALL, Understanding
from flueproof.shop.records.importing.understanding.fields import ANALYZER, BY_NAME, DUE, FIELDS, GROUPS

_SAMPLES, _SAMPLE_LENGTH = 3, 40
_MEANINGS: Final[list[tuple[str, Any]]] = [
    ("", "not taken over"),
    *(
        (words, [(field.name, field.label) for field in FIELDS if field.group == group])
        for group, words in GROUPS.items()
    ),
]
_NEEDS_SERIAL: Final = {field.name for field in FIELDS if field.group in {ANALYZER, DUE}} - {"serial"}


class FileForm(forms.Form):
    """The list."""

    file = forms.FileField(
        label="List of owners, of analyzers, or of both",
        help_text=f"A .csv or .xlsx file, at most {LARGEST_FILE >> 20} MB. Nothing is changed by choosing it.",
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.tsv,.xlsx"}),
        error_messages={"required": "Choose a file.", "empty": "The file is empty."},
    )

    def clean_file(self) -> Any:
        """Refuse what is too large before it is read."""
        file = self.cleaned_data["file"]
        if (file.size or 0) > LARGEST_FILE:
            raise forms.ValidationError(
                f"The file is larger than {LARGEST_FILE >> 20} MB. Split the list and import the parts."
            )
        return file


class ColumnsForm(forms.Form):
    """One choice for each column of the list, and what holds for all rows."""

    make = forms.CharField(label="Make", required=False, max_length=80)
    model = forms.CharField(label="Model", required=False, max_length=80)

    def __init__(self, *args: Any, table: Table, told: Understanding, **options: Any) -> None:
        options.setdefault("initial", {**told.for_all})
        super().__init__(*args, **options)
        names = [(name, name.replace("-", " ")) for name in shipped_profile_names()]
        self.fields["profile"] = forms.ChoiceField(
            label="Service rules", required=False, choices=[("", "as for new analyzers"), *names]
        )
        self.told = told
        meaning = {place: name for name, place in told.columns.items()}
        samples = table.beginning(20)
        self._columns: list[tuple[str, str, list[str]]] = []
        for place, word in enumerate(table.header):
            name = f"column-{place}"
            label = f"Column {column_letter(place)}: {word or 'without a name'}"
            self.fields[name] = forms.ChoiceField(
                choices=_MEANINGS, label=label, required=False, initial=meaning.get(place, "")
            )
            self._columns.append((name, word, _samples(samples, place)))

    def columns(self) -> list[dict[str, Any]]:
        """Return for each column its letter, the word over it, some of what stands in it, and its field."""
        return [
            {"letter": column_letter(place), "word": word, "samples": samples, "field": self[name]}
            for place, (name, word, samples) in enumerate(self._columns)
        ]

    def clean(self) -> dict[str, Any]:
        """Refuse two columns that are the same thing, analyzers without serials, a list without owners."""
        cleaned = super().clean() or {}
        taken: dict[str, int] = {}
        for place, (name, _, _) in enumerate(self._columns):
            meaning = cleaned.get(name, "")
            if meaning in taken:
                words = f"Column {column_letter(taken[meaning])} is the {BY_NAME[meaning].label.lower()} already."
                self.add_error(name, words)
            elif meaning:
                taken[meaning] = place
        if not taken.keys() & {"owner_name", "owner_number"}:
            self.add_error(None, "Say which column is the name of the firm, or its customer number.")
        if "serial" not in taken and (left := taken.keys() & _NEEDS_SERIAL):
            first = min(left, key=lambda name: taken[name])
            self.add_error(
                f"column-{taken[first]}",
                "This belongs to an analyzer, so one column must be its serial number.",
            )
        self._taken = taken
        return cleaned

    def understanding(self) -> Understanding:
        """Return how the list is to be read; choices made after an earlier look at it are kept."""
        return Understanding(
            columns=self._taken,
            for_all={name: str(self.cleaned_data.get(name, "")).strip() for name in FOR_ALL},
            date_order=self.told.date_order,
            sheet=self.told.sheet,
            others=self.told.others,
            zeros_seen=self.told.zeros_seen,
        )


class ChoicesForm(forms.Form):
    """What must be settled before the list is imported."""

    date_order = forms.ChoiceField(
        label="Order of day and month in this file", required=False, choices=[("", "not chosen"), *ORDERS.items()]
    )
    zeros_seen = forms.BooleanField(
        label="No zeros in front were lost; the serials are as on the plates", required=False
    )
    forget_others = forms.BooleanField(label="Look at these again as if nothing had been said", required=False)

    def __init__(self, *args: Any, rows: Sequence[int] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        choices = [(str(row), str(row)) for row in rows]
        self.fields["others"] = forms.TypedMultipleChoiceField(required=False, coerce=int, choices=choices)

    def understanding(self, told: Understanding) -> Understanding:
        """Return how the list is read with these choices."""
        said = self.cleaned_data
        earlier = frozenset[int]() if said["forget_others"] else told.others
        return Understanding(
            columns=told.columns,
            for_all=told.for_all,
            sheet=told.sheet,
            date_order=said["date_order"],
            others=earlier | frozenset(said["others"]),
            zeros_seen=said["zeros_seen"],
        )


def column_letter(place: int) -> str:
    """Return the letter over a column in a spreadsheet: 0 is A, 26 is AA."""
    letters = ""
    place += 1
    while place:
        place, left = divmod(place - 1, 26)
        letters = chr(ord("A") + left) + letters
    return letters


def _samples(rows: Sequence[Row], place: int) -> list[str]:
    texts = (row.cells[place].strip() for row in rows if place < len(row.cells))
    some = list(dict.fromkeys(text for text in texts if text))[:_SAMPLES]
    return [text if len(text) <= _SAMPLE_LENGTH else f"{text[: _SAMPLE_LENGTH - 1]}…" for text in some]
