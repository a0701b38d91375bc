"""How operations get into the log: one after the other, or all those of another log."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from assistant.errors import LogError
from assistant.log.clock import HybridClock, Ids
from assistant.log.disk import Disk
from assistant.log.history import History
from assistant.log.joining import Joined, contested, operations_of
from assistant.log.journal import Journal
from assistant.log.operations import Operation, order
from assistant.log.view import LogView

_AT_ONCE = 200
"""Operations of another log that are made safe together."""

STEP_BACK = timedelta(days=1)
"""A machine's clock that falls back further than this since the last change is worth a line."""


class LogWriter(LogView):
    """The writing side of a log, below what is written."""

    def __init__(self, journal: Journal, history: History, clock: Callable[[], datetime], disk: Disk) -> None:
        super().__init__(journal, history)
        self._disk = disk
        self._clock, self._ids = HybridClock(clock), Ids(clock)

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """No other program writes meanwhile, and everything that others wrote is known."""
        with self._journal.locked():
            self.refresh()
            yield

    def join(self, folder: Path) -> Joined:
        """Take in what the log in another folder holds and this one does not; that one is left as it is.

        Again and again does no harm: an operation is known by its id. Where both sides changed an entry both
        changes stay, and the later one counts. LogError where there is no log; what was joined by then stays.
        """
        theirs, warnings = operations_of(folder, self._disk)
        with self._writing():
            known = self._history.operations()
            fresh: list[Any] = sorted((one for one in theirs if one["id"] not in known), key=order)
            ids = {one["id"] for one in theirs}
            both = contested((one for id, one in known.items() if id not in ids), fresh)
            notes, records = len(self.notes()), len(self._history.entries.live)
            for start in range(0, len(fresh), _AT_ONCE):
                self._journal.append(*fresh[start : start + _AT_ONCE])
                self._take(fresh[start : start + _AT_ONCE])
            more = len(self.notes()) - notes, len(self._history.entries.live) - records
        return Joined(*more, both, warnings)

    def _write(self, operation: Operation) -> None:
        wall = self._clock.wall()
        self._mind_the_clock(wall)
        said = {"id": self._ids(), "at": self._clock.tick(), "wall": wall, "zone": self._clock.zone()}
        body = {**said, **operation}
        try:
            self._journal.append(body)
        except (ValueError, TypeError) as error:
            raise LogError(f"this cannot be kept: {error}") from error
        self._history.take([body])  # type: ignore[list-item]

    def _mind_the_clock(self, wall: int) -> None:
        before = self._history.last_wall()
        if before - wall > STEP_BACK / timedelta(milliseconds=1):
            then, now = (datetime.fromtimestamp(moment / 1000).date() for moment in (before, wall))
            self.warnings.append(f"the clock says {now}, but the last change was on {then}: both are kept")

    def _take(self, bodies: list[Any]) -> None:
        super()._take(bodies)
        self._clock.seen(max(body["at"] for body in bodies))
