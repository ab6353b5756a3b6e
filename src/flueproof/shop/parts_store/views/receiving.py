"""Parts come in."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from flueproof.shop.parts_store.forms.moving import ReceiveForm
from flueproof.shop.parts_store.views.asked import done, pieces, said_and_back, sent
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.stock.receiving import Delivery
from flueproof.shop.records.stock.receiving import receive as take_in


@requires("change-parts")
@require_http_methods(["GET", "HEAD", "POST"])
def receive(request: HttpRequest) -> HttpResponse:
    """Take a delivery in; the same page is ready for the next one."""
    form = ReceiveForm(sent(request), request.FILES or None, initial={"code": request.GET.get("code", "")[:80]})

    def act() -> None:
        said = form.cleaned_data
        came = Delivery(
            said["lot"].strip(), said["count"], said["made"], said["expires"], said["serials"], said["certificate"]
        )
        take_in(said["code"].part, came, form.pen(request))

    if request.method == "POST" and done(form, act):
        said = form.cleaned_data
        words = f"{pieces(said['count'])} of {said['code'].part.code}, lot {said['lot']}: on the shelf."
        return said_and_back(request, words, "parts_store:receive")
    return render(request, "parts_store/receive.html", {"form": form}, status=422 if form.errors else 200)
