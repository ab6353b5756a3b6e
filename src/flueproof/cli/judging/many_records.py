"""Thousands of records side by side: in order, in bounded memory, one bad record stopping none."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from flueproof.cli.judging.setting import Setting

if TYPE_CHECKING:
    from flueproof.cli.judging.one_record import Answer, Bench

FEW_RECORDS: Final = 8
_CHUNK: Final = 4
_CHUNKS_PER_PROCESS: Final = 4
_ONE_THREAD: Final = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
_LOADED_BEFORE: Final = ["flueproof.cli.judging.one_record", "flueproof.papers.papers_for"]

_bench: Bench | None = None


def processors() -> int:
    """Return how many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1


def answers(paths: Sequence[Path], setting: Setting, jobs: int) -> Iterator[Answer]:
    """Yield one answer per record, in the order given.

    jobs: processes to use; few records are judged in this one.
    Raises: what open_bench raises, before the first answer.
    """
    from_files = bool(setting.profiles) or setting.bundle is not None or setting.rule is not None
    few = jobs <= 1 or len(paths) <= FEW_RECORDS
    if few or from_files:
        from flueproof.cli.judging.one_record import answer, open_bench

        bench = open_bench(setting)
        if few:
            yield from (answer(path, bench) for path in paths)
            return
    chunks = [paths[start : start + _CHUNK] for start in range(0, len(paths), _CHUNK)]
    with one_thread_each():
        yield from _side_by_side(deque(chunks), setting, min(jobs, len(chunks)))


@contextmanager
def one_thread_each() -> Iterator[None]:
    """Let each process that starts meanwhile compute in one thread: the processes share the processors already."""
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def new_pool(jobs: int, prepare: Callable[..., None], *given: object) -> ProcessPoolExecutor:
    """Return a pool of fresh processes: forked from one that has loaded the rooms where the system can."""
    method = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"
    context = multiprocessing.get_context(method)
    if method == "forkserver":
        context.set_forkserver_preload(_LOADED_BEFORE)
    return ProcessPoolExecutor(jobs, context, initializer=prepare, initargs=given)


def leave_stopping_to_the_parent() -> None:
    """Let Ctrl-C reach the parent only: it lets running records finish, so that nothing is half written."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _prepare(setting: Setting) -> None:
    global _bench  # noqa: PLW0603  one bench per process, set once
    from flueproof.cli.judging.one_record import open_bench

    leave_stopping_to_the_parent()
    _bench = open_bench(setting)


def _answers_of(paths: Sequence[Path]) -> list[Answer]:
    from flueproof.cli.judging.one_record import answer

    if _bench is None:
        raise RuntimeError("the process was not prepared")
    return [answer(path, _bench) for path in paths]


def _side_by_side(waiting: deque[Sequence[Path]], setting: Setting, jobs: int) -> Iterator[Answer]:
    running: deque[tuple[Sequence[Path], Future[list[Answer]]]] = deque()
    pool = new_pool(jobs, _prepare, setting)
    try:
        while waiting or running:
            try:
                while waiting and len(running) < jobs * _CHUNKS_PER_PROCESS:
                    running.append((waiting[0], pool.submit(_answers_of, waiting[0])))
                    waiting.popleft()
                done = running[0][1].result()
                running.popleft()
            except BrokenProcessPool:
                pool.shutdown(wait=False, cancel_futures=True)
                waiting.extendleft(chunk for chunk, _ in reversed(running))
                running.clear()
                done = _one_by_one(waiting.popleft(), setting)
                pool = new_pool(jobs, _prepare, setting)
            yield from done
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _one_by_one(paths: Sequence[Path], setting: Setting) -> list[Answer]:
    """Judge records each in a process of its own, after a process has ended without an answer."""
    from flueproof.cli.judging.one_record import failed
    from flueproof.cli.words.faults import Fault

    done: list[Answer] = []
    for path in paths:
        with new_pool(1, _prepare, setting) as pool:
            try:
                done += pool.submit(_answers_of, [path]).result()
            except BrokenProcessPool:
                fault = Fault(
                    "$",
                    "the process that judged it ended without an answer.",
                    "Judge it alone; is there enough memory?",
                )
                done.append(failed(path.name, fault, setting))
    return done
