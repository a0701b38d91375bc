"""Ranges and readings made of more than one quantity: "two or three cups", "between 20 and 30", "low
sixties".

read_range(atoms, i, measures)   where it begins and what it says
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant.reading.amountwords import TIME
from assistant.reading.measures import Measures
from assistant.reading.numbers import SMALL, read_number
from assistant.reading.quantities import Quantity, read_quantity
from assistant.reading.tokens import MINUS, at
from assistant.reading.units import BARE_DEGREE

DECADES = {
    word + "ies": 10 * k
    for k, word in enumerate("twent thirt fort fift sixt sevent eight ninet".split(), start=2)
}
# low, middle and high sixties: common practice, no source
_PARTS = {"low": (0, 3), "lower": (0, 3), "mid": (4, 6), "middle": (4, 6), "high": (7, 9), "upper": (7, 9)}
_WHOLE_DECADE = (0, 9)
ACIDITY = "pH"
_MOST_ACIDITY = 14  # the usual scale of pH
_BELOW_ZERO = frozenset(
    "zero freezing last tonight today out outside again here in and so . , ; !".split()
) | {""}
# joints of a range, the longest first; "and" only after "between" or "from"
_JOINTS = tuple(
    tuple(joint.split())
    for joint in (
        ", or maybe|or maybe|, maybe even|or even|, maybe|or possibly|or perhaps|, or|, to|up to|or|to|maybe|"
        "possibly|perhaps|through|till|- ~|-|~|,|"
    ).split("|")
)
_EXPLICIT = frozenset(("or", "to", "maybe", "possibly", "perhaps", "-", "~", "through", "till", "up"))


def read_range(atoms: Sequence[str], i: int, measures: Measures) -> tuple[int, Quantity] | None:
    """The quantity or range at atom `i`, and the atom where it begins ("low" of "low sixties"); else None."""
    decade = _decade(atoms, i)
    if decade:
        return decade
    if atoms[i] == MINUS:
        below = _negative(atoms, i, measures)
        return (i, below) if below else None
    first = read_quantity(atoms, i, measures)
    if first is None or first.currency:
        return (i, first) if first else None
    joined = _counting(atoms, i, first, measures) or _joined(atoms, i, first, measures)
    return (i, _below_zero(atoms, joined)) if joined else None


def _negative(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """ "minus two C", "minus five to minus two"."""
    plain = read_quantity(atoms, i + 1, measures)
    if plain is None:
        return None
    first = plain.times(-1)
    if at(atoms, plain.end) not in ("to", "or", "-") or at(atoms, plain.end + 1) != MINUS:
        return first
    last = read_quantity(atoms, plain.end + 2, measures)
    return (last and _merged(first, last.times(-1), ("to",), between=False)) or first


def _decade(atoms: Sequence[str], i: int) -> tuple[int, Quantity] | None:
    """ "low sixties", "in the fifties", "the mid 70s": the bare degrees they nearly always are."""
    word = atoms[i]
    if word in DECADES:
        ten, end = DECADES[word], i + 1
    elif len(word) == 2 and word[1] == "0" and word.isdecimal() and at(atoms, i + 1) in ("s", "'s"):
        ten, end = int(word), i + 2
    else:
        return None
    begin = i - 2 if at(atoms, i - 1) == "-" else i - 1
    part = _PARTS.get(at(atoms, begin))
    if part is None:
        if at(atoms, i - 1) != "the" or at(atoms, i - 2) not in ("in", "to", "into"):
            return None
        part, begin = _WHOLE_DECADE, i
    low, high = Fraction(ten + part[0]), Fraction(ten + part[1])
    return begin, Quantity(low, (low + high) / 2, high, end, BARE_DEGREE)


def _counting(atoms: Sequence[str], i: int, first: Quantity, measures: Measures) -> Quantity | None:
    """Counting aloud, "one two three four handfuls": the last number counts."""
    if first.unit or first.end != i + 1 or atoms[i] not in SMALL:
        return None
    last, steps = SMALL[atoms[i]], 0
    j = i
    while True:
        k = j + 2 if at(atoms, j + 1) == "," else j + 1
        if SMALL.get(at(atoms, k)) != last + 1:
            break
        j, last, steps = k, last + 1, steps + 1
    if steps < 2 and not (steps == 1 and atoms[i] == "one"):
        return None
    found = read_quantity(atoms, j, measures)
    counted = steps > 1 and atoms[i] == "one"  # "one two three slugs"
    return found if found and (found.unit or counted) else None


def _joined(atoms: Sequence[str], i: int, first: Quantity, measures: Measures) -> Quantity | None:
    """`first` with what a joint after it adds; None where the number turns out to count days."""
    if at(atoms, i - 1) == "or" and at(atoms, i - 2) in TIME:  # "a day or two"
        return None
    between = at(atoms, i - 1) in ("between", "from")
    for joint in (("and",), ("to",), ("-",), ("or",)) if between else _JOINTS:
        j = first.end + len(joint)
        if tuple(atoms[first.end : j]) != joint or j >= len(atoms):
            continue
        second = read_quantity(atoms, j, measures)
        if second is None:
            number = read_number(atoms, j) if joint else None
            if number and number.end < len(atoms) and _is_time(atoms, number.end) and first.unit is None:
                return None
            continue
        merged = _merged(first, second, joint, between)
        if merged:
            return merged
    return first


def _is_time(atoms: Sequence[str], i: int) -> bool:
    return atoms[i] in TIME or (atoms[i] in ("more", "-") and at(atoms, i + 1) in TIME)


def _merged(first: Quantity, second: Quantity, joint: tuple[str, ...], between: bool) -> Quantity | None:
    """One quantity of two that a joint links, None where they are two things."""
    if second.currency or (second.bare and not joint):
        return None
    if first.unit and second.unit and not _same_unit(first, second):
        return None
    explicit = between or any(word in _EXPLICIT for word in joint)
    if not explicit:
        if not second.unit or (joint == () and not first.unit and first.best >= 10 and second.best >= 100):
            return None
        if first.best == second.best and (first.unit is None or first.unit == second.unit):
            return second  # said twice
        if first.best * 2 < second.best:
            return None
    if second.scale > first.scale and first.best < second.best / second.scale and first.unit is None:
        first = first.times(second.scale)  # "four or five thousand"
    if first.unit is None and second.unit and first.best >= second.best and not between:
        return None
    if second.best <= first.best:
        return None
    unit, measure = (second.unit, second.measure) if second.unit else (first.unit, first.measure)
    if first.unit and second.unit == BARE_DEGREE:
        unit = first.unit
    best = (first.best + second.best) / 2
    doubts = tuple(dict.fromkeys(first.doubts + second.doubts))
    return Quantity(first.best, best, second.best, second.end, unit, measure, None, second.scale, doubts)


def _same_unit(first: Quantity, second: Quantity) -> bool:
    return first.unit == second.unit or (
        BARE_DEGREE in (first.unit, second.unit) and _warm(first) and _warm(second)
    )


def _warm(quantity: Quantity) -> bool:
    return quantity.measure is not None and quantity.measure.dimension == "temperature"


def _below_zero(atoms: Sequence[str], value: Quantity) -> Quantity:
    """ "nineteen below", "two below zero", "five degrees below": degrees below zero."""
    if at(atoms, value.end) != "below" or not (value.unit is None or _warm(value)):
        return value
    follows = at(atoms, value.end + 1)
    if follows not in _BELOW_ZERO or (value.unit is None and value.best < 2):
        return value
    end = value.end + 2 if follows in ("zero",) else value.end + 1
    return value.times(-1)._replace(end=end, unit=value.unit or BARE_DEGREE)


def read_acidity(atoms: Sequence[str], i: int, measures: Measures) -> tuple[int, Quantity] | None:
    """A pH at atom `i` once "pH" was said, "6.8", "six to seven", "six five" (6.5); else the range there."""
    units, tenths = SMALL.get(atoms[i], 10), SMALL.get(at(atoms, i + 1), 10)
    if units < 10 and tenths < 10 and not measures.at(atoms, i + 2):
        value = units + Fraction(tenths, 10)
        return i, Quantity(value, value, value, i + 2, ACIDITY)
    found = read_range(atoms, i, measures)
    if (
        not found
        or found[1].unit
        or found[1].currency
        or not 0 <= found[1].low <= found[1].high <= _MOST_ACIDITY
    ):
        return found
    return found[0], found[1]._replace(unit=ACIDITY)
