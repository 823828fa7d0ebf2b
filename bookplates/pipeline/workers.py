"""Work shared out over processes: results come in the order of the work, and nobody is left behind when it ends early."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeVar

from bookplates.errors import BadFile, Problem, reason

Job = TypeVar("Job")
Result = TypeVar("Result")

WORTH_IT = 4
"""So few jobs are done sooner than other processes have begun."""

USUAL_MOST = 6
"""More processes are not begun unasked: each takes about 90 MB."""

WAITING = 2
"""Jobs for each worker that are handed out ahead of the one that is waited for."""

TOLD_BY_SIGNALS = hasattr(signal, "pthread_sigmask")
"""Elsewhere a process can only be killed: what it has begun is waited for instead."""

_SIGNALS = [signal.SIGINT, signal.SIGTERM]


def usual_workers(jobs: int) -> int:
    """How many processes so many jobs are shared out over, where nobody says."""
    if jobs <= WORTH_IT:
        return 1
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return min(cores, jobs, USUAL_MOST)


def in_order(work: Callable[[Job], Result], jobs: Iterable[Job], workers: int) -> Generator[Result, None, None]:
    """What comes of each job, in their order. One worker is this process itself.

    Args:
        work: a function of a module, which other processes can find.
        jobs: taken one by one, not far ahead of the results.
        workers: how many processes.

    Raises:
        BadFile: a process ended before its work was done.
    """
    if workers == 1:
        yield from map(work, jobs)
        return
    try:
        with _pool(workers) as pool:
            yield from _results(pool, partial(_worked, work), jobs, workers * WAITING)
    except (BrokenProcessPool, MemoryError, Ended):
        what = "a process that makes the packs ended before its work was done; the memory may not suffice"
        raise BadFile(Problem("", what, "fewer of them: --workers 1")) from None


@contextmanager
def _pool(workers: int) -> Iterator[ProcessPoolExecutor]:
    """Processes that end with their work, or soon where somebody ends it early. Raises BadFile where there can be none."""
    others = set(multiprocessing.active_children())
    try:
        pool = ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn"), initializer=begin)
    except (OSError, ImportError) as error:
        raise _no_others(error) from None
    try:
        yield pool
    except BaseException:
        for child in set(multiprocessing.active_children()) - others if TOLD_BY_SIGNALS else ():
            child.terminate()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


def _no_others(error: Exception) -> BadFile:
    return BadFile(Problem("", f"no other processes can be begun ({reason(error)})", "do without them: --workers 1"))


def _results(pool: ProcessPoolExecutor, work: Callable[[Job], Result], jobs: Iterable[Job], ahead: int) -> Iterator[Result]:
    waiting: deque[Future[Result]] = deque()
    for job in jobs:
        with _unheard():
            try:
                waiting.append(pool.submit(work, job))  # begins a process where none is idle
            except OSError as error:
                raise _no_others(error) from None
        if len(waiting) > ahead:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


@contextmanager
def _unheard() -> Iterator[None]:
    """Signals to end wait while a process is begun.

    It is then begun whole, and is born deaf to them: an interrupt from the keyboard, which goes to all, would else make
    it complain of its own.
    """
    if not TOLD_BY_SIGNALS:
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _SIGNALS)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class Ended(BaseException):
    """A worker was told to end. No `except Exception` of a library's takes it for a fault of its own."""


@dataclass(slots=True)
class _State:
    """Of a worker: whether it is at work, and whether it has been told to end."""

    working: bool = False
    ended: bool = False


_STATE = _State()


def _worked(work: Callable[[Job], Result], job: Job) -> Result:
    """In a worker: do the job, unless it has been told to end."""
    _STATE.working = True
    try:
        if _STATE.ended:
            raise Ended
        return work(job)
    finally:
        _STATE.working = False


def _end(_number: int, _frame: object) -> None:
    """Leave the job, but no result half sent: whoever began the workers would wait for the rest of it for ever."""
    _STATE.ended = True
    if _STATE.working:
        _STATE.working = False  # once only: a second signal must not disturb the sending of the first one's result
        raise Ended


def begin() -> None:
    """In a worker, before its first job: leave interrupts to the process that began it, and do not outlive that."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _end)
    sys.unraisablehook = partial(_unless_ended, sys.unraisablehook)
    if TOLD_BY_SIGNALS:
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _SIGNALS)
    threading.Thread(target=_end_with, args=(multiprocessing.parent_process(),), daemon=True).start()


def _unless_ended(say: Callable[[Any], Any], raised: Any) -> None:
    """The end was raised where Python passes nothing on, as while it drops the lock of an import: the job is done first, then."""
    if not isinstance(raised.exc_value, Ended):
        say(raised)


def _end_with(parent: Any) -> None:
    parent.join()
    os._exit(1)
