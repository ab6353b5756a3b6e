"""An owner's field log as it was given: a file, the list as text, rows typed; nothing of it is stored anywhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, cast

from django import forms

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.impact.errors import FieldLogError
from flueproof.impact.field_log.reading import read_log, typed_log
from flueproof.impact.field_log.row import FieldRow, LogSettings, Problem, Question
from flueproof.shop.impact.forms.numbers import SIGNS
from flueproof.shop.impact.forms.value import ConventionForm, usual_fuel

MOST_SIGNS: Final = 1_500_000
MOST_ROWS: Final = 20_000
"""What a page works through in one go; longer lists belong to the command line."""
TYPED: Final = ("day", "site", "fuel", "o2", "co", "stack", "air", "no", "efficiency")
BLANK_ROWS: Final = 3
MOST_TYPED: Final = 80
_TOO_LONG = (
    f"The list is too long for a page (more than {MOST_ROWS:,} readings or {MOST_SIGNS:,} signs). "
    "Cut it into parts, or use “flueproof impact” on the command line."
)
_UNITS = (("", "as the list says"), ("degF", SIGNS["degF"]), ("degC", SIGNS["degC"]))
_ORDERS = (
    ("", "as the list says"),
    ("month-first", "month first, 3/4 is 4 March"),
    ("day-first", "day first, 3/4 is 3 April"),
)
_DECIMALS = (("", "as the list says"), (".", "point"), (",", "comma"))
SETTINGS: Final = ("temperature_unit", "date_order", "decimal")


@dataclass(frozen=True, slots=True)
class GivenLog:
    """What was read of a log: rows, what could not be read, what must be asked; fault: why the list is none at all."""

    rows: tuple[FieldRow, ...] = ()
    problems: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    columns: tuple[tuple[str, str], ...] = ()
    fault: str = ""


class LogForm(ConventionForm):
    """The list and how it is to be read. A file that was sent stands as text in the page from then on."""

    text = forms.CharField(
        required=False, strip=False, label="The list",
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false", "wrap": "off", "maxlength": MOST_SIGNS}),
        help_text="First line: names of columns: date, site, fuel, O2, CO, stack, air, NO, efficiency. O2 is needed.",
    )  # fmt: skip
    file = forms.FileField(
        required=False, allow_empty_file=True, label="File (CSV)",
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.tsv,text/csv,text/plain"}),
        help_text="Takes the place of the list below.",
    )  # fmt: skip
    fuel = forms.ChoiceField(required=False, label="Fuel where none is written")
    temperature_unit = forms.ChoiceField(choices=_UNITS, required=False, label="Temperatures")
    date_order = forms.ChoiceField(choices=_ORDERS, required=False, label="Dates")
    decimal = forms.ChoiceField(choices=_DECIMALS, required=False, label="Decimals")
    last_good = forms.DateField(
        required=False, label="Last known good on", widget=forms.DateInput(attrs={"type": "date"}),
        help_text="Empty: not known.",
    )  # fmt: skip

    def __init__(self, data: Any, files: Any, *, fuels: Mapping[str, Fuel], unit: str, initial: Any = None) -> None:
        """Take what was sent, None where nothing was; unit: in which temperatures are typed."""
        super().__init__(data, files, initial={"fuel": usual_fuel(fuels), **(initial or {})}, auto_id="log_%s")
        names = [(key, one.name) for key, one in fuels.items()]
        self.fields["fuel"] = forms.ChoiceField(required=False, label="Fuel where none is written", choices=names)
        self.fuels, self.unit = fuels, unit
        self.typed = typed_rows(data) if data is not None else [{} for _ in range(BLANK_ROWS)]

    def clean(self) -> dict[str, Any]:
        """Let a file that was sent take the place of the text, and keep it in the page."""
        given: dict[str, Any] = super().clean() or self.cleaned_data
        sent = given.get("file")
        if sent is not None and sent.size:
            if sent.size > MOST_SIGNS:
                self.add_error("file", _TOO_LONG)
                return given
            given["text"] = text_of(sent.read())
            posted: Any = self.data
            shown = posted.copy()
            shown["text"] = given["text"]
            self.data = shown
        elif sent is not None:
            self.add_error("file", "The file is empty: export the log again, with a first line that names the columns.")
        if len(given.get("text") or "") > MOST_SIGNS:
            self.add_error("text", _TOO_LONG)
        return given

    def read(self) -> GivenLog:
        """Return what can be read of list and typed rows; typed ones are counted on after the list."""
        given = self.cleaned_data
        unit, order, decimal = (cast("Any", given.get(name) or None) for name in SETTINGS)
        settings = LogSettings(unit, order, decimal, given.get("fuel") or usual_fuel(self.fuels))
        listed = self._listed(given.get("text") or "", settings)
        if listed.fault or listed.questions:
            return listed
        typed = self._typed(replace(settings, temperature_unit=settings.temperature_unit or cast("Any", self.unit)))
        last = max((row.line for row in listed.rows), default=0)
        rows = (*listed.rows, *(replace(row, line=row.line + last) for row in typed.rows))
        fault = typed.fault
        if len(rows) > MOST_ROWS:
            fault = _TOO_LONG
        elif not (rows or typed.questions or listed.problems or typed.problems or fault):
            fault = "There is no reading yet: choose a file, paste a list or type rows."
        return GivenLog(rows, (*listed.problems, *typed.problems), typed.questions, listed.columns, fault)

    def _listed(self, text: str, settings: LogSettings) -> GivenLog:
        if not text.strip():
            return GivenLog()
        try:
            log = read_log(text.encode(), settings, self.fuels)
        except FieldLogError as error:
            return GivenLog(fault=str(error))
        return GivenLog(log.rows, tuple(_said(one) for one in log.problems), log.questions, log.columns)

    def _typed(self, settings: LogSettings) -> GivenLog:
        try:
            log = typed_log(self.typed, settings, self.fuels)
        except FieldLogError as error:
            return GivenLog(fault=str(error))
        return GivenLog(log.rows, tuple(f"Typed row {one}" for one in map(_row_said, log.problems)), log.questions)

    @property
    def settings(self) -> list[Any]:
        """The fields that say how the list is to be read."""
        return [self[name] for name in ("fuel", *SETTINGS)]

    @property
    def conventions(self) -> list[Any]:
        """The fields of the convention."""
        return [self[name] for name in ("method", "excess_air", "air_free")]


def typed_rows(data: Any) -> list[dict[str, str]]:
    """Return the rows that were typed, with blank ones after them to be typed into."""
    columns = {name: data.getlist(f"row_{name}") for name in TYPED}
    count = min(max((len(column) for column in columns.values()), default=0), MOST_TYPED)
    rows = [{name: column[place] for name, column in columns.items() if place < len(column)} for place in range(count)]
    while rows and not any(value.strip() for value in rows[-1].values()):
        rows.pop()
    return rows + [{} for _ in range(BLANK_ROWS)]


def text_of(data: bytes) -> str:
    """Return a file as text, read as the core reads it; what is no text stays visible as such, and is refused there."""
    encoding = "utf-16" if data[:2] in {b"\xff\xfe", b"\xfe\xff"} else "utf-8-sig"
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        return data.decode("latin-1")


def _said(problem: Problem) -> str:
    said = str(problem)
    return said[:1].upper() + said[1:]


def _row_said(problem: Problem) -> str:
    column = f", {problem.column}" if problem.column else ""
    return f"{problem.line}{column}: {problem.message}"
