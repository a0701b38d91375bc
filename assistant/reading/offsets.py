"""Days counted from another: "three weeks ago", "in ten days", "a week from Friday", "the last two months".

counted(atoms, i, today, term)   `term` reads the day that is counted from
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from assistant.reading import calendar as cal
from assistant.reading.amountwords import VAGUE
from assistant.reading.calendar import WEEKDAYS
from assistant.reading.dayterms import AHEAD, BACK
from assistant.reading.meant import ONE_DAY, Meant, on, resorted, single
from assistant.reading.numbers import is_number_word, read_number
from assistant.reading.tokens import at

Term: TypeAlias = Callable[[Sequence[str], int, date], "Meant | None"]

COUNT_DOUBT = "the number of days is no certain one"
_DAYS = {"day": 1, "night": 1, "week": 7, "wk": 7, "fortnight": 14, "weekend": 7}
_AFTER_A_LENGTH = frozenset(("ago", "from", "later", "or", "and", "we", "i"))
_MONTHS = {"month": 1, "quarter": 3, "year": 12, "yr": 12, "season": 3, "decade": 120}
_HOURS = frozenset(("hour", "hr", "minute", "min", "second", "moment"))
_JOINTS = frozenset(("from", "before", "after", "on"))
_MOST = 1000  # of a unit of time: more is no day
UNITS = frozenset((*_DAYS, *_MONTHS, *_HOURS))
_AGO = frozenset(("ago", "back", "earlier", "since", "prior"))
_ON = frozenset(("hence", "later", "on", "out", "away"))


class Span(NamedTuple):
    """A length of time before atom `end`, `low` to `high` days and months; `sure` for a plain count."""

    end: int
    low: tuple[int, int]  # days, months
    high: tuple[int, int]
    sure: bool = True
    weekday: int | None = None  # "two tuesdays"
    unit: str = "day"


def _unit(word: str) -> tuple[str, int, int] | None:
    """The unit, days and months of one of it."""
    for stem in (word, word[:-1] if word.endswith("s") else word):
        if stem in _DAYS:
            return stem, _DAYS[stem], 0
        if stem in _MONTHS:
            return stem, 0, _MONTHS[stem]
        if stem in _HOURS:
            return stem, 0, 0
    return None


def _count(atoms: Sequence[str], i: int) -> tuple[Fraction, Fraction, int, bool] | None:
    """How many: low, high, end, and whether it is a plain count."""
    word = at(atoms, i)
    if word in ("about", "around", "roughly", "maybe"):
        i, word = i + 1, at(atoms, i + 1)
    j = i + 1 if word in ("a", "an", "another") else i
    if at(atoms, j) in VAGUE:
        low, _, high = VAGUE[atoms[j]]
        end = j + 2 if at(atoms, j + 1) in ("of", "more") else j + 1
        return Fraction(low), Fraction(high), end, False
    if j > i:
        one = Fraction(3, 2) if at(atoms, i + 2) == "and" and at(atoms, i + 4) == "half" else Fraction(1)
        return one, one, j, True
    if word == "half" and at(atoms, i + 1) in ("a", "an"):
        return Fraction(1, 2), Fraction(1, 2), i + 2, True
    number = read_number(atoms, i) if is_number_word(word) else None
    if not number or number.value > _MOST:
        return None
    if at(atoms, number.end) in ("or", "to", "-", "maybe"):
        more = read_number(atoms, number.end + 1)
        if more and number.value < more.value <= _MOST:
            return number.value, more.value, more.end, False
    return number.value, number.value, number.end, True


def length(atoms: Sequence[str], i: int, parts: int = 3) -> Span | None:
    """A length of time: "three weeks", "a week or two", "1 month and 21 days", "two tuesdays"."""
    count = _count(atoms, i)
    if not count:
        return None
    low, high, j, sure = count
    j = j + 1 if at(atoms, j) in ("more", "upcoming", "good", "full", "whole", "long", "short", "-") else j
    word = at(atoms, j)
    weekday = WEEKDAYS.get(word.removesuffix("s"), WEEKDAYS.get(word))
    if weekday is not None and (word.endswith("s") or low == 1) and len(word) > 3:
        return Span(j + 1, (int(low) * 7, 0), (int(high) * 7, 0), sure, weekday)
    unit = _unit(word)
    if not unit:
        return None
    name, days, months = unit
    if name == "quarter" and at(atoms, j + 1).isalpha() and at(atoms, j + 1) not in _AFTER_A_LENGTH:
        return None  # "in a quarter | cup"
    if name == "weekend":
        return Span(j + 1, (int(low) * 7, 0), (int(high) * 7, 0), sure, WEEKDAYS["saturday"], name)
    end = j + 1
    if low == Fraction(3, 2) and at(atoms, i) in ("a", "an"):
        end = j + 4  # "a week and a half"
    if at(atoms, end) == "or" and at(atoms, end + 1) in ("so", "two", "three"):
        extra = {"so": high, "two": Fraction(2), "three": Fraction(3)}[atoms[end + 1]]
        high, sure, end = max(high, extra), False, end + 2
    lows, highs = _size(low, days, months), _size(high, days, months)
    j = end + 1 if at(atoms, end) in ("and", ",") else end
    more = length(atoms, j, parts - 1) if sure and parts > 1 and is_number_word(at(atoms, j)) else None
    if more and more.sure and more.unit != name and more.weekday is None:
        lows = highs = (lows[0] + more.low[0], lows[1] + more.low[1])
        end = more.end
    return Span(end, lows, highs, sure, None, name)


def _size(count: Fraction, days: int, months: int) -> tuple[int, int]:
    """Whole days and months of a count of units; a part of a month is taken in days of a thirtieth."""
    if months and (count * months).denominator != 1:
        return round(count * months * 30), 0
    return round(count * days), int(count * months)


def counted(atoms: Sequence[str], i: int, today: date, term: Term) -> Meant | None:
    """Any day or period that is counted off in words, from today or from another day."""
    word = at(atoms, i)
    if word in ("in", "within"):
        ago = length(atoms, i + 1)  # "put in | a week ago"
        return None if ago and at(atoms, ago.end) == "ago" else _ahead(atoms, i, today)
    if word == "the":
        after = at(atoms, i + 1), at(atoms, i + 2)
        if after[0] == "day" and after[1] in ("before", "after"):
            return _from_term(atoms, i + 2, Span(i + 2, (1, 0), (1, 0)), today, term)
        if after[0] in BACK | AHEAD:
            return _rolling(atoms, i + 1, today)
        return None
    if word in BACK | AHEAD:
        return _rolling(atoms, i, today)
    if word == "day" and at(atoms, i + 1) in ("before", "after"):
        return _from_term(atoms, i + 1, Span(i + 1, (1, 0), (1, 0)), today, term)
    if word == "week" and at(atoms, i + 1) in ("on", "from"):
        return _from_term(atoms, i + 1, Span(i + 1, (7, 0), (7, 0)), today, term)
    return _stated(atoms, i, today, term)


def _stated(atoms: Sequence[str], i: int, today: date, term: Term) -> Meant | None:
    """A length and what it is counted from: "ago", "from now", "before yesterday", "more"."""
    span = length(atoms, i)
    if not span:
        return None
    word, j = at(atoms, span.end), span.end
    if word in _AGO and word != "since":
        return _back(span, j + 1, today, atoms, term)
    if word in _ON and word not in ("on", "out", "away"):
        return _forward(span, j + 1, today)
    if word == "from" and at(atoms, j + 1) == "now":
        return _forward(span, j + 2, today)
    if word in ("today", "tomorrow") and span.unit in ("week", "fortnight"):  # "a week tomorrow"
        return _from_term(atoms, j - 1, span, today, term)
    if at(atoms, i - 1) == "for" and word in ("from", "starting", "beginning", ",") and span.weekday is None:
        return _lasting(atoms, j, span, today, term)
    if word in ("from", "before", "after", "on") and span.weekday is None:
        return _from_term(atoms, j, span, today, term)
    if word == "time" or (word == "'" and at(atoms, j + 1) == "time"):
        return None
    if at(atoms, i) == "another" or at(atoms, j - 2) == "more":
        return _forward(span, j, today)
    if at(atoms, i - 2) == "give" and at(atoms, i - 1) in ("it", "them", "this", "that"):
        return _forward(span, j, today)
    return None


def _ahead(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "in three weeks", "in a couple of days", "within ten days"."""
    j = i + 1
    j = j + 1 if at(atoms, j) in ("about", "around", "roughly", "maybe", "like", "another", "the") else j
    j = j + 1 if at(atoms, j) in ("next", "upcoming") and at(atoms, i) == "within" else j
    j = j - 1 if at(atoms, j - 1) == "another" else j
    span = length(atoms, j)
    if not span or span.weekday is not None:
        return None
    end = span.end
    if at(atoms, end) == "'" or at(atoms, end) == "'s":
        end += 1
    end = end + 1 if at(atoms, end) == "time" else end
    end = end + 2 if at(atoms, end) == "from" and at(atoms, end + 1) in ("now", "today") else end
    if atoms[i] == "within":
        last = _moved(today, span.high, 1)
        return Meant(end, coming=(today, last), period=True) if last else None
    return _forward(span, end, today)


def _moved(today: date, size: tuple[int, int], sign: int) -> date | None:
    day = cal.shift_months(today, sign * size[1])
    return day + sign * size[0] * ONE_DAY if day else None


def _forward(span: Span, end: int, today: date) -> Meant | None:
    if span.weekday is not None:
        first = cal.next_weekday(today, span.weekday) + (span.low[0] - 7) * ONE_DAY
        return Meant(end, coming=cal.weekend_of(first) if span.unit == "weekend" else single(first))
    low, high = _moved(today, span.low, 1), _moved(today, span.high, 1)
    if not low or not high:
        return on(end, None, today)
    meant = Meant(end, coming=(low, high if not span.sure else low))
    return meant if span.sure else meant.doubted(COUNT_DOUBT)


def _back(span: Span, end: int, today: date, atoms: Sequence[str], term: Term) -> Meant | None:
    """ "three days ago", "two thursdays ago", "a week ago Friday", "a week ago yesterday"."""
    if span.weekday is not None:
        day = cal.last_weekday(today, span.weekday) - (span.low[0] - 7) * ONE_DAY
        return Meant(end, past=cal.weekend_of(day) if span.unit == "weekend" else single(day))
    j = end + 1 if at(atoms, end) in ("last", "on") else end
    if span.unit in ("week", "fortnight") and at(atoms, j) in WEEKDAYS and len(atoms[j]) > 3:
        day = cal.last_weekday(today, WEEKDAYS[atoms[j]]) - span.low[0] * ONE_DAY
        return Meant(j + 1, past=single(day))
    if at(atoms, end) in ("today", "yesterday", "tomorrow"):
        return _from(span, term(atoms, end, today), -1, today)
    low, high = _moved(today, span.high, -1), _moved(today, span.low, -1)
    if not low or not high:
        return on(end, None, today)
    meant = Meant(end, past=(high if span.sure else low, high))
    return meant if span.sure else meant.doubted(COUNT_DOUBT)


def _lasting(atoms: Sequence[str], j: int, span: Span, today: date, term: Term) -> Meant | None:
    """ "for three days from today", "for two weeks starting may 20th": the first day counts."""
    j = j + 1 if atoms[j] == "," else j
    if at(atoms, j) not in ("from", "starting", "beginning"):
        return None
    base = term(atoms, j + 2 if at(atoms, j + 1) == "on" else j + 1, today)
    return lasting(base, base.end, span) if base else None


def lasting(base: Meant, end: int, span: Span) -> Meant:
    """A period that begins on a day and lasts a length of time."""
    last = base.moved(end, span.high[0] - 1, span.high[1])
    past = (base.past[0], last.past[1]) if base.past and last.past else None
    coming = (base.coming[0], last.coming[1]) if base.coming and last.coming else None
    return Meant(end, past, coming, base.unsure, period=True)


def _from_term(atoms: Sequence[str], j: int, span: Span, today: date, term: Term) -> Meant | None:
    """ "a week from Friday", "two days before yesterday", "three days after Easter": `j` is at the joint."""
    nested = sum(word in _JOINTS for word in atoms[j : j + 9])
    base = term(atoms, j + 1, today) if nested < 3 else None
    if base is None or base.period or (atoms[j] == "on" and span.unit not in ("week", "fortnight", "day")):
        return None
    if atoms[j] not in ("before", "after") and base.coming:
        base = Meant(base.end, None, base.coming, base.unsure)
    return _from(span, base, -1 if atoms[j] == "before" else 1, today)


def _from(span: Span, base: Meant | None, sign: int, today: date) -> Meant | None:
    if base is None:
        return None
    moved = resorted(base.moved(base.end, sign * span.low[0], sign * span.low[1]), today)
    return moved if span.sure else moved.doubted(COUNT_DOUBT)


def _rolling(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the last three days", "past few weeks", "next 10 days": back from today, or on from tomorrow."""
    if at(atoms, i + 1) in ("a", "an", "another") or not _count(atoms, i + 1):
        return None
    span = length(atoms, i + 1)
    if not span or span.weekday is not None:
        return None
    doubts = () if span.sure else (COUNT_DOUBT,)
    if atoms[i] in BACK:
        first = _moved(today, span.high, -1)
        return Meant(span.end, past=(first, today), period=True, unsure=doubts) if first else None
    last = _moved(today, span.high, 1)
    if not last:
        return None
    tomorrow = today + ONE_DAY
    return Meant(span.end, coming=(min(tomorrow, last), last), period=True, unsure=doubts)
