"""Days and periods in a note, wherever they stand.

    find_days(words, now)   every day, in order, none overlapping

Each span gives two readings: `past` for what happened, `coming` for what is to come; the sentence decides.
Rules 19 and 22 of the contract: a weekday is the next one, the same weekday seven days on; "next Saturday"
is the coming one, with a doubt; "next week" is from its Monday; a month or a season is a period.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from assistant.reading import calendar as cal
from assistant.reading.calendar import Period
from assistant.reading.dates import day_number, read_year, written_date
from assistant.reading.dayreaders import is_fraction, led_nth, of_month, starts, term
from assistant.reading.dayterms import NEAR
from assistant.reading.meant import Meant, chosen, during, on
from assistant.reading.offsets import lasting, length
from assistant.reading.tokens import MONTHS, at, span, split


@dataclass(frozen=True, slots=True)
class DaySpan:
    """A day or period in `words[start:end]`, first and last day included.

    `past` is its reading for something done, `coming` for something planned; None where it has none
    ("yesterday" never comes). Both are None, with a word in `unsure`, where no such day exists. `period` is
    set where no single day is meant ("in march", "the last three days"); without it the first day of a
    reading is the day ("next week": its Monday). `since` is set where the past reading runs to today.
    """

    start: int
    end: int
    past: Period | None
    coming: Period | None
    unsure: tuple[str, ...] = ()
    period: bool = False
    recurring: bool = False
    since: bool = False


def find_days(words: Sequence[str], now: date | datetime) -> list[DaySpan]:
    """The days in lower-cased `words` (as spaCy splits them), seen from `now`, in order, without overlap."""
    today = now.date() if isinstance(now, datetime) else now
    atoms, origin = split(words)
    found: list[DaySpan] = []
    floor = i = 0
    for k in starts(atoms):
        meant = _ranged(atoms, k, today) if k >= i else None
        if meant is None:
            continue
        begin, meant = _introduced(atoms, k, floor, today, meant)
        floor = i = meant.end
        start, end = span(origin, begin, i)
        if not found or found[-1].end <= start:  # two in one word: the first stands
            m = meant
            found.append(DaySpan(start, end, m.past, m.coming, m.unsure, m.period, m.recurring, m.since))
    return found


# --- two terms ---

_TO = frozenset(("to", "through", "thru", "until", "till", "til", "-", "and"))


def _ranged(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A term, or two of them with "to" between."""
    pair = _numbers_of_a_month(atoms, i, today)
    if pair:
        return pair
    first = term(atoms, i, today)
    if first is None or first.recurring:
        return first
    joint, led = at(atoms, first.end), at(atoms, i - 1)
    if joint == "for" and led == "from":
        span = length(atoms, first.end + 1)
        return lasting(first, span.end, span) if span else first
    if joint not in _TO or (joint == "and" and led != "between"):
        return first
    last = _last_of_two(atoms, first.end + 1, today, led)
    if last is None:
        return _same_month(atoms, i, first, today) or first
    return _between(atoms, i, first, last, today) or first


def _last_of_two(atoms: Sequence[str], i: int, today: date, led: str) -> Meant | None:
    """The second term of two; after "from" and "between", an ordinal, a year or "now" as well."""
    last = term(atoms, i, today)
    if last or led not in ("from", "between", "since"):
        return last
    if at(atoms, i) in ("now", "present"):
        return on(i + 1, today, today)
    year = read_year(atoms, i)
    if year and cal.FIRST_YEAR <= year[0] <= cal.LAST_YEAR:
        return during(year[1], cal.year_of(date(year[0], 1, 1)), today)
    return led_nth(atoms, i, today)


def _between(atoms: Sequence[str], i: int, first: Meant, last: Meant, today: date) -> Meant | None:
    """From the one to the other: the end counts on from the beginning, or the beginning back from the end."""
    past = coming = None
    if first.coming and last.coming:
        end = last.coming
        if end[1] < first.coming[0]:
            again = term(atoms, first.end + 1, first.coming[0])
            end = again.coming if again and again.coming else end
        coming = (first.coming[0], end[1]) if first.coming[0] <= end[1] else None
    if first.past and last.coming and first.past[0] < today:
        again = term(atoms, first.end + 1, first.past[0])
        held = last.coming[1] - first.past[0] > cal.WEEK  # weekdays are the next ones (rule 22)
        if held and again and again.coming == last.coming:
            coming = first.past[0], last.coming[1]
    if first.past and last.past:
        start = first.past
        if start[0] > last.past[1]:
            again = term(atoms, i, last.past[1])
            start = again.past if again and again.past else start
        past = (start[0], last.past[1]) if start[0] <= last.past[1] else None
    if past is None and coming is None and first.past and last.coming:
        coming = first.past[0], last.coming[1]
        past = coming
    if past is None and coming is None:
        return None
    return Meant(last.end, past, coming, tuple(dict.fromkeys(first.unsure + last.unsure)), period=True)


def _same_month(atoms: Sequence[str], i: int, first: Meant, today: date) -> Meant | None:
    """ "july 13 to 15", "august 27th - 29th": the second number is of the same month."""
    j = first.end + 2 if at(atoms, first.end + 1) == "the" else first.end + 1
    number = day_number(atoms, j)
    if not number or at(atoms, i) not in MONTHS or first.period:
        return None

    def upto(p: Period | None) -> Period | None:
        last = cal.day(p[0].year, p[0].month, number[0]) if p else None
        return (p[0], last) if p and last and last > p[0] else None

    past, coming = upto(first.past), upto(first.coming)
    return Meant(number[1], past, coming, period=True) if past or coming else None


def _numbers_of_a_month(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "13 to 15 july", "the 13th to the 15th of july", "4 to 23 next month"."""
    number = day_number(atoms, i + 1 if atoms[i] == "the" else i)
    if not number or not 1 <= number[0] <= 31 or at(atoms, number[1]) not in _TO:
        return None
    j = number[1] + 1
    if at(atoms, j) in MONTHS and at(atoms, i - 1) not in ("from", "between"):
        return None
    dates = written_date(atoms, j, today)
    last = (
        chosen(*dates, today) if dates and not is_fraction(atoms, j, dates[0]) else of_month(atoms, j, today)
    )
    if last is None or at(atoms, j + 1) in ("-", "/"):
        return None

    def since(p: Period | None) -> Period | None:
        start = cal.day(p[1].year, p[1].month, number[0]) if p else None
        return (start, p[1]) if p and start and start < p[1] else None

    past, coming = since(last.past), since(last.coming)
    return Meant(last.end, past, coming, period=True) if past or coming else None


# --- words before a term ---

_TAKEN_IN = frozenset("on by at over during around about until till til".split())
_BEFORE_LONG = frozenset(
    ("in", "from", "between", "through")
)  # of a period only: "put in Thursday" is no "in"


def _introduced(atoms: Sequence[str], i: int, floor: int, today: date, meant: Meant) -> tuple[int, Meant]:
    """Take in the word before a term, and what "since" makes of it."""
    begin = i
    if begin > floor and at(atoms, begin - 1) == "the" and atoms[i] not in NEAR:
        begin -= 1
    last = at(atoms, begin - 1)
    if last == "since" and begin > floor and not meant.recurring:
        start = meant.past or meant.coming
        if start and start[0] <= today:
            return begin - 1, replace(meant, past=(start[0], today), coming=None, period=True, since=True)
    if begin > floor and (last in _TAKEN_IN or (meant.period and last in _BEFORE_LONG)):
        return begin - 1, meant
    return begin, meant
