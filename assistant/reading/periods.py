"""Weeks, months, seasons and years by their words, their parts, and the nth day of one.

period(atoms, i, today)    "last week", "next month", "this spring", "the week before last", "march 2025"
part_of(atoms, i, today)   "end of june", "early next week", "rest of the week", "mid-july"
nth_of(atoms, i, today)    "first tuesday of october", "last weekend of july"
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from assistant.reading import calendar as cal
from assistant.reading.calendar import SEASONS, WEEKDAYS, Period
from assistant.reading.dates import REACH, read_year, year_and_month
from assistant.reading.dayterms import AHEAD, BACK, NEXT_DOUBT
from assistant.reading.meant import ONE_DAY, Meant, during, either, on, single
from assistant.reading.numbers import ordinal
from assistant.reading.tokens import MONTHS, at

SEASON_DOUBT = "a season is no certain day"
MONTH_DOUBT = "a month is no certain day"
GRAINS = {
    "week": "week",
    "wk": "week",
    "weekend": "weekend",
    "wkend": "weekend",
    "month": "month",
    "quarter": "quarter",
    "year": "year",
    "yr": "year",
    "season": "season",
    "seasons": "season",
    "decade": "decade",
}
_AROUND: dict[str, Callable[[date], Period]] = {
    "week": cal.week_of,
    "weekend": cal.weekend_of,
    "month": cal.month_of,
    "quarter": cal.quarter_of,
    "season": cal.season_of,
    "year": cal.year_of,
    "decade": cal.decade_of,
}
_MONTHS_IN = {"month": 1, "quarter": 3, "season": 3, "year": 12, "decade": 120}
_DAYS_IN = {"week": 7, "weekend": 7}
YEAR_AFTER = frozenset(("in", "since", "during", "from", "until", "till", "through", "of", "for"))
_LATELY = 100  # days
_NOW = frozenset(("this", "current"))


def grain_at(atoms: Sequence[str], i: int) -> tuple[str, int] | None:
    """ "week", "week-end", "month" ...: what kind of period, and where the word ends."""
    if at(atoms, i) == "week" and at(atoms, i + 1) == "-" and at(atoms, i + 2) == "end":
        return "weekend", i + 3
    grain = GRAINS.get(at(atoms, i))
    return (grain, i + 1) if grain else None


def around(grain: str, today: date, shift: int = 0) -> Period | None:
    """The period of a grain that holds today, or one so many on or back."""
    if grain in _DAYS_IN:
        return _AROUND[grain](today + shift * _DAYS_IN[grain] * ONE_DAY)
    day = cal.shift_months(today.replace(day=1), shift * _MONTHS_IN[grain])
    return _AROUND[grain](day) if day else None


def _meant(end: int, grain: str, when: Period | None, today: date) -> Meant | None:
    """A period as it is meant: a coming week or a weekend stands for its first day, a longer one for none."""
    if when is None:
        return None
    ahead = when[0] > today
    doubts = () if grain in _DAYS_IN else (SEASON_DOUBT if grain == "season" else MONTH_DOUBT,)
    meant = during(end, when, today, period=not ((ahead and grain in _DAYS_IN) or grain == "weekend"))
    return meant.doubted(*(doubts if ahead else ()))


def period(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A week, month, season or year that is named or counted from now."""
    word = at(atoms, i)
    j = i + 1 if word in ("the", "this") and at(atoms, i + 1) in BACK | AHEAD | _NOW else i
    word = at(atoms, j)
    if word in BACK | AHEAD | _NOW:
        return _modified(atoms, j, today)
    if word == "the":
        return _before_last(atoms, i + 1, today) or _the(atoms, i, today)
    return _before_last(atoms, i, today) or named(atoms, i, today)


def _modified(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "last week", "this month", "next spring", "last march"."""
    word = atoms[i]
    shift = -1 if word in BACK else 1 if word in AHEAD else 0
    found = grain_at(atoms, i + 1)
    if found:
        grain, end = found
        when = around(grain, today, shift)
        if grain == "weekend" and shift == 1 and word == "next" and today.weekday() < 5:
            return Meant(end, coming=around(grain, today), unsure=(NEXT_DOUBT,))
        return _meant(end, grain, when, today)
    plain = named(atoms, i + 1, today)
    if plain is None or read_year(atoms, plain.end - 1):
        return None
    if shift == 0:
        inside = plain.coming if plain.coming and plain.coming[0].year == today.year else None
        inside = inside or (plain.past if plain.past and plain.past[1].year == today.year else plain.coming)
        meant = during(plain.end, inside, today).doubted(*plain.unsure) if inside else plain
        if (
            meant.past is None and plain.past and (today - plain.past[1]).days < _LATELY
        ):  # "this winter", in March
            meant = replace(meant, past=plain.past)
        return meant
    if shift < 0:
        recent = _finished(plain, atoms, i + 1, today)
        return Meant(plain.end, past=recent, period=True)
    later = [p for p in _yearly(atoms, i + 1, today) if p[0] > today]
    return Meant(plain.end, coming=min(later, default=None), period=True).doubted(*plain.unsure)


def _finished(plain: Meant, atoms: Sequence[str], i: int, today: date) -> Period | None:
    return max((p for p in _yearly(atoms, i, today) if p[1] < today), default=plain.past)


def _yearly(atoms: Sequence[str], i: int, today: date) -> list[Period]:
    """A month or season of every year around today."""
    years = range(today.year - REACH, today.year + REACH + 1)
    word = at(atoms, i)
    if word in MONTHS:
        return [cal.month_of(date(y, MONTHS[word], 1)) for y in years]
    return [cal.season(word, y) for y in years] if word in SEASONS else []


def named(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A month or season by name, with its year where one is said: "march", "june 2025", "winter"."""
    word = at(atoms, i)
    figures = year_and_month(atoms, i) if word.isdecimal() else None
    if figures:
        return during(figures[0], cal.month_of(date(figures[1], figures[2], 1)), today)
    if word.isdecimal() and len(word) == 4:
        j = i + 2 if at(atoms, i + 1) in (",", "-", "/") else i + 1
        if at(atoms, j) in MONTHS and cal.FIRST_YEAR <= int(word) <= cal.LAST_YEAR:
            return during(j + 1, cal.month_of(date(int(word), MONTHS[atoms[j]], 1)), today)
        return None
    choices = _yearly(atoms, i, today)
    if not choices:
        return None
    end = i + 2 if at(atoms, i + 1) == "." and len(word) < 5 and at(atoms, i + 2) else i + 1
    year = read_year(atoms, end) or (read_year(atoms, end + 1) if at(atoms, end) == "of" else None)
    if year is None and at(atoms, end) in ("next", "last", "this") and at(atoms, end + 1) == "year":
        year = today.year + {"next": 1, "last": -1, "this": 0}[atoms[end]], end + 2
    if year and cal.FIRST_YEAR <= year[0] <= cal.LAST_YEAR:
        start = MONTHS.get(word) or SEASONS[word]
        when = cal.month_of(date(year[0], start, 1)) if word in MONTHS else cal.season(word, year[0])
        return during(year[1], when, today)
    return either(end, choices, today).doubted(SEASON_DOUBT if word in SEASONS else MONTH_DOUBT)


def quarter(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "q3 2026", "2026 q3", "third quarter of 2026", "the first quarter"."""
    year = read_year(atoms, i)
    j = year[1] if year else i
    j = j + 1 if at(atoms, j) == "the" else j
    word = at(atoms, j)
    number = int(word[1]) if len(word) == 2 and word[0] == "q" and word[1] in "1234" else 0
    end = j + 1
    if not number and at(atoms, j + 1) == "quarter":
        number, end = ordinal(word) or 0, j + 2
    if not 1 <= number <= 4:
        return None
    j = end + 1 if at(atoms, end) == "of" else end
    if year is None:
        year = read_year(atoms, j)
        end = year[1] if year else end
    if year is None and at(atoms, j) in ("this", "last", "next", "the") and at(atoms, j + 1) == "year":
        year, end = (today.year + {"last": -1, "next": 1}.get(atoms[j], 0), 0), j + 2
    years = [year[0]] if year else range(today.year - 2, today.year + 3)
    found = [cal.quarter_of(date(y, 3 * number, 1)) for y in years if cal.FIRST_YEAR <= y <= cal.LAST_YEAR]
    return during(end, found[0], today) if year and found else either(end, found, today).doubted(MONTH_DOUBT)


def year_alone(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "2025", after a word that goes before years."""
    year = read_year(atoms, i)
    if not year or at(atoms, i - 1) not in YEAR_AFTER or not cal.FIRST_YEAR <= year[0] <= cal.LAST_YEAR:
        return None
    return during(year[1], cal.year_of(date(year[0], 1, 1)), today)


def _before_last(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the week before last", "the weekend after next", "the month after the next"."""
    found = grain_at(atoms, i)
    if not found or at(atoms, found[1]) not in ("before", "after"):
        return None
    j = found[1] + 2 if at(atoms, found[1] + 1) == "the" else found[1] + 1
    pair = atoms[found[1]], at(atoms, j)
    shift = {("before", "last"): -2, ("after", "next"): 2}.get(pair)
    if shift is None:
        return None
    end = j + 2 if at(atoms, j + 1) == atoms[i] else j + 1
    return _meant(end, found[0], around(found[0], today, shift), today)


def _the(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the weekend" (the nearest one either way)."""
    found = grain_at(atoms, i + 1)
    return weekend(found[1], today) if found and found[0] == "weekend" else None


def weekend(end: int, today: date) -> Meant:
    """The last and the next weekend; on one of its days, this one."""
    this = cal.weekend_of(today)
    if today >= this[0]:
        return Meant(end, this, this)
    return Meant(end, cal.weekend_of(today - cal.WEEK), this)


# --- parts of a period --------------------------------------------------------------------------------------

_FIRST = frozenset(("beginning", "start", "early", "begin"))
_MIDDLE = frozenset(("middle", "mid", "midway"))
_LAST = frozenset(("end", "late"))
PART_WORDS = _FIRST | _MIDDLE | _LAST | {"rest", "later", "earlier", "remainder"}


def part_of(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "end of june", "beginning of next week", "early march", "rest of the week", "later this month"."""
    j = i + 1 if at(atoms, i) in ("the", "so") else i
    word = at(atoms, j)
    if word not in PART_WORDS and (at(atoms, i), word) != ("so", "far"):
        return None
    k = j + 1
    joined = at(atoms, k) in ("of", "in", "-")
    k = k + 1 if joined else k
    k = k + 1 if at(atoms, k) in ("around", "about") else k
    whole = _whole(atoms, k, today, joined)
    if whole is None:
        return None
    if word in ("rest", "remainder", "later"):
        return (
            Meant(whole.end, coming=_clip(whole.coming, today, True), period=True) if whole.coming else None
        )
    if word in ("earlier", "far"):
        return Meant(whole.end, past=_clip(whole.past, today, False), period=True) if whole.past else None
    if word == "late" and not joined and at(atoms, k) in ("the", "my"):
        return None
    return _cut(whole, word, today)


def _clip(when: Period | None, today: date, ahead: bool) -> Period | None:
    if when is None:
        return None
    return (max(when[0], today), when[1]) if ahead else (when[0], min(when[1], today))


def _whole(atoms: Sequence[str], i: int, today: date, joined: bool) -> Meant | None:
    """The period that a part is of; "the week" and "the month" are the present ones."""
    j = i + 1 if at(atoms, i) in ("the", "my", "this") else i
    found = grain_at(atoms, j)
    if found and (j > i or joined) and at(atoms, found[1]) not in ("before", "after", "of"):
        when = around(found[0], today)
        return during(found[1], when, today) if when else None
    year = read_year(atoms, i)
    if year and joined and cal.FIRST_YEAR <= year[0] <= cal.LAST_YEAR:
        return during(year[1], cal.year_of(date(year[0], 1, 1)), today)
    return period(atoms, i, today)


def _cut(whole: Meant, word: str, today: date) -> Meant:
    """The part of each reading; a past one has begun, a coming one not ended."""
    past, coming = (_cut_one(p, word) if p else None for p in (whole.past, whole.coming))
    past = past if past and past[0] <= today else None
    coming = coming if coming and coming[1] >= today else None
    one = past or coming
    return Meant(whole.end, past, coming, period=one is not None and (one[1] - one[0]).days > 6)


def _cut_one(when: Period, word: str) -> Period:
    """The first, middle or last part; the "end" of a month or a year is its last day."""
    first, last = when
    which = 0 if word in _FIRST else 1 if word in _MIDDLE else 2
    days = (last - first).days + 1
    if days < 7:  # a weekend
        return single(first if which == 0 else last)
    if days == 7:  # Monday to Wednesday, Tuesday to Friday, Friday to Sunday or ("late") Thursday to Sunday
        start, end = ((0, 2), (1, 4), (4 if word == "end" else 3, 6))[which]
        return first + start * ONE_DAY, first + end * ONE_DAY
    if word == "end":
        return single(last)
    if days <= 31:
        start, end = ((1, 10), (11, 20), (21, last.day))[which]
        return first.replace(day=start), first.replace(day=end)
    months = round(days / 30.4)  # of a year: January to March, May to August, September on
    early = months // 4 or 1
    start, end = ((0, early), (months // 3, 2 * months // 3), (2 * months // 3, months))[which]
    begin, close = cal.shift_months(first, start) or first, cal.shift_months(first, end)
    return begin, (close - ONE_DAY if close else last)


# --- the nth of a period ------------------------------------------------------------------------------------


def nth_of(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "first tuesday of october", "the last weekend of july", "third week of this month"."""
    j = i + 1 if at(atoms, i) == "the" else i
    word = at(atoms, j)
    n = -1 if word in ("last", "final") else ordinal(word) or 0
    j += 1
    if n > 0 and at(atoms, j) in ("last", "to"):  # "second last week", "second to last day"
        n, j = -n, j + 1 if atoms[j] == "last" else j + 2
    if not n or not -6 < n < 32:
        return None
    day = WEEKDAYS.get(at(atoms, j))
    found = grain_at(atoms, j)
    grain = "weekday" if day is not None else found[0] if found else "day" if at(atoms, j) == "day" else ""
    if grain not in ("weekday", "week", "weekend", "day"):
        return None
    end = found[1] if found else j + 1
    if at(atoms, end) not in ("of", "in") and not (at(atoms, end) in MONTHS and n):
        return None
    whole = _whole(atoms, end + 1 if at(atoms, end) in ("of", "in") else end, today, True)
    if whole is None:
        return None
    past, coming = (_nth(p, grain, day or 0, n) if p else None for p in (whole.past, whole.coming))
    if whole.past == whole.coming and past:
        return during(whole.end, past, today, period=False)
    if past is None and coming is None:
        return on(whole.end, None, today)
    if past and past[0] > today:  # a month that has begun, a day of it that has not
        past = None
    return Meant(whole.end, past, coming if coming and coming[1] >= today else None, period=False)


def _nth(when: Period, grain: str, weekday: int, n: int) -> Period | None:
    if grain == "day":
        found = when[0] + (n - 1) * ONE_DAY if n > 0 else when[1] + (n + 1) * ONE_DAY
        return single(found) if when[0] <= found <= when[1] else None
    if grain == "weekday":
        day = cal.nth_weekday(when, weekday, n)
        return single(day) if day else None
    if grain == "weekend":
        saturday = cal.nth_weekday(when, 5, n)
        return (saturday, saturday + ONE_DAY) if saturday else None
    return cal.nth_week(when, n)
