"""Which reader reads a day or a period that starts with a given word, and the readers that need no file of
their own.

term(atoms, i, today)    the longest day or period at atom `i`
starts(atoms)            the atoms where there may be one, found by a quick look
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import TypeAlias

from assistant.reading import calendar as cal
from assistant.reading.amountwords import VAGUE
from assistant.reading.calendar import SEASONS, WEEKDAYS, Holidays, Period
from assistant.reading.dates import ON_DAY, day_number, day_of_month, in_months, written_date
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
from assistant.reading.meant import ONE_DAY, Meant, chosen, on, single
from assistant.reading.numbers import ORDINALS, SMALL, read_ordinal
from assistant.reading.offsets import UNITS, counted
from assistant.reading.periods import (
    GRAINS,
    PART_WORDS,
    YEAR_AFTER,
    grain_at,
    named,
    nth_of,
    part_of,
    period,
    quarter,
    weekend,
    year_alone,
)
from assistant.reading.recurring import recurring
from assistant.reading.tokens import MONTHS, at
from lexicon import load

Reader: TypeAlias = Callable[[Sequence[str], int, date], "Meant | None"]

_TODAY_IS = frozenset((a, b) for a in ("it", "today", "this") for b in ("'s", "is"))
OTHER_DAY = "'the other day' is no certain day"
TIER_OR_DAY = "read as a day of the month"
_BEFORE_DAY = frozenset(
    "on by since until till til from before after for through of between around about at over during "
    "to".split()
)
_BEFORE_PERIOD = frozenset(
    "in by since until till til over during through late early mid all come every from between before after "
    "last next this".split()
)
_ORDINARY = frozenset(
    ("sun", "sat", "wed", "mar", "may", "march", "mon", "fall", "spring", "sep", "dec", "jan")
)
_AFTER_VERB = frozenset(
    "in on at down there for out is was 's hit hits and got came by with here up the all too i has dried "
    "baked "
    "under over outside inside still back around".split()
)
_ENDS = frozenset(
    ". , ; : ! ? ) - and but so i we he she they it you that which when because then of this last next in "
    "at by to "
    "until till through is was for after before if or with from the my our a an had have did will 'll "
    "'d".split()
) | {""}


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
    if not dates or is_fraction(atoms, i, dates[0]):
        return None
    end = skip_part(atoms, dates[0])
    if at(atoms, end) == "," and at(atoms, end + 1) in WEEKDAYS:  # "jul 18, fri"
        fitting = [d for d in dates[1] if d and d.weekday() == WEEKDAYS[atoms[end + 1]]]
        if fitting:
            return chosen(end + 2, fitting, today)
    return chosen(end, dates[1], today)


def is_fraction(atoms: Sequence[str], i: int, end: int) -> bool:
    """Whether "3/4" is three quarters and no day."""
    if end != i + 3 or at(atoms, i + 1) != "/" or not atoms[i + 2].isdecimal():
        return False
    top, bottom = int(atoms[i]), int(atoms[i + 2])
    common = bottom in (2, 3, 4, 5, 6, 8, 10, 16) and top < bottom
    return common and at(atoms, i - 1) not in _BEFORE_DAY and at(atoms, i - 1) not in WEEKDAYS


def _nth_day(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "the fourteenth", "the 3rd": below the eleventh only after "on", "by", "since" and the like."""
    dates = day_of_month(atoms, i, today)
    if not dates:
        return None
    end = dates[0]
    place = read_ordinal(atoms, i + 1 if atoms[i] == "the" else i)
    led = at(atoms, i - 1) in (_BEFORE_DAY if place is None or place[0] > 10 else ON_DAY | {"from"})
    if place is None or not (led or atoms[i] == "the") or not _ends_phrase(atoms, end):
        return None
    if place[0] < 11 and not led:
        return None
    if place[0] > 99 or (place[0] > 31 and not led):
        return None
    meant = chosen(end, dates[1], today)
    return meant.doubted(TIER_OR_DAY) if place[0] < 11 and at(atoms, i - 1) == "on" else meant


def of_month(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "20th of next month", "the 3rd of the month", "22 this month"."""
    number = day_number(atoms, i + 1 if at(atoms, i) == "the" else i)
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


def _in_the_part(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "in the morning": this one for what was done, the next one for what is to come."""
    if at(atoms, i + 1) != "the" or at(atoms, i + 2) not in ("morning", "afternoon", "evening"):
        return None
    ahead = today + ONE_DAY if atoms[i + 2] == "morning" else today
    return Meant(i + 3, single(today), single(ahead))


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
        base = term(atoms, k, today) or led_nth(atoms, k, today)
        if base is None or base.period:
            return None
        return replace(base, past=_week(base.past), coming=_week(base.coming))
    return None


def _week(when: Period | None) -> Period | None:
    return cal.week_of(when[0]) if when else None


def led_nth(atoms: Sequence[str], i: int, today: date) -> Meant | None:
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
    if WEEKDAYS[word] == today.weekday() and tuple(atoms[max(0, i - 2) : i]) in _TODAY_IS:
        return on(i + 1, today, today)
    return weekday(atoms, i, today)


def _is_weekday(atoms: Sequence[str], i: int) -> bool:
    """Whether "sun" or "sat" is a day and not the sun or a verb."""
    last, follows = at(atoms, i - 1), at(atoms, i + 1)
    if last in _BEFORE_DAY or last in BACK | AHEAD | {"this", "every", "to", "and", "recheck", "check"}:
        return last != "and" or at(atoms, i - 2) in WEEKDAYS
    starts = last in ("", ".", ";", "!", "?", ",", "\n", "-", "(")
    return follows in PARTS or follows == ":" or (starts and (follows == "" or follows not in _AFTER_VERB))


def _plain_period(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """A month or season by name; "may" and "fall" only where the words around make them one."""
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


def _ends_phrase(atoms: Sequence[str], end: int) -> bool:
    """Whether no noun follows that the words before would belong to ("the third tray")."""
    follows = at(atoms, end)
    return follows in _ENDS or follows in MONTHS or follows in NEAR


# --- which reader for which word ---

_FIGURES: tuple[Reader, ...] = (_date, of_month, _nth_day, _counted, nth_of, named, quarter, year_alone)
# words that start a day only with a word of time soon after them
_WEAK = (
    BACK
    | AHEAD
    | frozenset(
        ("the", "a", "an", "another", "half", "about", "in", "within", "so", "this", "current", "day", "each")
    )
    | frozenset((*VAGUE, *SMALL, *ORDINALS))
)
_SOON = 6  # how soon


@cache
def _holidays() -> Holidays:
    """The shipped holidays, once a process."""
    return Holidays(load().table("holidays"))


@cache
def _time_words() -> frozenset[str]:
    plain = {
        *WEEKDAYS,
        *MONTHS,
        *SEASONS,
        *GRAINS,
        *UNITS,
        *NEAR,
        *PARTS,
        *_holidays().by_first,
        "other",
        "thousand",
    }
    return frozenset(plain | {word + "s" for word in plain})


def starts(atoms: Sequence[str]) -> Iterator[int]:
    """The atoms where a day or period may start."""
    readers, time = _readers(), _time_words()
    for i, word in enumerate(atoms):
        if word in _WEAK:
            if (
                not time.isdisjoint(atoms[i + 1 : i + _SOON])
                or (word == "the" and _is_place(at(atoms, i + 1)))
                or (word in SMALL and at(atoms, i - 1) in YEAR_AFTER)
            ):
                yield i
        elif word in readers or (
            word[0].isdecimal()
            and (len(word) > 2 or not time.isdisjoint(atoms[i + 1 : i + _SOON]) or _cut_up(atoms, i))
        ):
            yield i


def _is_place(word: str) -> bool:
    """Whether "the" may start a day of the month, or a part of a year, with this word."""
    return word in ORDINALS or word in PART_WORDS or SMALL.get(word, 0) >= 20 or word[:1].isdecimal()


def _cut_up(atoms: Sequence[str], i: int) -> bool:
    """Whether figures go on after a mark of a date."""
    return at(atoms, i + 1) in ("-", "/", ".", "to", "through") and bool(at(atoms, i + 2))


@cache
def _readers() -> dict[str, tuple[Reader, ...]]:
    """The readers to try for a first word, by word."""
    modified: tuple[Reader, ...] = (
        _this_part, modified_weekday, period, _counted, nth_of, _week_day, _modified_holiday,
    )  # fmt: skip
    listed: list[tuple[Iterable[str], tuple[Reader, ...]]] = [
        (NEAR, (near_day,)),
        (WEEKDAYS, (_plain_weekday,)),
        ([word + "s" for word in WEEKDAYS if word.endswith("day")], (recurring,)),
        (("every", "each", "daily", "weekly", "monthly", "fortnightly"), (recurring,)),
        (MONTHS, (_date, _plain_period)),
        (SEASONS, (_plain_period,)),
        (BACK | AHEAD | {"this", "current"}, modified),
        (("the",), (period, part_of, nth_of, _counted, _date, of_month, _nth_day, _other_day, _week_with,
                    modified_weekday, quarter)),
        (PART_WORDS, (part_of,)),
        ((*ORDINALS, *SMALL), (_date, of_month, _nth_day, _counted, nth_of, quarter)),
        (("twenty", "two"), (year_alone,)),
        (("q1", "q2", "q3", "q4"), (quarter,)),
        (("so",), (part_of,)),
        (("a", "an", "another", "half", "about", "in", "within", "day", *VAGUE), (_counted,)),
        (("in",), (_in_the_part,)),
        (GRAINS, (period, _counted, _week_with, _bare_weekend)),
        (_holidays().by_first, (_holiday,)),
    ]  # fmt: skip
    table: dict[str, tuple[Reader, ...]] = {}
    for words, readers in listed:
        for word in words:
            table[word] = (*table.get(word, ()), *(r for r in readers if r not in table.get(word, ())))
    return table
