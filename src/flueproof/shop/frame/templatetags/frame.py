"""Tags and filters that every template has; docs/guide/look.md shows them."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import template
from django.template import Context
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from flueproof.shop.frame.drawing import drawing
from flueproof.shop.frame.presenters import amounts
from flueproof.shop.frame.presenters.amounts import Amount
from flueproof.shop.frame.presenters.moments import day_of, day_text, moment_text
from flueproof.shop.frame.presenters.pages import page_links
from flueproof.shop.frame.presenters.tag import make_and_model, tag_of
from flueproof.shop.frame.statement_mark import statement_mark
from flueproof.shop.records.models import Analyzer, Job
from flueproof.shop.records.people.rights import may

register = template.Library()


@register.filter(name="may")
def may_filter(person: Any, right: str) -> bool:
    """Return True when the person has the right: `{% if request.user|may:"sign" %}`."""
    return may(person, right)


@register.filter(name="make_and_model")
def make_and_model_filter(analyzer: Analyzer) -> str:
    """Print what an analyzer is: `{{ job.analyzer|make_and_model }}`, the make once."""
    return make_and_model(analyzer)


@register.simple_tag(takes_context=True)
def temperature(context: Context, value_c: float | None, decimals: int | None = None) -> SafeString:
    """Print a temperature [degC] in the person's unit: `{% temperature point.stack_c %}`."""
    return _amount(amounts.temperature(value_c, _person(context), decimals))


@register.simple_tag(takes_context=True)
def temperature_difference(context: Context, value_k: float | None, decimals: int | None = None) -> SafeString:
    """Print a temperature difference [K] in the person's unit; it never shifts."""
    return _amount(amounts.temperature_difference(value_k, _person(context), decimals))


@register.simple_tag(takes_context=True)
def pressure(context: Context, value_pa: float | None, decimals: int | None = None) -> SafeString:
    """Print a draft or pressure [Pa] in the person's unit: `{% pressure draft_pa %}`."""
    return _amount(amounts.pressure(value_pa, _person(context), decimals))


@register.simple_tag
def day(value: dt.date | None, length: str = "") -> SafeString:
    """Print "25 November 2026"; `{% day d "short" %}` prints "25 Nov 2026"; nothing gives "–"."""
    if not value:
        return SafeString(amounts.NOTHING)
    text = day_text(value, short=length == "short")
    return format_html('<time datetime="{}">{}</time>', day_of(value).isoformat(), text)


@register.simple_tag
def moment(value: dt.datetime | None, length: str = "") -> SafeString:
    """Print "25 November 2026, 14:05" in the shop's time zone; "short" shortens the month."""
    if not value:
        return SafeString(amounts.NOTHING)
    return format_html(
        '<time datetime="{}">{}</time>',
        value.isoformat(timespec="seconds"),
        moment_text(value, short=length == "short"),
    )


@register.simple_tag
def svg(name: str, label: str = "", size: str = "") -> SafeString:
    """Draw one of our own drawings: `{% svg "cylinder" %}`; with a label it speaks, "large" makes it large."""
    return drawing(name, label, size)


@register.simple_tag
def statement(which: str, size: str = "") -> SafeString:
    """Print a statement as shape and word: `{% statement "conform" %}`; "" says that nothing was stated."""
    return statement_mark(which, size)


@register.inclusion_tag("frame/job_tag.html", takes_context=True)
def job_tag(context: Context, job: Job, shape: str = "", act: str = "yes") -> dict[str, Any]:
    """Print a job's tag; "across" lays it for the top of a page, `act="no"` leaves its next act away."""
    return {"tag": tag_of(job, _person(context), timezone.localdate()), "shape": shape, "with_act": act != "no"}


@register.inclusion_tag("frame/field.html")
def field(bound: Any, classes: str = "", label: str = "") -> dict[str, Any]:
    """Print a form field: label, control, help and error, tied together: `{% field form.serial "plate" %}`."""
    return _field_parts(bound, classes, label)


@register.simple_tag(takes_context=True)
def pages(context: Context) -> Any:
    """Return the pages of the head for this person: `{% pages as links %}`."""
    here = context.get("here")
    return page_links(_person(context), getattr(here, "app_name", ""))


def _person(context: Context) -> Any:
    request = context.get("request")
    return getattr(request, "user", None)


def _amount(amount: Amount) -> SafeString:
    if not amount.unit:
        return SafeString(amount.number)
    return format_html('<span class="amount">{}\u00a0<span class="unit">{}</span></span>', amount.number, amount.unit)


def _field_parts(bound: Any, classes: str, label: str) -> dict[str, Any]:
    kind = getattr(bound.field.widget, "input_type", "")
    identity = bound.id_for_label or bound.auto_id
    described = [f"{identity}_{part}" for part, shown in (("help", bound.help_text), ("wrong", bound.errors)) if shown]
    attributes = {"aria-describedby": " ".join(described)} if described else {}
    if classes:
        attributes["class"] = classes
    return {
        "bound": bound,
        "identity": identity,
        "label": label or bound.label,
        "control": bound.as_widget(attrs=attributes),
        "tick": kind == "checkbox" and not hasattr(bound.field, "choices"),
        "group": bool(bound.field.widget.use_fieldset),
    }
