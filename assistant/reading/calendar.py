"""Plain arithmetic of the calendar: weeks from Monday, months, seasons, holidays. No words of a note here.

    most_recent(dates, today), soonest(dates, today)    which of a yearly day's dates is meant
    Holidays    the rules of lexicon/holidays.csv, worked out for a year

Weeks start on Monday and belong to the month or year that holds their Thursday (ISO 8601). Seasons are those
of the northern hemisphere by the month (common practice, no source).
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from typing import TypeAlias

Period: TypeAlias = tuple[date, date]  # first and last day, both within

FIRST_YEAR, LAST_YEAR = 1900, 2100  # what a keeper can mean
SEASONS = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}  # first month
WEEK = timedelta(days=7)
WEEKDAYS = {
    name: k
    for k, names in enumerate(
        (
            "monday mon",
            "tuesday tue tues",
            "wednesday wed weds",
            "thursday thu thur thurs",
            "friday fri",
            "saturday sat",
            "sunday sun",
        )
    )
    for name in names.split()
}


def day(year: int, month: int, number: int) -> date | None:
    """The date, or None where there is no such day (31 February) or the year is out of reach."""
    if not FIRST_YEAR <= year <= LAST_YEAR or not 1 <= month <= 12:
        return None
    return date(year, month, number) if 1 <= number <= calendar.monthrange(year, month)[1] else None


def shift_months(start: date, months: int) -> date | None:
    """So many months on or back, on the same day or the month's last."""
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    return date(year, month + 1, min(start.day, calendar.monthrange(year, month + 1)[1]))


def week_of(d: date) -> Period:
    """Monday to Sunday around a day."""
    monday = d - timedelta(days=d.weekday())
    return monday, monday + timedelta(days=6)


def weekend_of(d: date) -> Period:
    """Saturday and Sunday of the week of a day."""
    monday = week_of(d)[0]
    return monday + timedelta(days=5), monday + timedelta(days=6)


def month_of(d: date) -> Period:
    """First to last day of the month of a day."""
    return d.replace(day=1), d.replace(day=calendar.monthrange(d.year, d.month)[1])


def quarter_of(d: date) -> Period:
    """First to last day of the quarter of a day."""
    first = date(d.year, 3 * ((d.month - 1) // 3) + 1, 1)
    return first, month_of(shift_months(first, 2) or first)[1]


def year_of(d: date) -> Period:
    """1 January to 31 December of the year of a day."""
    return date(d.year, 1, 1), date(d.year, 12, 31)


def decade_of(d: date) -> Period:
    """The ten years from one that ends in 0."""
    first = d.year // 10 * 10
    return date(first, 1, 1), date(first + 9, 12, 31)


def season(name: str, year: int) -> Period:
    """A season that starts in `year`."""
    first = date(year, SEASONS[name], 1)
    return first, month_of(shift_months(first, 2) or first)[1]


def season_of(d: date) -> Period:
    """The season of a day."""
    first = shift_months(d.replace(day=1), -(d.month % 3)) or d
    return first, month_of(shift_months(first, 2) or first)[1]


def next_weekday(today: date, weekday: int) -> date:
    """The weekday after `today`; the same weekday is seven days on (contract, rule 22)."""
    return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)


def last_weekday(today: date, weekday: int) -> date:
    """The weekday before `today`; the same weekday is seven days back."""
    return today - timedelta(days=(today.weekday() - weekday - 1) % 7 + 1)


def nth_weekday(period: Period, weekday: int, n: int) -> date | None:
    """The nth such weekday of a period (-1 the last one), None where there are fewer."""
    first, last = period
    found = (
        first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (n - 1))
        if n > 0
        else last - timedelta(days=(last.weekday() - weekday) % 7 - 7 * (n + 1))
    )
    return found if first <= found <= last else None


def nth_week(period: Period, n: int) -> Period | None:
    """The nth week (-1 the last one) whose Thursday lies in a period."""
    thursday = nth_weekday(period, 3, n)
    return week_of(thursday) if thursday else None


def easter(year: int) -> date:
    """Easter Sunday, Gregorian: algorithm of Meeus, Jones and Butcher (Meeus, Astronomical Algorithms)."""
    a, (b, c) = year % 19, divmod(year, 100)
    (d, e), g = divmod(b, 4), (8 * b + 13) // 25
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    m = (a + 11 * h) // 319
    r = (2 * e + 2 * i - k - h + m + 32) % 7
    month = (h - m + r + 90) // 25
    return date(year, month, (h - m + r + month + 19) % 32)


class Holidays:
    """Holidays by the words that name them, from rows of holidays.csv: `form`, `rule`.

    Rules: `12-25` month and day; `easter -2` days from Easter Sunday; `11 thu 4` the fourth Thursday of
    November; `5 mon -1` the last Monday of May; a `+1` after either counts days on.
    """

    def __init__(self, rows: Iterable[Mapping[str, str]]) -> None:
        self._rules: dict[tuple[str, ...], str] = {}
        self.by_first: dict[str, list[tuple[str, ...]]] = {}
        for row in rows:
            for form in row["form"].split(";"):
                words = tuple(re.sub(r"('s?)(?![a-z])", r" \1", form.strip()).split())
                if words not in self._rules:
                    self._rules[words] = row["rule"]
                    self.by_first.setdefault(words[0], []).append(words)
        for known in self.by_first.values():
            known.sort(key=len, reverse=True)

    def of(self, words: tuple[str, ...], year: int) -> date | None:
        """The day of a holiday in a year."""
        return holiday(self._rules[words], year)


def holiday(rule: str, year: int) -> date | None:
    """What a rule of holidays.csv gives for a year; ValueError where it is no rule."""
    parts = rule.split()
    if parts[0] == "easter":
        return easter(year) + timedelta(days=int(parts[1]) if len(parts) > 1 else 0)
    if "-" in parts[0]:
        month, number = map(int, parts[0].split("-"))
        found = day(year, month, number)
    else:
        found = nth_weekday(month_of(date(year, int(parts[0]), 1)), WEEKDAYS[parts[1]], int(parts[2]))
        parts = parts[2:]
    return found + timedelta(days=int(parts[1])) if found and len(parts) > 1 else found


def most_recent(dates: Iterable[date | None], today: date) -> date | None:
    """The latest of some dates that is not after `today`."""
    return max((d for d in dates if d and d <= today), default=None)


def soonest(dates: Iterable[date | None], today: date) -> date | None:
    """The earliest of some dates that is not before `today`."""
    return min((d for d in dates if d and d >= today), default=None)
