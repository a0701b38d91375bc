"""Days and periods in a note, wherever they stand.

    find_days(words, now)   every day, in order, none overlapping

Each span gives two readings: `past` for what happened, `coming` for what is to come; the sentence decides.
Rules 19 and 22 of the contract: a weekday is the next one, the same weekday seven days on; "next Saturday"
is the coming one, with a doubt; "next week" is from its Monday; a month or a season is a period.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cache
from typing import TypeAlias

from assistant.reading import calendar as cal
from assistant.reading.calendar import SEASONS, WEEKDAYS, Holidays, Period
from assistant.reading.dates import day_number, day_of_month, in_months, read_year, written_date
from assistant.reading.dayterms import (
    AHEAD,
    BACK,
    NEAR,
    PARTS,
    holiday,
    modified_weekday,
    near_day,
    skip_part,
    weekday,
)
from assistant.reading.meant import ONE_DAY, Meant, chosen, during, on, single
from assistant.reading.numbers import ORDINALS, SMALL, read_ordinal
from assistant.reading.offsets import counted, lasting, length
from assistant.reading.periods import (
    GRAINS,
    PART_WORDS,
    grain_at,
    named,
    nth_of,
    part_of,
    period,
    quarter,
    weekend,
    year_alone,
)
from assistant.reading.quantities import VAGUE
from assistant.reading.tokens import MONTHS, at, split
from lexicon import load

OTHER_DAY = "'the other day' is no certain day"
TIER_OR_DAY = "read as a day of the month"
Reader: TypeAlias = Callable[[Sequence[str], int, date], "Meant | None"]


@dataclass(frozen=True, slots=True)
class DaySpan:
    """A day or period in `words[start:end]`, first and last day included.

    `past` is its reading for something done, `coming` for something planned; None where it has none ("yesterday"
    never comes). Both are None, with a word in `unsure`, where no such day exists. `period` is set where no
    single day is meant ("in march", "the last three days"); without it the first day of a reading is the day
    ("next week": its Monday). `since` is set where the past reading runs to today.
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
    """The days in lower-cased `words` (as spaCy splits them), in order, without overlap, as seen from `now`."""
    today = now.date() if isinstance(now, datetime) else now
    atoms, origin = split(words)
    readers = _readers()
    found: list[DaySpan] = []
    floor = i = 0
    for k, word in enumerate(atoms):
        if k < i:
            continue
        mine = readers.get(word) or (_FIGURES if word[0].isdecimal() else None)
        if not mine:
            continue
        meant = _ranged(atoms, k, today)
        if meant is None:
            continue
        begin, meant = _introduced(atoms, k, floor, today, meant)
        found.append(_span(origin[begin], origin[meant.end - 1] + 1, meant))
        floor = i = meant.end
    return found


def _span(start: int, end: int, m: Meant) -> DaySpan:
    return DaySpan(start, end, m.past, m.coming, m.unsure, m.period, m.recurring, m.since)


# --- one term -------------------------------------------------------------------------------------------------


def term(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """The longest day or period whose words start at atom `i`."""
    word = at(atoms, i)
    readers = _readers().get(word) or (_FIGURES if word[:1].isdecimal() else ())
    best = None
    for reader in readers:
        meant = reader(atoms, i, today)
        if meant and (best is None or meant.end > best.end):
            best = meant
    return best


def _counted(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    return counted(atoms, i, today, term)


def _date(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    dates = written_date(atoms, i, today)
    if not dates or _is_fraction(atoms, i, dates[0]):
        return None
    end = skip_part(atoms, dates[0])
    if at(atoms, end) == "," and at(atoms, end + 1) in WEEKDAYS:  # "jul 18, fri"
        fitting = [d for d in dates[1] if d and d.weekday() == WEEKDAYS[atoms[end + 1]]]
        if fitting:
            return chosen(end + 2, fitting, today)
    return chosen(end, dates[1], today)


def _is_fraction(atoms: Sequence[str], i: int, end: int) -> bool:
    """Whether "3/4" is three quarters and no day."""
    if end != i + 3 or at(atoms, i + 1) != "/" or not atoms[i + 2].isdecimal():
        return False
    top, bottom = int(atoms[i]), int(atoms[i + 2])
    common = bottom in (2, 3, 4, 5, 6, 8, 10, 16) and top < bottom
    return common and at(atoms, i - 1) not in _BEFORE_DAY and at(atoms, i - 1) not in WEEKDAYS


def _nth_day(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the fourteenth", "the 3rd": below the eleventh only after a word that goes before days, with a doubt."""
    dates = day_of_month(atoms, i, today)
    if not dates:
        return None
    end = dates[0]
    place = read_ordinal(atoms, i + 1 if atoms[i] == "the" else i)
    led = at(atoms, i - 1) in _BEFORE_DAY
    if place is None or not (led or atoms[i] == "the") or not _ends_phrase(atoms, end):
        return None
    if place[0] < 11 and not led:
        return None
    if place[0] > 99 or (place[0] > 31 and not led):
        return None
    meant = chosen(end, dates[1], today)
    return meant.doubted(TIER_OR_DAY) if place[0] < 11 and at(atoms, i - 1) == "on" else meant


def _of_month(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "20th of next month", "the 3rd of the month", "22 this month"."""
    number = day_number(atoms, i + 1 if atoms[i] == "the" else i)
    if not number:
        return None
    j = number[1] + 1 if at(atoms, number[1]) in ("of", "in") else number[1]
    word = at(atoms, j)
    if word == "the" and at(atoms, j + 1) in BACK | AHEAD:
        j += 1
        word = atoms[j]
    if at(atoms, j + 1) != "month":
        return None
    shift = -1 if word in BACK else 1 if word in AHEAD else 0 if word in ("this", "the", "current") else None
    if shift is None:
        return None
    if word == "the":
        return chosen(j + 2, in_months(number[0], today), today)
    first = cal.shift_months(today.replace(day=1), shift)
    return on(j + 2, cal.day(first.year, first.month, number[0]) if first else None, today)


def _this_part(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "this morning", "last night"."""
    if atoms[i] == "this" and at(atoms, i + 1) in PARTS:
        return on(i + 2, today, today)
    if atoms[i] == "last" and at(atoms, i + 1) in ("night", "nite", "evening"):
        return on(i + 2, today - ONE_DAY, today)
    return None


def _other_day(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the other day": some day of the last week, none for certain."""
    if at(atoms, i + 1) != "other" or at(atoms, i + 2) not in ("day", "night", "evening", "morning", "week"):
        return None
    return Meant(i + 3, past=(today - cal.WEEK, today - ONE_DAY), unsure=(OTHER_DAY,), period=True)


def _week_with(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the week of the 8th", "week beginning march 2", "next week Sunday", "all week"."""
    j = i + 1 if atoms[i] == "the" else i
    if at(atoms, j) == "month" and at(atoms, j + 1) == "of":
        return named(atoms, j + 2, today)
    if at(atoms, j) not in ("week", "wk"):
        return None
    k = j + 1
    if at(atoms, k) in ("of", "beginning", "starting", "commencing"):
        k = k + 2 if at(atoms, k + 1) == "on" else k + 1
        base = term(atoms, k, today) or _led_nth(atoms, k, today)
        if base is None or base.period:
            return None
        return replace(base, past=_week(base.past), coming=_week(base.coming))
    return None


def _week(when: Period | None) -> Period | None:
    return cal.week_of(when[0]) if when else None


def _led_nth(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """An ordinal where a day must stand."""
    dates = day_of_month(atoms, i, today)
    return chosen(dates[0], dates[1], today) if dates else None


def _week_day(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "next week Sunday", "next week on Tuesday"."""
    shift = -1 if atoms[i] in BACK else 1 if atoms[i] in AHEAD else 0 if atoms[i] == "this" else None
    if shift is None or at(atoms, i + 1) not in ("week", "wk"):
        return None
    j = i + 3 if at(atoms, i + 2) == "on" else i + 2
    number = WEEKDAYS.get(at(atoms, j))
    if number is None or (j == i + 2 and at(atoms, j) in _ORDINARY):
        return None
    return on(skip_part(atoms, j + 1), cal.week_of(today + shift * cal.WEEK)[0] + number * ONE_DAY, today)


def _plain_weekday(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    word = atoms[i]
    if word in _ORDINARY and not _is_weekday(atoms, i):
        return None
    return weekday(atoms, i, today)


def _is_weekday(atoms: Sequence[str], i: int) -> bool:
    """Whether "sun" or "sat" is a day and not the sun or a verb."""
    last, follows = at(atoms, i - 1), at(atoms, i + 1)
    if last in _BEFORE_DAY or last in BACK | AHEAD | {"this", "every", "to", "and", "recheck", "check"}:
        return last != "and" or at(atoms, i - 2) in WEEKDAYS
    starts = last in ("", ".", ";", "!", "?", ",", "\n", "-", "(")
    return follows in PARTS or follows == ":" or (starts and (follows == "" or follows not in _AFTER_VERB))


def _plain_period(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A month or season by name; one that is also an ordinary word only where the words around make it one."""
    meant = named(atoms, i, today)
    if meant is None:
        return None
    word, last = atoms[i], at(atoms, i - 1)
    if word not in SEASONS and word not in _ORDINARY:
        return meant
    if meant.end > i + 1 and at(atoms, meant.end - 1).isdecimal():
        return meant
    if last in ("the", "this") and at(atoms, i - 2) in _BEFORE_PERIOD:
        return meant
    alone = len(atoms) == 1
    return meant if alone or last in _BEFORE_PERIOD else None


def _bare_weekend(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    found = grain_at(atoms, i)
    if not found or found[0] != "weekend" or at(atoms, i - 1) not in ("on", "by", "over", "at", "during"):
        return None
    return weekend(found[1], today)


def _holiday(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    meant = holiday(atoms, i, today, _holidays())
    if meant is None:
        return None
    led = at(atoms, i - 1) in _BEFORE_DAY or at(atoms, i - 1) in BACK | AHEAD | {"this", "the"}
    return meant if led or _ends_phrase(atoms, meant.end) else None


def _modified_holiday(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "last Christmas", "this coming Easter"."""
    j = i + 2 if atoms[i] == "this" and at(atoms, i + 1) in BACK | AHEAD else i + 1
    meant = holiday(atoms, j, today, _holidays())
    if meant is None:
        return None
    if at(atoms, j - 1) in BACK:
        return replace(meant, coming=None)
    return replace(meant, past=None) if at(atoms, j - 1) in AHEAD else meant


def _recurring(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "every Tuesday and Saturday", "every other day", "each week", "tuesdays", "daily"."""
    word = atoms[i]
    if word in ("daily", "weekly", "monthly", "fortnightly"):
        return Meant(i + 1, recurring=True)
    if word not in ("every", "each"):
        number = WEEKDAYS.get(word.removesuffix("s"), -1)
        return Meant(_listed(atoms, i + 1), coming=single(cal.next_weekday(today, number)), recurring=True)
    j = i + 2 if at(atoms, i + 1) in ("other", "second", "single", "third") else i + 1
    number = WEEKDAYS.get(at(atoms, j), -1)
    if number >= 0:
        return Meant(_listed(atoms, j + 1), coming=single(cal.next_weekday(today, number)), recurring=True)
    if at(atoms, j) in PARTS or at(atoms, j) in ("day", "night", *GRAINS, "fortnight"):
        return Meant(j + 1, recurring=True)
    span = length(atoms, j) if word == "every" else None
    return Meant(span.end, recurring=True) if span and span.unit != "second" else None


def _listed(atoms: Sequence[str], i: int) -> int:
    """Past further weekdays: "and Saturday", ", thursdays"."""
    while at(atoms, i) in ("and", ",", "&") and at(atoms, i + 1).removesuffix("s") in WEEKDAYS:
        i += 2
    return skip_part(atoms, i)


# --- two terms ------------------------------------------------------------------------------------------------

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
    return _led_nth(atoms, i, today)


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
    last = chosen(*dates, today) if dates and not _is_fraction(atoms, j, dates[0]) else _of_month(atoms, j, today)
    if last is None or at(atoms, j + 1) in ("-", "/"):
        return None

    def since(p: Period | None) -> Period | None:
        start = cal.day(p[1].year, p[1].month, number[0]) if p else None
        return (start, p[1]) if p and start and start < p[1] else None

    past, coming = since(last.past), since(last.coming)
    return Meant(last.end, past, coming, period=True) if past or coming else None


# --- words before a term --------------------------------------------------------------------------------------

_BEFORE_DAY = frozenset(
    "on by since until till til from before after for through of between around about at over during to".split()
)
_BEFORE_PERIOD = frozenset(
    "in by since until till til over during through of late early mid all come every from between before after "
    "last next this".split()
)
_ORDINARY = frozenset(("sun", "sat", "wed", "mar", "may", "march", "mon", "fall", "spring", "sep", "dec", "jan"))
_AFTER_VERB = frozenset(
    "in on at down there for out is was 's hit hits and got came by with here up the all too i has dried baked "
    "under over outside inside still back around".split()
)
_TAKEN_IN = frozenset("on by at over during around about until till til in from between through this".split())
_ENDS = frozenset(
    ". , ; : ! ? ) - and but so i we he she they it you that which when because then of this last next in at by to "
    "until till through is was for after before if or with from the my our a an had have did will 'll 'd".split()
) | {""}


def _ends_phrase(atoms: Sequence[str], end: int) -> bool:
    """Whether no noun follows that the words before would belong to ("the third tray")."""
    follows = at(atoms, end)
    return follows in _ENDS or follows in MONTHS or follows in PARTS or follows in NEAR


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
    if last in _TAKEN_IN and begin > floor:
        return begin - 1, meant
    return begin, meant


# --- which reader for which word ----------------------------------------------------------------------------------

_FIGURES: tuple[Reader, ...] = (_date, _of_month, _nth_day, _counted, nth_of, named, quarter, year_alone)


@cache
def _holidays() -> Holidays:
    return Holidays(load().table("holidays"))


@cache
def _readers() -> dict[str, tuple[Reader, ...]]:
    """The readers to try for a first word, by word."""
    modified: tuple[Reader, ...] = (
        _this_part, modified_weekday, period, _counted, nth_of, _week_day, _modified_holiday,
    )  # fmt: skip
    listed: list[tuple[Iterable[str], tuple[Reader, ...]]] = [
        (NEAR, (near_day,)),
        (WEEKDAYS, (_plain_weekday,)),
        ([word + "s" for word in WEEKDAYS if word.endswith("day")], (_recurring,)),
        (("every", "each", "daily", "weekly", "monthly", "fortnightly"), (_recurring,)),
        (MONTHS, (_date, _plain_period)),
        (SEASONS, (_plain_period,)),
        (BACK | AHEAD | {"this", "current"}, modified),
        (("the",), (period, part_of, nth_of, _counted, _date, _of_month, _nth_day, _other_day, _week_with,
                    modified_weekday, quarter)),
        (PART_WORDS, (part_of,)),
        ((*ORDINALS, *SMALL), (_date, _of_month, _nth_day, _counted, nth_of, quarter)),
        (("twenty", "two"), (year_alone,)),
        (("q1", "q2", "q3", "q4"), (quarter,)),
        (("so",), (part_of,)),
        (("a", "an", "another", "half", "about", "in", "within", "day", *VAGUE), (_counted,)),
        (GRAINS, (period, _counted, _week_with, _bare_weekend)),
        (_holidays().by_first, (_holiday,)),
    ]  # fmt: skip
    table: dict[str, tuple[Reader, ...]] = {}
    for words, readers in listed:
        for word in words:
            table[word] = (*table.get(word, ()), *(r for r in readers if r not in table.get(word, ())))
    return table
