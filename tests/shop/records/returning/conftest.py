"""A job that is to go back, a parcel, and the pack-out as a person ticks it."""

import pytest

from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Job
from flueproof.shop.records.returning.pack_out import Packed, close_box, keep_packing, packing_of
from flueproof.shop.records.returning.packing import YES
from flueproof.shop.records.returning.shipping import Parcel
from shop.loaded import last_hash, load_visit


@pytest.fixture
def leaving(job, shop, now):
    """The job without a visit, to go back."""
    job.state = "to-return"
    job.save()
    return job


@pytest.fixture
def signed_job(people, now, shop):
    """Return a function demo name -> the job, signed and to go back."""

    def sign(name, **how):
        visit = load_visit(name, people["technician"], now, **how)
        sign_visit(visit, people["signer"], last_hash(visit), now, shop)
        return Job.objects.select_related("owner", "analyzer").get(pk=visit.job_id)

    return sign


@pytest.fixture
def pack(people, now):
    """Return a function that ticks all that a person has to tick, with changes, and closes the box."""

    def pack(job, *, close=True, goes_back=None, stays=None, **answers):
        found = packing_of(job)
        given = {line.check.name: (YES, "") for line in found.lines if not line.check.says} | {
            name.replace("_", "-"): answer for name, answer in answers.items()
        }
        parts = [part.name for part in found.parts] if goes_back is None else goes_back
        keep_packing(job, Packed(given, parts, stays or {}), people["counter"])
        return close_box(job, people["counter"], now) if close else packing_of(job)

    return pack


@pytest.fixture
def parcel():
    return Parcel("Coastline Parcel (invented)", "cl 4402 1190")


@pytest.fixture
def back_to_bench(people, now):
    return lambda job: move_job(job, "bench", people["technician"], now, why="look again")
