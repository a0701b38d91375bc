"""What the words of a day mean, as the readers of days hand it to each other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from assistant.reading import calendar as cal
from assistant.reading.calendar import Period

NO_SUCH_DAY = "there is no such day"
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Meant:
    """What the words before atom `end` mean; the other fields are those of `days.DaySpan`.

    `past` is the reading for something that happened, `coming` the one for something to come: a weekday has
    both (contract, rules 19 and 22), "yesterday" only the one.
    """

    end: int
    past: Period | None = None
    coming: Period | None = None
    unsure: tuple[str, ...] = ()
    period: bool = False
    recurring: bool = False
    since: bool = False

    def doubted(self, *doubts: str) -> Meant:
        """The same with more doubts, each once."""
        return replace(self, unsure=tuple(dict.fromkeys((*self.unsure, *doubts))))

    def moved(self, end: int, days: int = 0, months: int = 0) -> Meant:
        """Every day so much later."""
        return replace(
            self, end=end, past=_later(self.past, days, months), coming=_later(self.coming, days, months)
        )


def _later(when: Period | None, days: int, months: int) -> Period | None:
    moved = [cal.shift_months(d, months) for d in when] if when else []
    if not when or not all(moved):
        return None
    first, last = (d + days * ONE_DAY for d in moved if d)
    return first, last


def single(d: date) -> Period:
    """A day as a period."""
    return d, d


def on(end: int, d: date | None, today: date) -> Meant:
    """A day that is fixed: past, coming, or both for today; one that does not exist is neither."""
    if d is None:
        return Meant(end, unsure=(NO_SUCH_DAY,))
    return Meant(end, single(d) if d <= today else None, single(d) if d >= today else None)


def during(end: int, when: Period, today: date, period: bool = True) -> Meant:
    """A period that is fixed; one that holds today is both past and coming."""
    past, coming = when[0] <= today, when[1] >= today
    return Meant(end, when if past else None, when if coming else None, period=period)


def chosen(end: int, dates: Iterable[date | None], today: date) -> Meant:
    """The past and the coming reading of a date that may fall on any of `dates`."""
    real = [d for d in dates if d]
    past, coming = cal.most_recent(real, today), cal.soonest(real, today)
    if past is None and coming is None:
        return Meant(end, unsure=(NO_SUCH_DAY,))
    return Meant(end, single(past) if past else None, single(coming) if coming else None)


def resorted(meant: Meant, today: date) -> Meant:
    """The readings of single days put right after they were moved: the past one is not after today."""
    days = [p for p in (meant.past, meant.coming) if p]
    past = max((p for p in days if p[0] <= today), default=None)
    return replace(meant, past=past, coming=min((p for p in days if p[1] >= today), default=None))


def either(end: int, periods: Iterable[Period | None], today: date) -> Meant:
    """The past and the coming reading of a period that comes again ("march"): by when it starts and ends."""
    real = [p for p in periods if p]
    past = max((p for p in real if p[0] <= today), default=None)
    coming = min((p for p in real if p[1] >= today), default=None)
    return Meant(end, past, coming, period=True)
