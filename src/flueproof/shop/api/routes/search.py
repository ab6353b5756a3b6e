"""Search, and what a token is."""

from __future__ import annotations

from typing import Annotated

from django.http import HttpRequest
from ninja import Query, Router

from flueproof.shop.api.answers import answers
from flueproof.shop.api.shapes.found import FoundOut, TokenOut, found_out
from flueproof.shop.api.token_door import BearerToken, token_on
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.finding.searching import LONGEST_TEXT, search

router = Router(tags=["search"])


@router.get("/search", response=answers(FoundOut), auth=BearerToken("see-jobs"))
def find(request: HttpRequest, q: Annotated[str, Query(max_length=LONGEST_TEXT)]) -> FoundOut:  # noqa: ARG001 -- ninja passes it
    """Find owners, people, phones, serials, jobs, papers and references, as the one box of the pages does."""
    return found_out(search(q))


@router.get("/token", response=answers(TokenOut), auth=BearerToken("see-jobs"))
def this_token(request: HttpRequest) -> TokenOut:
    """Return what this token is and may; a program begins with it."""
    token = token_on(request)
    return TokenOut(name=token.name, rights=sorted(token.rights), shop=the_shop().name)
