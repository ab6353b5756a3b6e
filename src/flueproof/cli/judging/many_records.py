"""Thousands of records side by side: in order, in bounded memory, one bad record stopping none."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from flueproof.cli.judging.setting import Setting

if TYPE_CHECKING:
    from flueproof.cli.judging.one_record import Answer

FEW_RECORDS: Final = 8
_AHEAD_PER_PROCESS: Final = 16
_MOST_PROCESSES: Final = 60  # Windows waits for no more than 63 pipes at once
_ONE_THREAD: Final = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
_LOADED_BEFORE: Final = ["flueproof.cli.judging.one_record", "flueproof.papers.papers_for"]


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
    with one_thread_each():
        yield from _side_by_side(paths, setting, min(jobs, len(paths), _MOST_PROCESSES))


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


class _Worker:
    """A process that judges one record after the other, and the place of the record it has in hand."""

    def __init__(self, setting: Setting) -> None:
        context = _context()
        self.connection, theirs = context.Pipe()
        self.process: BaseProcess = context.Process(target=_work, args=(theirs, setting), daemon=True)
        self.process.start()
        theirs.close()
        self.place: int | None = None

    def give(self, place: int, path: Path) -> None:
        """Hand over a record; whether the process still lives is seen when its answer is read."""
        self.place = place
        try:
            self.connection.send(path)
        except OSError:
            return

    def take(self) -> Answer | None:
        """Return the answer, None when the process has ended without one."""
        try:
            told: Answer = self.connection.recv()
        except (EOFError, OSError):
            return None
        return told

    def end(self) -> None:
        """Let the process finish what it has in hand, and wait for it."""
        self.connection.close()
        self.process.join()


def _context() -> Any:
    """Return how processes start: forked from one that has loaded the rooms, where the system can, else afresh."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(_LOADED_BEFORE)
    return context


def _work(connection: Connection, setting: Setting) -> None:
    """Judge what comes until the other end closes; Ctrl-C is the parent's, so that nothing is half written."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    from flueproof.cli.judging.one_record import answer, open_bench

    bench = open_bench(setting)
    while True:
        try:
            connection.send(answer(connection.recv(), bench))
        except (EOFError, OSError):
            return


def _side_by_side(paths: Sequence[Path], setting: Setting, jobs: int) -> Iterator[Answer]:
    """Give each process a record at a time; answers that came early wait until their turn, not many of them."""
    workers: list[_Worker] = []
    early: dict[int, Answer] = {}
    given = shown = 0
    try:
        workers += [_Worker(setting) for _ in range(jobs)]
        while shown < len(paths):
            for worker in workers:
                if worker.place is None and given < min(len(paths), shown + jobs * _AHEAD_PER_PROCESS):
                    worker.give(given, paths[given])
                    given += 1
            for place, told in _next_answers(workers, setting):
                early[place] = told or _without_answer(paths[place], setting)
            while shown in early:
                yield early.pop(shown)
                shown += 1
    finally:
        for worker in workers:
            worker.connection.close()
        for worker in workers:
            worker.end()


def _next_answers(workers: list[_Worker], setting: Setting) -> list[tuple[int, Answer | None]]:
    """Wait for the next answers; a process that has ended is replaced, and its record has none."""
    came = []
    ready = set(wait([worker.connection for worker in workers if worker.place is not None]))
    for number, worker in enumerate(workers):
        if worker.place is None or worker.connection not in ready:
            continue
        told = worker.take()
        came.append((worker.place, told))
        worker.place = None
        if told is None:
            worker.end()
            workers[number] = _Worker(setting)
    return came


def _without_answer(path: Path, setting: Setting) -> Answer:
    from flueproof.cli.judging.one_record import failed
    from flueproof.cli.words.faults import Fault

    said = "the process that judged it ended without an answer."
    return failed(path.name, Fault("$", said, "Judge it alone; is there enough memory?"), setting)
