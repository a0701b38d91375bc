"""Dates by month and number: "march third 2015", "the third of march", "2026-03-14", "3/14", "14.3.", "the
21st".

written_date(atoms, i, today)   a date with a month
day_of_month(atoms, i, today)   an ordinal alone
read_year(atoms, i)             "2026", "twenty twenty six"
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypeAlias

from assistant.reading import calendar as cal
from assistant.reading.numbers import SMALL, read_number, read_ordinal
from assistant.reading.tokens import MONTHS, at

Dates: TypeAlias = tuple[int, list[date | None]]  # where the words end, and the days that they may mean

ON_DAY = frozenset(
    ("on", "by", "since", "until", "till", "before", "after")
)  # what a date in figures may follow
REACH = 8  # years to either side of today in which a date without a year is sought: 29 February needs them
_VERBS_AFTER_MAY = frozenset(("be", "have", "not", "need", "do", "as", "well"))
_ORDINAL_MONTHS = ("may", "march")  # verbs too: their day is an ordinal or in figures


def day_number(atoms: Sequence[str], i: int) -> tuple[int, int] | None:
    """A number that may be a day of the month ("3", "3rd", "third", "twenty one"), and where it ends."""
    place = read_ordinal(atoms, i)
    if place:
        return place
    word = at(atoms, i)
    if word.isdecimal():
        return (int(word), i + 1) if len(word) <= 2 else None
    tens = SMALL.get(word, 0)
    unit = SMALL.get(at(atoms, i + 1), 0) if tens >= 20 else 0
    if 0 < unit < 10:
        return tens + unit, i + 2
    return (tens, i + 1) if tens else None


def read_year(atoms: Sequence[str], i: int) -> tuple[int, int] | None:
    """A year, and where it ends: "2026", "twenty twenty six", "two thousand and eighteen"."""
    j = i + 1 if at(atoms, i) == "," else i
    word, follows = at(atoms, j), at(atoms, j + 1)
    if word.isdecimal():
        return (int(word), j + 1) if len(word) == 4 and follows not in ("/", "-", ":") else None
    if word in ("nineteen", "twenty"):
        century = 100 * SMALL[word]
        if follows in ("oh", "zero") and 0 < SMALL.get(at(atoms, j + 2), 0) < 10:
            return century + SMALL[atoms[j + 2]], j + 3
        rest = day_number(atoms, j + 1) if SMALL.get(follows, 0) > 9 else None
        return (century + rest[0], rest[1]) if rest and rest[0] < 100 else None
    if word in SMALL and follows in ("thousand", "hundred"):
        number = read_number(atoms, j)
        if number and cal.FIRST_YEAR <= number.value <= cal.LAST_YEAR and number.value.denominator == 1:
            return int(number.value), number.end
    return None


def _in_years(month: int, number: int, year: int | None, today: date) -> list[date | None]:
    years = [year] if year is not None else range(today.year - REACH, today.year + REACH + 1)
    return [cal.day(y, month, number) for y in years]


def written_date(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    """A date with its month, in words or figures, and every day that it may mean; else None."""
    word = at(atoms, i)
    if word in MONTHS:
        return _month_first(atoms, i, today)
    if word.isdecimal() and at(atoms, i + 1) in ("-", "/"):
        found = _in_figures(atoms, i, today)
        if found:
            return found
    if "." in word and word[0].isdecimal():
        return _dotted(atoms, i, today)
    return _day_first(atoms, i, today)


def _end_of_month_name(atoms: Sequence[str], i: int) -> int:
    """Past a month and the point after a short one."""
    return i + 2 if at(atoms, i + 1) == "." and _shortened(atoms[i]) and at(atoms, i + 2) != "" else i + 1


def _shortened(name: str) -> bool:
    """Whether a month's name is cut short; a point after a full name ends the sentence."""
    return len(name) < 5 and name not in ("may", "june", "july")


def _day_first(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    number = day_number(atoms, i + 1 if at(atoms, i) == "the" else i)
    if not number:
        return None
    value, j = number
    if at(atoms, j) == "day" and at(atoms, j + 1) in ("of", "in"):
        j += 1
    if at(atoms, j) in (".", "-", "/", "of", "in"):
        j += 1
    month = MONTHS.get(at(atoms, j))
    if month is None or (atoms[j] == "may" and at(atoms, j + 1) in _VERBS_AFTER_MAY):
        return None
    end = _end_of_month_name(atoms, j)
    if at(atoms, end) in ("-", "/"):
        short = _short_year(atoms, end + 1)
        if short:
            return short[1], _in_years(month, value, short[0], today)
    year = read_year(atoms, end)
    return (year[1] if year else end), _in_years(month, value, year[0] if year else None, today)


def _month_first(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    j = _end_of_month_name(atoms, i)
    j = j + 1 if at(atoms, j) == "the" else j
    number = day_number(atoms, j)
    if not number or (atoms[i] in _ORDINAL_MONTHS and atoms[j] in SMALL and not read_ordinal(atoms, j)):
        return None
    if not read_ordinal(atoms, j) and at(atoms, number[1]) in (":", "%"):
        return None
    year = read_year(atoms, number[1])
    return (year[1] if year else number[1]), _in_years(
        MONTHS[atoms[i]], number[0], year[0] if year else None, today
    )


def _short_year(atoms: Sequence[str], i: int) -> tuple[int, int] | None:
    """A year of two or four digits, and where it ends."""
    word = at(atoms, i)
    if not word.isdecimal() or len(word) not in (2, 4):
        return None
    value = int(word)
    return (value + (2000 if value < 50 else 1900) if len(word) == 2 else value), i + 1


def _in_figures(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    """A date cut at "-" or "/": "2026-03-14", "3/14/14", "31-oct-74", "2019/aug/01", "3/14"."""
    mark, first, second = atoms[i + 1], atoms[i], at(atoms, i + 2)
    third = at(atoms, i + 4) if at(atoms, i + 3) == mark else ""
    if len(first) not in (1, 2, 4):
        return None
    if len(first) == 4:
        month = MONTHS.get(second) or (int(second) if second.isdecimal() and len(second) < 3 else 0)
        number = _leading_number(third)
        return (i + 5, [cal.day(int(first), month, number)]) if month and number else None
    month_name = MONTHS.get(second)
    if month_name or (second.isdecimal() and len(second) < 3 and third.isdecimal()):
        year = _short_year(atoms, i + 4) if third else None
        if not year:
            return None
        found = (
            cal.day(year[0], month_name, int(first)) if month_name else _us(year[0], int(first), int(second))
        )
        return i + 5, [found]
    led = at(atoms, i - 1) in ON_DAY
    if (
        (mark == "/" or (led and at(atoms, i + 3) != "%"))
        and second.isdecimal()
        and len(second) < 3
        and not third
        and min(int(first), int(second)) <= 12  # "72/68" are no day and month
        and max(int(first), int(second)) <= 31
    ):
        return i + 3, [_us(y, int(first), int(second)) for y in _years_around(today)]
    return None


def year_and_month(atoms: Sequence[str], i: int) -> tuple[int, int, int] | None:
    """A month in figures, "2016-11", "11/2016": where it ends, the year and the month."""
    first, mark, second = at(atoms, i), at(atoms, i + 1), at(atoms, i + 2)
    if mark not in ("-", "/") or not second.isdecimal() or at(atoms, i + 3) in ("-", "/", "%"):
        return None
    year, month = (first, second) if len(first) == 4 else (second, first)
    if len(year) != 4 or len(month) > 2 or not cal.FIRST_YEAR <= int(year) <= cal.LAST_YEAR:
        return None
    return (i + 3, int(year), int(month)) if 1 <= int(month) <= 12 else None


def _leading_number(word: str) -> int:
    """The number of "03" or of "3rd", else 0."""
    digits = word.rstrip("stndrh")
    return int(digits) if digits.isdecimal() and len(digits) < 3 else 0


def _years_around(today: date) -> range:
    return range(today.year - REACH, today.year + REACH + 1)


def _us(year: int, first: int, second: int) -> date | None:
    """Month then day, as in US writing, unless only day then month can be."""
    return cal.day(year, first, second) or cal.day(year, second, first)


def _dotted(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    """ "14.3." and "14.03.2026" (day first), "2015.5.13"; two parts only where a day must stand."""
    parts = atoms[i].split(".")
    if not all(part.isdecimal() and len(part) in (1, 2, 4) for part in parts) or not 2 <= len(parts) <= 3:
        return None
    numbers = [int(part) for part in parts]
    if len(parts) == 3 and len(parts[0]) == 4:
        return i + 1, [cal.day(*numbers)]
    if len(parts) == 3:
        year = numbers[2] + (2000 if len(parts[2]) == 2 else 0)
        return i + 1, [cal.day(year, numbers[1], numbers[0]) or cal.day(year, numbers[0], numbers[1])]
    if at(atoms, i - 1) in ON_DAY or (at(atoms, i + 1) == "." and at(atoms, i - 1) in ("", "\n")):
        end = i + 2 if at(atoms, i + 1) == "." else i + 1
        return end, [cal.day(y, numbers[1], numbers[0]) or cal.day(y, *numbers) for y in _years_around(today)]
    return None


def day_of_month(atoms: Sequence[str], i: int, today: date) -> Dates | None:
    """An ordinal alone, "the 21st", or "the 27" in figures: that day of every month around today."""
    j = i + 1 if at(atoms, i) == "the" else i
    word = at(atoms, j)
    place = read_ordinal(atoms, j) or (
        (int(word), j + 1) if j > i and word.isdecimal() and len(word) < 3 else None
    )
    return (place[1], in_months(place[0], today)) if place else None


def in_months(number: int, today: date) -> list[date | None]:
    """A day of the month, in each month from a year back to a year on."""
    first = today.replace(day=1)
    months = [cal.shift_months(first, k) for k in range(-12, 13)]
    return [cal.day(m.year, m.month, number) for m in months if m]
