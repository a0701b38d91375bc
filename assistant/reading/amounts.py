"""Amounts in a note: number, range, doubt about it and unit, wherever they stand.

    find_amounts(words, measures)   every amount, in order, none overlapping
    find_figures(words, measures)   the same with those that cannot be: below nothing, beyond all measure

A span has the words that belong to the amount ("about two or three big handfuls"), not the thing measured.
Ranges, "a couple", "about" and the like follow rule 7 of the contract. The unit is a measure's name in
lexicon/measures.csv, "degree" for degrees of a scale that is not said, or None for a bare number, which may
be a count of things. Not given: numbers of days, clock times, dates, labels ("tray two"), "one" as a pronoun,
what is negative and no temperature, what is not finite.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from assistant.reading.amountwords import ONES, UNCOUNTED, VAGUE
from assistant.reading.hedges import LEAST, MOST, Hedge, after, before, widened
from assistant.reading.labels import no_amount
from assistant.reading.measures import Measures
from assistant.reading.money import signs
from assistant.reading.numbers import DENOMINATORS, SMALL
from assistant.reading.quantities import Quantity, may_be_quantity
from assistant.reading.ranges import ACIDITY, DECADES, read_acidity, read_range
from assistant.reading.tokens import MINUS, VULGAR, at, span, split
from assistant.reading.units import BARE_DEGREE, read_unit

__all__ = ["AmountSpan", "Measures", "find_amounts", "find_figures"]

_PARTS = [word for word in DENOMINATORS if not word.endswith("s")]
_STARTS = frozenset((*SMALL, *ONES, *VAGUE, *DECADES, *_PARTS, "dozen", "point", MINUS))
_DIGITS = frozenset("0123456789.,") | VULGAR
_BETWEEN = ("between", "from")
_SINCE_ACID = 6  # how many atoms after "pH" its figure may stand
_NEVER = -100
_NO_FIGURE = frozenset((".", ";", "?"))
_READ_OFF = frozenset((None, BARE_DEGREE, "degF", "degC", "percent", ACIDITY, "min"))
_EXPONENT = re.compile(r"\d+(?:\.\d+)?e[+-]?\d+")
_LEAST_OF_A_PAIR = 10
_LONG = 12  # digits; what has more is counted nowhere
_MAY_BE_NEGATIVE = frozenset((None, BARE_DEGREE, "degF", "degC"))


@dataclass(frozen=True, slots=True)
class AmountSpan:
    """An amount in `words[start:end]`, with `low <= best <= high` in `unit`.

    `each` is set where the words say it is for every one ("a cup each"). `open` is "high" where only the
    least is said ("at least two"), "low" where only the most is; the other bound repeats it.
    """

    start: int
    end: int
    low: float
    best: float
    high: float
    unit: str | None
    each: bool = False
    unsure: tuple[str, ...] = ()
    currency: str | None = None
    open: str = ""

    @property
    def impossible(self) -> bool:
        """Whether nothing can have this amount."""
        return math.isinf(self.best) or (self.best < 0 and self.unit not in _MAY_BE_NEGATIVE)


def find_amounts(words: Sequence[str], measures: Measures) -> list[AmountSpan]:
    """The amounts in lower-cased `words` (as spaCy splits them), in order, without overlap."""
    return [a for a in find_figures(words, measures) if not a.impossible]


def find_figures(words: Sequence[str], measures: Measures) -> list[AmountSpan]:
    """The amounts, possible or not; one beyond all measure is infinite."""
    atoms, origin = split(words)
    _part_pairs(atoms)
    found: list[AmountSpan] = []
    floor = 0
    acid = _NEVER  # the atom after the last "pH", or after its figure
    for i in _candidates(atoms, measures):
        if i < floor:
            continue
        if atoms[i] == "ph":
            acid = i + 1
            continue
        skip = no_amount(atoms, i, measures)
        if skip:
            floor = i + skip
            continue
        sour = i <= acid + _SINCE_ACID and _NO_FIGURE.isdisjoint(atoms[acid:i])
        reading = read_acidity(atoms, i, measures) if sour else read_range(atoms, i, measures)
        reading = reading or _beyond(atoms, i, measures)
        if not reading:
            continue
        begin, end, amount = _spanned(atoms, origin, floor, *reading)
        _keep(found, amount, atoms[floor:begin])
        acid = end if amount.unit == ACIDITY else _NEVER
        floor = end
    return found


def _part_pairs(atoms: list[str]) -> None:
    """ "72/68" is no fraction that anybody says, but two figures: the bed's and the room's."""
    for i in range(1, len(atoms) - 1):
        if atoms[i] == "/" and atoms[i - 1].isdecimal() and atoms[i + 1].isdecimal():
            top, bottom = int(atoms[i - 1][:9]), int(atoms[i + 1][:9])
            if _LEAST_OF_A_PAIR <= bottom < top:
                atoms[i] = ";"


def _candidates(atoms: Sequence[str], measures: Measures) -> Iterator[int]:
    """The atoms where an amount may start, and "pH"."""
    measured, paid = measures.starts, signs()
    for i, word in enumerate(atoms):
        if word == "ph" or (
            (word in _STARTS or word in measured or word in paid or word[0] in _DIGITS)
            and may_be_quantity(atoms, i, measures)
        ):
            yield i


def _beyond(atoms: Sequence[str], i: int, measures: Measures) -> tuple[int, Quantity] | None:
    """A figure in digits too large to be read, with its measure: "1e309 cups"."""
    word = atoms[i]
    if not (word[0].isdecimal() and (_EXPONENT.fullmatch(word) or len(word) > _LONG)):
        return None
    unit = read_unit(atoms, i + 1, Fraction(1), measures)
    if unit is None or unit.measure.dimension in UNCOUNTED:
        return None
    one = Fraction(1)
    return i, Quantity(one, one, one, unit.end, unit.measure.name, beyond=True)


def _keep(found: list[AmountSpan], amount: AmountSpan, gap: Sequence[str]) -> None:
    """Add an amount after the others, or join it to the last one; `gap` are the atoms between the two."""
    last = found[-1] if found else None
    if last is None:
        found.append(amount)
    elif amount.start < last.end:
        return  # two in one word: the first stands
    elif amount.impossible or last.impossible:
        found.append(amount)
    elif {last.open, amount.open} == {"low", "high"} and list(gap) in (["and"], ["but"], [","], []):
        found[-1:] = _two_sided(last, amount)
    elif not gap and amount.unit is None and amount.currency is None and last.best == amount.best:
        found[-1] = replace(last, end=amount.end)  # said twice: "six cups six"
    elif not gap and amount.unit == last.unit not in _READ_OFF and last.best < amount.best <= 2 * last.best:
        best = (last.best + amount.best) / 2  # "a quart quart and a half"
        found[-1] = replace(amount, start=last.start, low=last.low, best=best)
    else:
        found.append(amount)


def _spanned(
    atoms: Sequence[str], origin: Sequence[int], floor: int, begin: int, value: Quantity
) -> tuple[int, int, AmountSpan]:
    """The span of a quantity with the hedges around it."""
    end = value.end
    if at(atoms, begin - 1) in _BETWEEN and value.low < value.high and begin > floor:
        begin -= 1
        if at(atoms, begin - 1) in ("anywhere", "somewhere") and begin > floor:
            begin -= 1
    begin, left = before(atoms, begin, floor)
    end, right = (end, Hedge()) if _joins(atoms, end, value) else after(atoms, end)
    each = at(atoms, end) in ("each", "apiece")
    end += each
    low, high = value.low, value.high
    bound = left.bound or right.bound
    about = value.about or left.about or right.about
    if about and low == high and not bound:  # a range or a bound already says how loose it is
        low, high = widened(low, high)
    a, b, c = [math.inf] * 3 if value.beyond else map(float, (low, value.best, high))
    first, last = span(origin, begin, end)
    open_ = {LEAST: "high", MOST: "low"}.get(bound, "")
    found = AmountSpan(first, last, a, b, c, value.unit, each, value.doubts, value.currency, open_)
    return begin, end, found


def _joins(atoms: Sequence[str], i: int, value: Quantity) -> bool:
    """ "2 cups + 1 banana", "papaya skin 1/2 + rice": the plus leads to another thing, it is no "or more"."""
    plus = at(atoms, i) in ("+", "plus") and (value.unit is not None or value.best < 1)
    return plus and at(atoms, i + 1) not in ("", "of", ",", ".", ";", ")", "\n")


def _two_sided(last: AmountSpan, amount: AmountSpan) -> list[AmountSpan]:
    """One range of two bounds ("more than 20 but less than 30"); both as they are if they clash."""
    low, high = (last, amount) if last.open == "high" else (amount, last)
    if low.best > high.best or (last.unit and amount.unit and last.unit != amount.unit):
        return [last, amount]
    best = (low.best + high.best) / 2
    doubts = last.unsure + amount.unsure
    return [
        AmountSpan(
            last.start, amount.end, low.best, best, high.best, amount.unit or last.unit, amount.each, doubts
        )
    ]
