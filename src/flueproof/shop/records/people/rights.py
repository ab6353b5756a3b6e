"""Who may do what. The table in the docs (guide/rights.md) is this table; a test compares them cell by cell."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from inspect import iscoroutinefunction
from typing import Any, Final

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

COUNTER, TECHNICIAN, SIGNER, MANAGER, OWNER = "counter", "technician", "signer", "manager", "owner"
ROLES: Final = (COUNTER, TECHNICIAN, SIGNER, MANAGER, OWNER)
_STAFF: Final = frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER})

RIGHTS: Final[dict[str, frozenset[str]]] = {
    "see-jobs": _STAFF,
    "see-own-papers": frozenset({OWNER}) | _STAFF,
    "change-owners": frozenset({COUNTER, MANAGER}),
    "change-jobs": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "import": frozenset({COUNTER, MANAGER}),
    "work-bench": frozenset({TECHNICIAN, SIGNER, MANAGER}),
    "change-gas": frozenset({TECHNICIAN, SIGNER, MANAGER}),
    "withdraw-reference": frozenset({SIGNER, MANAGER}),
    "sign": frozenset({SIGNER, MANAGER}),
    "amend": frozenset({SIGNER, MANAGER}),
    "see-plan": _STAFF,
    "plan-work": frozenset({COUNTER, SIGNER, MANAGER}),
    "receive-boxes": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "send-letters": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "change-letters": frozenset({MANAGER}),
    "quote": frozenset({COUNTER, MANAGER}),
    "change-prices": frozenset({MANAGER}),
    "ship": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "lend": frozenset({COUNTER, MANAGER}),
    "export-jobs": frozenset({COUNTER, MANAGER}),
    "see-duties": _STAFF,
    "tell-owners": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "declare-reference-wrong": frozenset({SIGNER, MANAGER}),
    "change-fuels": frozenset({SIGNER, MANAGER}),
    "see-parts": _STAFF,
    "change-parts": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "count-parts": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "reprint-sticker": frozenset({COUNTER, TECHNICIAN, SIGNER, MANAGER}),
    "see-history": _STAFF,
    "change-people": frozenset({MANAGER}),
    "change-shop": frozenset({MANAGER}),
    "change-tokens": frozenset({MANAGER}),
}
RIGHT_IN_WORDS: Final[dict[str, str]] = {
    "see-jobs": "See jobs, owners, analyzers and visits",
    "see-own-papers": "See certificates (an owner: only their own)",
    "change-owners": "Add and change owners and analyzers",
    "change-jobs": "Open and change jobs, hold and release them",
    "import": "Import lists, undo an import",
    "work-bench": "Work on the bench: record steps, morning check",
    "change-gas": "Add cylinders and references, enter gauge readings",
    "withdraw-reference": "Withdraw a cylinder or reference",
    "sign": "Sign certificates (asks for the password again)",
    "amend": "Issue an amended certificate",
    "see-plan": "See the plan, promises and what jobs wait for",
    "plan-work": "Make the plan anew, give a promise, take a rush job",
    "receive-boxes": "Receive boxes, say whose they are, ask the owner for what is missing",
    "send-letters": "Write and send e-mails to owners",
    "change-letters": "Change the words of e-mails",
    "quote": "Make and send quotes",
    "change-prices": "Change the price list",
    "ship": "Pack out, ship, send on to another shop",
    "lend": "Lend units and take them back",
    "export-jobs": "Take finished jobs out for the books",
    "see-duties": "See which owners must be told, and what an error did to their readings",
    "tell-owners": "Tell owners that an analyzer was found wrong, keep and erase their field logs",
    "declare-reference-wrong": "Say that a reference was wrong, and have its visits judged again",
    "change-fuels": "Add and change fuels of the shop's own",
    "see-parts": "See the parts store: lots, moves, what to order",
    "change-parts": "Receive, take out, reserve and order parts; add and change kinds of parts",
    "count-parts": "Count the parts store; what the count changes is logged",
    "reprint-sticker": "Print a sticker again (is logged)",
    "see-history": "See who changed what",
    "change-people": "Add people, change roles, reset passwords",
    "change-shop": "Change the shop's settings",
    "change-tokens": "Make and withdraw tokens and webhooks",
}


def may(person: Any, right: str) -> bool:
    """Return True when a signed-in, active person has a right.

    Raises: KeyError for a right that is not in the table.
    """
    allowed = RIGHTS[right]
    return bool(getattr(person, "is_authenticated", False) and person.is_active and person.role in allowed)


def requires(right: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Return the decorator of a view that only people with this right may use; strangers are sent to sign in.

    Works for plain and for async views.
    """
    RIGHTS[right]  # a right that is not in the table fails when the module loads

    def decorate(view: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            turned_away = _turned_away(request, request.user, right)
            answer: HttpResponseBase = turned_away or view(request, *args, **kwargs)
            return answer

        @wraps(view)
        async def guarded_async(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            turned_away = _turned_away(request, await request.auser(), right)
            answer: HttpResponseBase = turned_away or await view(request, *args, **kwargs)
            return answer

        chosen: Any = guarded_async if iscoroutinefunction(view) else guarded
        chosen.right = right  # the rights test walks all pages by it
        return chosen  # type: ignore[no-any-return] # wraps() keeps the view's own type out

    return decorate


def public(view: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a view that a stranger may use; the test of every page holds the list of them."""
    view.public = True  # type: ignore[attr-defined] # the walk over all pages reads it
    return view


def _turned_away(request: HttpRequest, person: Any, right: str) -> HttpResponseBase | None:
    """Return the way to the sign-in page for a stranger, None for a person with the right.

    Raises: PermissionDenied, which names the right in words.
    """
    if not person.is_authenticated:
        return redirect_to_login(request.get_full_path())
    if not may(person, right):
        raise PermissionDenied(f"Your role may not do this: {RIGHT_IN_WORDS[right].lower()}.")
    return None
