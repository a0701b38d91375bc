"""What waits for the worker: one job after the other, in the order in which they came."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from threading import Thread
from time import monotonic
from typing import TypeVar

from textual.widget import Widget

from assistant.screen.values import Said

T = TypeVar("T")


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """Something for the worker: what it is in words, and what to call.

    `text` are the words to give back if it fails, `under` the message that what comes of it stands under.
    """

    what: str
    do: Callable[[], Said]
    text: str = ""
    under: Widget | None = None


class Jobs:
    """A queue of jobs that knows which of them are not done yet, the one in hand among them."""

    def __init__(self) -> None:
        self._queue: asyncio.Queue[Job] = asyncio.Queue()
        self._open: list[Job] = []
        self._since = 0.0

    def put(self, job: Job) -> None:
        """Put a job behind the others."""
        if not self._open:
            self._since = monotonic()
        self._open.append(job)
        self._queue.put_nowait(job)

    async def next(self) -> Job:
        """The next job, once there is one."""
        job = await self._queue.get()
        self._since = monotonic()
        return job

    def done(self, job: Job) -> None:
        """The job is done, or has failed."""
        self._open.remove(job)
        self._queue.task_done()

    @property
    def last(self) -> bool:
        """Whether nothing waits behind the job in hand."""
        return self._queue.empty()

    @property
    def idle(self) -> bool:
        """Whether nothing is being done."""
        return not self._open

    @property
    def unkept(self) -> bool:
        """Whether words of the keeper are among what is not done."""
        return any(job.text for job in self._open)

    @property
    def doing(self) -> tuple[str, float]:
        """What is being done and for how many seconds; an empty text where nothing is."""
        return (self._open[0].what, monotonic() - self._since) if self._open else ("", 0.0)

    async def settled(self) -> None:
        """Wait until everything is done."""
        await self._queue.join()


async def in_thread(do: Callable[[], T]) -> T:
    """What `do` gives, called in a thread of its own that does not outlive the program.

    `asyncio.to_thread` would make the program wait, the screen gone, until a long note is read to its end.
    """
    loop = asyncio.get_running_loop()
    done: asyncio.Future[T] = loop.create_future()

    def settle(result: T | None, error: Exception | None) -> None:
        if done.cancelled():
            return
        if error:
            done.set_exception(error)
        else:
            done.set_result(result)  # type: ignore[arg-type]

    def call() -> None:
        result, fault = None, None
        try:
            result = do()
        except Exception as error:
            fault = error
        with suppress(RuntimeError):  # the loop is closed: the keeper has left
            loop.call_soon_threadsafe(settle, result, fault)

    Thread(target=call, daemon=True).start()
    return await done
