"""The flue page: a reading asked by its address, answered with every figure; nothing is kept."""

from __future__ import annotations

from typing import Any, Final

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_safe

from flueproof.chemistry.field.cautions import CAUTIONS
from flueproof.shop.flue.forms.other_unit import OTHER, in_other_unit
from flueproof.shop.flue.forms.page import SIGNS, FlueForm, SizesForm, unit_asked, with_example
from flueproof.shop.flue.presenters.asked import asked_for
from flueproof.shop.flue.presenters.errors import side_by_side
from flueproof.shop.flue.presenters.panel import inputs_of, panel_of
from flueproof.shop.frame.presenters.amounts import temperature_unit
from flueproof.shop.records.fuels.finding import usable_fuels
from flueproof.shop.records.people.rights import requires

_WRONG: Final = 422


@requires("see-own-papers")
@require_safe
def page(request: HttpRequest) -> HttpResponse:
    """Show the page, or by htmx only what changes: the panel, and beside each field what is wrong with it."""
    unit = unit_asked(request.GET, temperature_unit(request.user))
    given = with_example(request.GET, unit)
    form, sizes = FlueForm(given, fuels=usable_fuels(), unit=unit), SizesForm(given, unit=unit)
    fine = form.is_valid() & sizes.is_valid()
    view = "errors" if given.get("view") == "errors" else "figures"
    context: dict[str, Any] = {
        "form": form,
        "sizes": sizes,
        "view": view,
        "asked": asked_for(form, sizes, view),
        "links": links_of(given, unit),
        "other_unit": SIGNS[OTHER[unit]],
        "unit": unit,
        "cautions": CAUTIONS,
    }
    if fine:
        reading = form.reading()
        if view == "errors":
            context["compared"] = side_by_side(reading, sizes.sizes(), unit)
            context["panel"] = inputs_of(reading, unit)
        else:
            context["panel"] = panel_of(reading, unit)
    template = "flue/panel.html" if request.htmx else "flue/page.html"  # type: ignore[attr-defined] # middleware
    return render(request, template, context, status=200 if fine else _WRONG)


def links_of(given: dict[str, str], unit: str) -> dict[str, str]:
    """Return the addresses of both views, and of this one in the other unit, with all that was typed."""

    def address(**asked_for: str) -> str:
        asked = QueryDict(mutable=True)
        asked.update(asked_for)
        return f"?{asked.urlencode()}"

    return {
        "figures": address(**{**given, "view": "figures"}),
        "errors": address(**{**given, "view": "errors"}),
        "other_unit": address(**in_other_unit(given, unit)),
    }
