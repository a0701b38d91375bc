"""Days as people write them above a note or in a file's name.

Only whole dates are looked for here; days inside a sentence ("last Tuesday") belong to the reading.
Sources: ISO 8601 (2026-03-05); the order of 3/5/2026 is that of the United States, and doubted where it
could be another; 5.3.2026 puts the day first, as where the dot is used (CLDR date patterns, from memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time

from assistant.exchange.clean import one_line

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_MONTH = (
    r"(?P<{0}>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?"
    r"|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\b\.?"
)
_NAMED = r"(?:mon|tue(?:s)?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?"
_NTH = r"(?:st|nd|rd|th)?"
_CLOCK = (
    r"(?:(?:T|,?\s+(?:at\s+)?|\s*[-–—]\s+)(?P<hour>\d{1,2})(?::(?P<minute>\d{2})(?::(?P<second>\d{2})(?:\.\d+)?)?"
    r"(?:\s*(?P<half>[ap])\.?m\b\.?)?|\s*(?P<bare>[ap])\.?m\b\.?)(?!\d))?"
)
_DAY = re.compile(
    rf"(?:\b(?P<ahead>{_NAMED})\b\.?,?\s+)?"
    r"(?:"
    r"(?<!\d)(?P<y1>\d{4})(?P<s1>[-/.])(?P<m1>\d{1,2})(?P=s1)(?P<d1>\d{1,2})(?!\d)"
    r"|(?<!\d)(?P<y2>(?:19|20)\d\d)(?P<m2>[01]\d)(?P<d2>[0-3]\d)(?!\d)"
    rf"|(?<!\d)(?:the\s+)?(?P<d3>\d{{1,2}}){_NTH}(?:\s+of)?[\s-]+{_MONTH.format('m3')}(?:,?[\s-]+(?P<y3>\d{{4}})(?!\d))?"
    rf"|\b{_MONTH.format('m4')}[\s-]+(?:the\s+)?(?P<d4>\d{{1,2}}){_NTH}(?!\d|:\d)(?:,?[\s-]+(?P<y4>\d{{4}})(?!\d|:\d))?"
    r"|(?<![\w/.-])(?P<a5>\d{1,2})(?P<s5>[-/.])(?P<b5>\d{1,2})(?P=s5)(?P<y5>\d{4}|\d{2})(?!\d|[-/.:]\d)"
    r")"
    rf"(?:,?\s*\(?\b(?P<after>{_NAMED})\b\)?)?"
    rf"{_CLOCK}",
    re.IGNORECASE,
)
_HEADING = re.compile(r"^\s*#{1,6}\s*")
_AROUND = " \t#*_=~:;,.()[]-–—>|"
_AFTER_DATE = re.compile(r"^\s*(?::|[-–—]+\s)\s*")
LONGEST = 160
"""Characters of the longest line that is looked at as a date line."""


@dataclass(frozen=True, slots=True)
class Day:
    """A day found in `text[start:end]`.

    `said_on` is ISO, with the time where one stands; None where the calendar has no such day. `year_said`
    tells whether the year was there. `doubts` are plain lines.
    """

    said_on: str | None
    start: int
    end: int
    year_said: bool = True
    doubts: tuple[str, ...] = ()


def find_day(text: str, near: date, *, day_first: bool | None = None) -> Day | None:
    """The first date in `text`. Without a year it is the one nearest to `near`.

    `day_first` settles 3/5/2026; None leaves it to the custom of the United States, with a doubt.
    """
    found = _DAY.search(text)
    if found is None:
        return None
    said = one_line(found.group().strip(), 60)
    year, month, number, doubts = _parts(found, said, day_first)
    year_said = year is not None
    day = _date(year, month, number) if year is not None else _nearest(month, number, near)
    if day is None or not 1900 <= day.year < 2200:
        return Day(None, *found.span(), year_said, (f"'{said}' is not a day of the calendar",))
    named = found["ahead"] or found["after"]
    if named and _WEEKDAYS.index(named[:3].lower()) != day.weekday():
        doubts.append(f"'{said}' is a {day:%A}")
    if not year_said:
        doubts.append(f"'{said}' has no year; taken as {day}")
    clock = _clock(found)
    said_on = f"{day}T{clock}" if clock else str(day)
    return Day(said_on, *found.span(), year_said, tuple(doubts))


def date_line(line: str, near: date) -> tuple[Day, str] | None:
    """The day of a line that opens a note, and what else the line says; None for any other line.

    A line of nothing but a date; a date, ": " or " - " and words; a heading ("## …") with a date in it.
    """
    if len(line) > LONGEST:
        return None
    heading = _HEADING.match(line)
    day = find_day(line, near)
    if day is None:
        return None
    before, after = line[: day.start].strip(_AROUND), line[day.end :]
    if before.lower() in ("date", "day", "on"):
        before = ""
    if not before and not after.strip(_AROUND):
        return day, ""
    if heading and day.year_said:
        return day, " ".join(part for part in (before, after.strip(_AROUND)) if part)
    lead = _AFTER_DATE.match(after)
    if before or lead is None or not day.year_said or day.said_on is None:
        return None
    return day, after[lead.end() :]


def day_of_name(stem: str, near: date) -> Day | None:
    """A day, year and all, in a file's name; "_" counts as a space."""
    day = find_day(re.sub(r"(?<=\d)T?[_ ]\d{6}(?!\d)", "", stem).replace("_", " "), near)
    return day if day is not None and day.year_said and day.said_on else None


def _parts(found: re.Match[str], said: str, day_first: bool | None) -> tuple[int | None, int, int, list[str]]:
    for n in ("1", "2"):
        if found["y" + n]:
            return int(found["y" + n]), int(found["m" + n]), int(found["d" + n]), []
    for n in ("3", "4"):
        if found["m" + n]:
            year = found["y" + n]
            month = _MONTHS.index(found["m" + n][:3].lower()) + 1
            return int(year) if year else None, month, int(found["d" + n]), []
    a, b, year = int(found["a5"]), int(found["b5"]), int(found["y5"])
    year += 2000 if year < 100 else 0
    if found["s5"] == "." or a > 12 or b > 12:
        day_first = b <= 12
    elif day_first is None and a != b:
        return year, a, b, [f"'{said}' is read as month, day, year"]
    return (year, b, a, []) if day_first else (year, a, b, [])


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _nearest(month: int, day: int, near: date) -> date | None:
    years = (_date(near.year + step, month, day) for step in (-1, 0, 1))
    return min((d for d in years if d), key=lambda d: abs((d - near).days), default=None)


def _clock(found: re.Match[str]) -> str | None:
    if not found["hour"]:
        return None
    hour, half = int(found["hour"]), (found["half"] or found["bare"] or "").lower()
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "p" else 0)
    try:
        return time(hour, int(found["minute"] or 0), int(found["second"] or 0)).isoformat()
    except ValueError:
        return None
