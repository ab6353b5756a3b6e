"""The JSON API, version 1: all routes behind tokens, its description for people who work here."""

from __future__ import annotations

from ninja import NinjaAPI

from flueproof.shop.api.faults import tell_faults_in_one_shape
from flueproof.shop.api.parsing import TextParser
from flueproof.shop.api.routes import (
    analyzers,
    jobs,
    owners,
    papers,
    promises,
    quotes,
    references,
    search,
    service_requests,
    visits,
)
from flueproof.shop.api.token_door import PerToken
from flueproof.shop.records.people.rights import requires

api = NinjaAPI(
    title="Flueproof",
    version="1",
    description="Owners, analyzers, service requests, jobs, promises, quotes, visits, papers and references of this "
    "shop. The guide is docs/guide/api.md.",
    urls_namespace="api-v1",
    throttle=[PerToken()],
    parser=TextParser(),
    docs_decorator=requires("see-jobs"),
)
tell_faults_in_one_shape(api)
for room, router in (
    ("/owners", owners.router),
    ("/analyzers", analyzers.router),
    ("/jobs", jobs.router),
    ("", visits.router),
    ("", promises.router),
    ("", quotes.router),
    ("/requests", service_requests.router),
    ("/papers", papers.router),
    ("/references", references.router),
    ("", search.router),
):
    api.add_router(room, router)
