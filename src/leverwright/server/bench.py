"""The threads that compute, so that the server itself always listens."""

from __future__ import annotations

import asyncio
import contextlib
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from queue import SimpleQueue
from typing import Generic, TypeVar

__all__ = ["Bench", "Benches"]

_T = TypeVar("_T")


class _Job(Generic[_T]):
    """One piece of work and the future that waits for it."""

    __slots__ = ("future", "loop", "work")

    def __init__(self, work: Callable[[], _T], loop: asyncio.AbstractEventLoop) -> None:
        self.work = work
        self.loop = loop
        self.future: asyncio.Future[_T] = loop.create_future()

    def run(self) -> None:
        if self.future.cancelled():
            return  # whoever asked has gone
        try:
            done = self.work()
        except BaseException as failure:  # noqa: BLE001  handed on whole to whoever waits
            self._tell(partial(self._fail, failure))
        else:
            self._tell(partial(self._finish, done))

    def _finish(self, done: _T) -> None:
        if not self.future.done():
            self.future.set_result(done)

    def _fail(self, failure: BaseException) -> None:
        if not self.future.done():
            self.future.set_exception(failure)

    def _tell(self, news: Callable[[], None]) -> None:
        # The loop is closed when the program ends while this thread computes: nobody waits then.
        with contextlib.suppress(RuntimeError):
            self.loop.call_soon_threadsafe(news)


class Bench:
    """One worker thread; jobs run in the order in which they were brought.

    A daemon: Ctrl-C must not wait for a computation whose answer nobody reads.
    """

    def __init__(self, name: str) -> None:
        self._works = False
        self._jobs: SimpleQueue[_Job[object]] = SimpleQueue()
        threading.Thread(target=self._work, name=name, daemon=True).start()

    async def run(self, work: Callable[[], _T]) -> _T:
        """What `work` returns or raises; cancelled while it waits, it is never started."""
        job = _Job(work, asyncio.get_running_loop())
        self._jobs.put(job)  # type: ignore[arg-type]  # a job of any result
        return await job.future

    @property
    def busy(self) -> bool:
        """Whether a job runs or waits."""
        return self._works or not self._jobs.empty()

    def _work(self) -> None:
        while True:
            job = self._jobs.get()
            self._works = True
            job.run()
            self._works = False


@dataclass(frozen=True, slots=True)
class Benches:
    """Four threads, so that none waits for another: a save never for a study, a try never for remedies."""

    answers: Bench
    remedies: Bench
    sheets: Bench
    files: Bench
