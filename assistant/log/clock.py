"""Time that only goes forward: a hybrid logical clock for the order of operations, and ids that sort by time.

Hybrid logical clock: Kulkarni, Demirbas and others, "Logical Physical Clocks", OPODIS 2014.
UUID version 7: RFC 9562, section 5.7, with a counter in `rand_a` (section 6.2, method 1).
"""

from __future__ import annotations

import os
import uuid
from collections.abc import Callable
from datetime import datetime

_LATEST = (1 << 48) - 1
_COUNTS = 1 << 24


def milliseconds(moment: datetime) -> int:
    """Milliseconds since 1970, between 0 and 2**48 - 1; a naive moment is local time."""
    try:
        stamp = int(moment.timestamp() * 1000)
    except (OverflowError, ValueError, OSError):  # the years 1 and 9999 in some zones
        stamp = 0 if moment.year < 1970 else _LATEST
    return min(max(stamp, 0), _LATEST)


def zone(moment: datetime) -> int:
    """Minutes by which local time is ahead of UTC at a moment; a naive moment is local time."""
    try:
        offset = (moment if moment.tzinfo else moment.astimezone()).utcoffset()
    except (OverflowError, ValueError, OSError):  # as above
        offset = None
    return round(offset.total_seconds() / 60) if offset else 0


class HybridClock:
    """Stamps that sort as text and never repeat or go back, whatever the machine's clock does.

    A stamp is 18 hexadecimal digits: 12 of milliseconds, 6 of a count within the millisecond.
    """

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._time, self._count = 0, 0

    def wall(self) -> int:
        """What the machine's clock says, in milliseconds since 1970."""
        return milliseconds(self._moment())

    def zone(self) -> int:
        """How far local time is ahead of UTC, in minutes."""
        return zone(self._moment())

    def _moment(self) -> datetime:
        """The clock's time; in the hour that comes twice, the second one where the first is over."""
        first = self._clock()
        second = first.replace(fold=1)
        over = milliseconds(first) < self._time <= milliseconds(second)
        return second if over else first

    def tick(self) -> str:
        """A stamp later than every stamp given or seen before."""
        now = self.wall()
        if now > self._time:
            self._time, self._count = now, 0
        else:
            self._count += 1
            if self._count == _COUNTS:
                self._time, self._count = self._time + 1, 0
        return f"{self._time:012x}{self._count:06x}"

    def seen(self, stamp: str) -> None:
        """Take note of a stamp from elsewhere, so that the next one comes after it."""
        self._time, self._count = max((self._time, self._count), (int(stamp[:12], 16), int(stamp[12:], 16)))


class Ids:
    """Gives uuid7 texts; each sorts after the one before, also within one millisecond."""

    def __init__(self, clock: Callable[[], datetime], random: Callable[[int], bytes] = os.urandom) -> None:
        self._clock, self._random = clock, random
        self._last = 0
        """Milliseconds and the 12-bit counter together: what makes the order."""

    def __call__(self) -> str:
        """A new id, as 36 characters in lower case."""
        tail = int.from_bytes(self._random(9))
        fresh = milliseconds(self._clock()) << 12 | (tail >> 62 & 0x3FF)
        self._last = fresh if fresh > self._last else self._last + 1
        return str(uuid7(self._last >> 12, self._last & 0xFFF, tail & (1 << 62) - 1))


def uuid7(time: int, rand_a: int, rand_b: int) -> uuid.UUID:
    """The layout of RFC 9562: 48 bits of milliseconds since 1970, 12 and 62 bits at the maker's choice."""
    return uuid.UUID(int=(time & _LATEST) << 80 | 7 << 76 | rand_a << 64 | 2 << 62 | rand_b)
