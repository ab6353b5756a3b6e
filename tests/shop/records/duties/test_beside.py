"""Beside the pages: duties arise, findings are judged on, a stop is heard."""

import threading

from django.utils import timezone

from flueproof.shop.records.duties.beside import judge_some
from flueproof.shop.records.duties.wrong_reference import progress_of


def test_the_oldest_finding_is_judged_on_some_at_a_time(visit_of, declared):
    for name in ("healthy", "draft-off"):
        visit_of(name)
    finding = declared()
    assert judge_some(timezone.now(), most=1) == 1
    assert not progress_of(finding).finished
    assert judge_some(timezone.now()) == 1
    assert judge_some(timezone.now()) == 0


def test_a_stop_is_heard_after_the_visit_at_hand(visit_of, declared):
    for name in ("healthy", "draft-off"):
        visit_of(name)
    declared()
    stop = threading.Event()
    stop.set()
    assert judge_some(timezone.now(), stop) == 1
