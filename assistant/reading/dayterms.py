"""Days by their names: "yesterday evening", "last Tuesday", "Friday the 22nd", "Tuesday week", holidays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from assistant.reading import calendar as cal
from assistant.reading.calendar import WEEKDAYS, Holidays, Period
from assistant.reading.dates import REACH, day_of_month, read_year, written_date
from assistant.reading.meant import ONE_DAY, Meant, chosen, on, single
from assistant.reading.tokens import at

NEXT_DOUBT = "'next' read as the coming one"
AGREE_DOUBT = "the weekday and the date do not agree"
PARTS = frozenset(
    "morning morn afternoon evening eve night nite noon midday lunch lunchtime dinner breakfast "
    "midnight".split()
)
NEAR = {
    "today": 0,
    "tonight": 0,
    "tonite": 0,
    "yesterday": -1,
    "tomorrow": 1,
    "tomorrows": 1,
    "tmrw": 1,
    "tmr": 1,
    "tomorow": 1,
}
BACK = frozenset(("last", "past", "previous"))
AHEAD = frozenset(("next", "coming", "following", "upcoming"))
_WEEKS = {
    "this": 0,
    "current": 0,
    "next": 1,
    "following": 1,
    "coming": 1,
    "last": -1,
    "previous": -1,
    "past": -1,
}


def skip_part(atoms: Sequence[str], i: int) -> int:
    """Past a part of a day: "morning", "early in the morning", "at lunch", "first thing"."""
    j = i
    if at(atoms, j) in ("early", "late"):
        j += 1
    if at(atoms, j) in ("in", "at", "by", "during"):
        j += 1
        if at(atoms, j) == "the":
            j += 1
    if at(atoms, j) in PARTS:
        return j + 1
    return i + 2 if at(atoms, i) == "first" and at(atoms, i + 1) == "thing" else i


def near_day(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "today", "tonight", "yesterday evening", "tomorrow morning"."""
    shift = NEAR.get(atoms[i])
    if shift is None:
        return None
    day, end = today + shift * ONE_DAY, skip_part(atoms, i + 1)
    j = end + 1 if at(atoms, end) == "," else end
    if WEEKDAYS.get(at(atoms, j)) == day.weekday() and len(atoms[j]) > 3:  # "today, Sunday"
        end = j + 1
    return on(end, day, today)


def weekday(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A weekday and what belongs to it: a date, "week", "before last", "of next week", a part of the day."""
    number = WEEKDAYS.get(at(atoms, i))
    if number is None:
        return None
    end = i + 2 if at(atoms, i + 1) == "." and len(atoms[i]) < 5 and at(atoms, i + 2) else i + 1
    dated = _dated(atoms, end, today, number)
    if dated:
        return dated
    end = skip_part(atoms, end)
    last, coming = cal.last_weekday(today, number), cal.next_weekday(today, number)
    follows, then = at(atoms, end), at(atoms, end + 1)
    if follows in ("week", "fortnight"):
        return Meant(end + 1, coming=single(coming + (7 if follows == "week" else 14) * ONE_DAY))
    if (follows, then) == ("before", "last"):
        return Meant(end + 2, past=single(last - cal.WEEK))
    if (follows, then) == ("after", "next"):
        return Meant(end + 2, coming=single(coming + cal.WEEK))
    if follows == "gone" or (follows == "just" and then in ("gone", "past")):
        return Meant(end + 1 + (follows == "just"), past=single(last))
    week = which_week(atoms, end, today)
    if week:
        return on(week[1], week[0][0] + number * ONE_DAY, today)
    return Meant(end, single(last), single(coming))


def which_week(atoms: Sequence[str], i: int, today: date) -> tuple[Period, int] | None:
    """The week that a weekday is of ("next week", "of this week"), and where the words end."""
    j = i + 1 if at(atoms, i) == "of" else i
    j = j + 1 if at(atoms, j) == "the" else j
    shift = _WEEKS.get(at(atoms, j))
    if shift is None or at(atoms, j + 1) not in ("week", "wk"):
        return None
    return cal.week_of(today + shift * cal.WEEK), j + 2


def _dated(atoms: Sequence[str], i: int, today: date, number: int) -> Meant | None:
    """ "Friday the 22nd", "Sunday, April 12": the date decides; of several, one that falls on the weekday."""
    j = i + 1 if at(atoms, i) == "," else i
    dates = written_date(atoms, j, today) or day_of_month(atoms, j, today)
    if not dates:
        return None
    end, choices = dates
    fitting = [d for d in choices if d and d.weekday() == number]
    return chosen(end, fitting, today) if fitting else chosen(end, choices, today).doubted(AGREE_DOUBT)


def modified_weekday(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "last Tuesday", "this coming Friday", "next Saturday" (the coming one, with a doubt: rule 19)."""
    word, j = atoms[i], i + 1
    if word in ("this", "the") and at(atoms, j) in BACK | AHEAD:
        word, j = atoms[j], j + 1
    plain = weekday(atoms, j, today) if word in BACK | AHEAD | {"this"} else None
    if plain is None or word == "this":
        return plain
    if word in BACK:
        return replace(plain, coming=None)
    return replace(plain, past=None).doubted(*((NEXT_DOUBT,) if word == "next" and plain.past else ()))


def holiday(atoms: Sequence[str], i: int, today: date, holidays: Holidays) -> Meant | None:
    """ "Thanksgiving", "Easter Monday 2026": the holiday of the year said, or the nearest ones."""
    for words in holidays.by_first.get(at(atoms, i), ()):
        end = i + len(words)
        if tuple(atoms[i:end]) == words:
            grain = at(atoms, end)
            if grain in ("week", "weekend"):
                plain = chosen(end + 1, [holidays.of(words, today.year + k) for k in (-1, 0, 1)], today)
                past, coming = (_around(p[0], grain) if p else None for p in (plain.past, plain.coming))
                return Meant(end + 1, past, coming)
            year = read_year(atoms, end)
            if year:
                inside = cal.FIRST_YEAR <= year[0] <= cal.LAST_YEAR
                return on(year[1], holidays.of(words, year[0]) if inside else None, today)
            years = range(today.year - REACH, today.year + REACH + 1)
            return chosen(end, [holidays.of(words, y) for y in years], today)
    return None


def _around(day: date, grain: str) -> Period:
    """The week of a holiday, or its weekend with the holiday beside it."""
    if grain == "week":
        return cal.week_of(day)
    if day.weekday() == 0:
        return day - 2 * ONE_DAY, day
    saturday, sunday = cal.weekend_of(day)
    return (day if day.weekday() > 2 else saturday), sunday
