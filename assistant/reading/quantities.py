"""One quantity: a number or a word for one, with the measure that follows it, and money.

    read_quantity(atoms, i, measures)   "two big handfuls", "half a tray", "a cup and a half", "2 lb 3 oz"

The words of vague number and their ranges are rule 7 of the contract.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from assistant.reading import money
from assistant.reading.amountwords import (
    ADJECTIVES,
    ARTICLES,
    DETERMINERS,
    METRIC,
    NEEDS_OF,
    NOT_ALONE,
    NOT_BARE,
    NOT_ONE,
    ONES,
    TIME,
    UNCOUNTED,
    VAGUE,
    skip_adjectives,
    timed,
)
from assistant.reading.hedges import before, inside
from assistant.reading.measures import Found, Measure, Measures
from assistant.reading.numbers import (
    DENOMINATORS,
    DOZEN,
    SMALL,
    Number,
    cardinal,
    is_number_word,
    read_fraction,
    read_number,
)
from assistant.reading.numbers import SCALES as SIZES
from assistant.reading.tokens import at
from assistant.reading.units import BARE_DEGREE, DEGREES, bracketed_unit, read_unit

_COUNTS = frozenset((*VAGUE, *DENOMINATORS, *DOZEN, *SMALL))
_PLUS = ("and", "plus", "+")
_NOT_VAGUE_AFTER = frozenset("very so too as how next last past the every".split())
_HALF_OF = frozenset((*DETERMINERS, "the", "and"))
_ONE_OF = ARTICLES | {"of", "the", "that", "this"}
_HEDGED = 4  # words of the longest hedge before a bare "half"
_AFTER_MEASURE = frozenset(("of", "and"))


class Quantity(NamedTuple):
    """A value with its range, exact; it ends before atom `end`."""

    low: Fraction
    best: Fraction
    high: Fraction
    end: int
    unit: str | None = None
    measure: Measure | None = None
    currency: str | None = None
    scale: int = 1
    doubts: tuple[str, ...] = ()
    bare: bool = False  # a measure alone, with no number
    about: bool = False  # loosened between number and unit: "two-ish cups"
    beyond: bool = False  # larger than anything is

    def times(self, factor: Fraction | int) -> Quantity:
        """Every bound times a factor; a negative one turns the range round."""
        low, high = sorted((self.low * factor, self.high * factor))
        return self._replace(low=low, best=self.best * factor, high=high)

    def plus(self, more: Fraction, end: int) -> Quantity:
        """The quantity with so much more, ending later."""
        return self._replace(low=self.low + more, best=self.best + more, high=self.high + more, end=end)


AFTER_ARTICLE = ADJECTIVES | frozenset((*VAGUE, *DENOMINATORS, *SIZES, *DOZEN, *SMALL, "double"))


def may_be_quantity(atoms: Sequence[str], i: int, measures: Measures) -> bool:
    """A quick look at "a" and at a measure with no number, the most frequent words that start a quantity."""
    word, follows = atoms[i], at(atoms, i + 1)
    if word in ONES:
        known = follows in AFTER_ARTICLE or follows in measures.starts or is_number_word(follows)
        return known or money.one(atoms, i + 1) is not None
    if word in measures.starts and not (word in _COUNTS or word in money.signs() or word[0].isdecimal()):
        return word.endswith("ful") or word == "pinch" or not _AFTER_MEASURE.isdisjoint(atoms[i + 1 : i + 5])
    return True


def read_quantity(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """The quantity that starts at atom `i`, with its unit; None where there is none."""
    word = at(atoms, i)
    total = money.signed(atoms, i) if word in money.signs() else None
    total = money.one(atoms, i + 1) if word in ARTICLES else total
    if total or word in money.signs():
        return _exact(total[0], total[1])._replace(currency=total[2]) if total else None
    found = None
    if word in ONES:
        found = _after_article(atoms, i, measures)
    elif word in VAGUE:
        found = _vague(atoms, i, i, measures)
    elif word in DENOMINATORS and not word.endswith("s"):
        found = _part_of(atoms, i, measures)
    if found is None and (is_number_word(word) or word in ARTICLES or word in DOZEN or word == "half"):
        found = _counted(atoms, i, measures)
    if found is None:
        found = _bare(atoms, i, measures)
    return _compound(atoms, found, measures) if found else None


def _exact(value: Fraction | int, end: int) -> Quantity:
    value = Fraction(value)
    return Quantity(value, value, value, end)


def _after_article(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """What follows "a", "an" or "another"."""
    another = atoms[i] == "another"
    j = skip_adjectives(atoms, i + 1)
    word = at(atoms, j)
    if word in VAGUE:
        return _vague(atoms, i, j, measures)
    part = read_fraction(atoms, i if j == i + 1 and not another else j)
    if part is None and j > i + 1 and word in DENOMINATORS and not word.endswith("s"):
        part = Fraction(1, DENOMINATORS[word]), j + 1  # "a good third of the salad"
    if (
        part
        and at(atoms, part[1]) not in DOZEN
        and (word in ("half", "quarter") or _divides(atoms, part[1], measures))
    ):
        return _whole_of(atoms, _exact(*part), measures) or _measured(atoms, _exact(*part), measures)
    if word in SIZES or word in DOZEN:
        number = read_number(atoms, i) if j == i + 1 and not another else None
        number = number or read_number(["a", *atoms[j : j + 8]], 0)
        if number:
            end = number.end if j == i + 1 and not another else j + number.end - 1
            return _measured(atoms, _exact(number.value, end), measures)
    if is_number_word(word):  # "another two cups", "a good two handfuls", "a 5 gallon bucket"
        container = _container(atoms, j, measures)
        if container:
            return _united(_exact(1, j), container)
        return _counted(atoms, j, measures)
    double = word == "double"
    if double:
        j += 1
    found = measures.at(atoms, j)
    sized = j > i + 1 and at(atoms, found.end if found else j) in _ENDING  # "the peels, a whole caddy"
    if not found or found.plural or not _one_of_it(atoms, i, found, another or sized):
        return None
    one = _united(_exact(2 if double else 1, found.end), found)
    return _and_part(atoms, one, measures)


def _divides(atoms: Sequence[str], j: int, measures: Measures) -> bool:
    """Whether what follows "a third" makes a fraction of it and not a place in a row."""
    word, found = at(atoms, j), measures.at(atoms, j)
    return not word.isalpha() or word in ("of", "full", "left") or bool(found and found.measure.base)


_ENDING = frozenset(("", ",", ".", ";", ")", "and", "&", "\n"))


def _one_of_it(atoms: Sequence[str], i: int, found: Found, another: bool) -> bool:
    """Whether an article and this measure say one of it."""
    name, follows = found.measure.name, at(atoms, found.end)
    if name in NOT_ONE or found.measure.dimension in UNCOUNTED or len(found.word) == 1:
        return False
    if follows in ("of", "full", "worth") or (follows == "and" and read_fraction(atoms, found.end + 1)):
        return follows != "full" or name not in NEEDS_OF
    exact = found.measure.base is not None and name not in NOT_ALONE
    return exact or (another and name not in NEEDS_OF) or found.word.endswith("ful")


def _vague(atoms: Sequence[str], i: int, j: int, measures: Measures) -> Quantity | None:
    """ "a couple of cups", "a few", "several handfuls", "a couple dozen"; `j` is where the word stands."""
    word = atoms[j]
    if i == j and at(atoms, i - 1) in _NOT_VAGUE_AFTER:
        return None
    if word == "pair" and i == j:
        return None
    low, best, high = map(Fraction, VAGUE[word])
    end = j + 1
    size = 1
    if at(atoms, end) in DOZEN or at(atoms, end) in SIZES:
        size = SIZES.get(atoms[end], 12)
        end += 1
    value = Quantity(low * size, best * size, high * size, end)
    k = end + 1 if at(atoms, end) in ("of", "more") else end
    if at(atoms, k) in TIME:
        return None
    found = _measured(atoms, value._replace(end=k), measures)
    return found if found and found.unit else value


def _part_of(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """ "half a tray", "half the caddy", "half of a five gallon bucket", "quarter cup", "half pound"."""
    part = read_fraction(atoms, i) or (Fraction(1, DENOMINATORS[atoms[i]]), i + 1)
    if at(atoms, part[1]) != "of" and atoms[i] not in ("half", "quarter"):
        return None
    if at(atoms, part[1]) in ("a", "-") and (
        at(atoms, part[1] + 1) in DOZEN or at(atoms, part[1] + 1) in SIZES
    ):
        return None
    if at(atoms, part[1]) in DOZEN:
        return None
    found = _whole_of(atoms, _exact(*part), measures)
    return _exact(Fraction(1, 2), i + 1) if found is None and _half_alone(atoms, i) else found


def _half_alone(atoms: Sequence[str], i: int) -> bool:
    """ "half an avocado", "half to three quarters", "still there, maybe half"."""
    follows = at(atoms, i + 1)
    if atoms[i] != "half" or follows in _ONE_OF:
        return atoms[i] == "half"
    if follows in ("to", "or", "-"):
        return bool(read_fraction(atoms, i + 2) or read_number(atoms, i + 2))
    return follows not in _HALF_OF and before(atoms, i, max(0, i - _HEDGED))[1].about


def _whole_of(atoms: Sequence[str], part: Quantity, measures: Measures) -> Quantity | None:
    """A fraction of one of a measure: the words from "of", an article or the measure itself on."""
    j = part.end
    if at(atoms, j) == "-":
        j += 1
    if at(atoms, j) == "of":
        j += 1
    pointed = at(atoms, j) in ARTICLES or at(atoms, j) in DETERMINERS or at(atoms, j) == "one"
    if pointed:
        j += 1
    j = skip_adjectives(atoms, j)
    container = _container(atoms, j, measures)
    if container:
        return _united(part._replace(end=container.end), container)
    found = read_unit(atoms, j, part.best, measures)
    if not found or (found.plural and part.best < 1 and part.end != j):
        return None
    if not pointed and found.measure.base is None and found.measure.name in NEEDS_OF:
        return None
    if isinstance(found, Found) and found.measure.name in (BARE_DEGREE,) and pointed:
        return None
    return _united(part, found)


def _counted(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """A number and its measure: "two big handfuls", "half of a bucket", "two five gallon buckets"."""
    number = read_number(atoms, i)
    if not number:
        return None
    pack = _pack_of(atoms, number, measures)
    if pack and not pack.plural:  # "5 gallon bucket of leaves"
        return _united(_exact(1, pack.end), pack)
    times = at(atoms, i + 1) in ("x", "×")
    size = read_number(atoms, i + 1 + times) if number.end == i + 1 or SMALL.get(atoms[i], 0) else None
    pack = _pack_of(atoms, size, measures) if size else None
    count = cardinal(atoms[i])
    if pack and count:  # "three ten pound bags"
        return _united(_exact(count, pack.end), pack)
    value = _exact(number.value, number.end)._replace(scale=number.scale)
    if number.doubt:
        value = value._replace(doubts=(number.doubt,))
    if number.value < 1 and at(atoms, number.end) in ("of", *ARTICLES, "the"):
        part = _whole_of(atoms, value, measures)
        if part:
            return part
    return _measured(atoms, value, measures)


def _pack_of(atoms: Sequence[str], number: Number, measures: Measures) -> Found | None:
    """The pack whose size a number gives, "five gallon bucket"; None where it gives none."""
    j = number.end + 1 if at(atoms, number.end) == "-" else number.end
    size = measures.at(atoms, j)
    if not size or size.measure.base is None or size.measure.dimension in ("length", "time"):
        return None
    if size.plural and number.value != 1:
        return None
    j = size.end + 1 if at(atoms, size.end) == "-" else size.end
    pack = measures.at(atoms, j)
    return pack if pack and pack.measure.base is None and pack.measure.dimension == "own" else None


def _container(atoms: Sequence[str], i: int, measures: Measures) -> Found | None:
    """A pack named by its size, from its number on."""
    number = read_number(atoms, i)
    return _pack_of(atoms, number, measures) if number else None


def _measured(atoms: Sequence[str], value: Quantity, measures: Measures) -> Quantity | None:
    """`value` with the measure after it; None where the words after it make it no amount (a time, a date)."""
    j = value.end
    total = money.named(atoms, value.best, j)
    if total and value.low == value.high:
        return _exact(total[0], total[1])._replace(currency=total[2])
    loose = inside(atoms, j)
    k = skip_adjectives(atoms, loose)
    if timed(atoms, k) or timed(atoms, j + 1 if at(atoms, j) == "-" else j):
        return None
    double = at(atoms, k) == "double"
    if double:
        k += 1
    if at(atoms, k) == "-" and at(atoms, k + 1).isalpha():
        k += 1
    found = read_unit(atoms, k, value.best, measures) or bracketed_unit(atoms, k, measures)
    if loose > j:
        value = value._replace(end=loose, about=True)
    if not found or _only_a_place(atoms, found, value):
        return value
    if double:
        value = value.times(2)
    return _and_part(atoms, _united(value, found), measures)


def _only_a_place(atoms: Sequence[str], found: Found, value: Quantity) -> bool:
    """Whether "three trays" only says where: no "of" after it."""
    return found.measure.name in NEEDS_OF and at(atoms, found.end) != "of" and value.best >= 1


def _united(value: Quantity, found: Found) -> Quantity:
    doubts = value.doubts
    return value._replace(end=found.end, unit=found.measure.name, measure=found.measure, doubts=doubts)


def _and_part(atoms: Sequence[str], value: Quantity, measures: Measures) -> Quantity:
    """What "and a half" after a measure adds: "two cups and a half"; not "a spritz and a quarter | cup"."""
    if at(atoms, value.end) != "and":
        return value
    part = read_fraction(atoms, value.end + 1)
    after = at(atoms, part[1]) if part else ""
    if not part or part[0] >= 1 or after in ("a", "an", "the") or atoms[part[1] - 1] not in DENOMINATORS:
        return value
    if atoms[value.end + 1] in ("half", "quarter") or after in DEGREES or measures.at(atoms, part[1]):
        return value
    return value.plus(part[0], part[1])


def _bare(atoms: Sequence[str], i: int, measures: Measures) -> Quantity | None:
    """A measure alone that says one of it: "handful of shells", "pinch of lime", "handful sand"."""
    found = measures.at(atoms, i)
    if not found or found.plural or _pointed_at(atoms, i):
        return None
    if at(atoms, i - 1) in ("last", "first", "next", "same", "per", "by", "in", "'s"):
        return None
    name = found.measure.name
    follows = at(atoms, found.end)
    if found.measure.dimension in UNCOUNTED or len(found.word) == 1:
        return None
    plain = follows == "of" and name not in NOT_BARE and found.word != "quarter"
    plain = plain or (follows == "and" and found.measure.base is not None and name not in NOT_BARE)
    alone = found.word.endswith("ful") or name == "pinch"
    if not plain and not alone:
        return None
    one = _and_part(atoms, _united(_exact(1, i), found)._replace(bare=True), measures)
    return one if (plain and follows == "of") or alone or one.end > found.end else None


def _pointed_at(atoms: Sequence[str], i: int) -> bool:
    """ "the big | handful": one known already; "this handful of shells" and "big handful of" are new ones."""
    while at(atoms, i - 1) in ADJECTIVES:
        i -= 1
    return at(atoms, i - 1) in DETERMINERS and at(atoms, i - 1) != "this"


def _compound(atoms: Sequence[str], first: Quantity, measures: Measures) -> Quantity:
    """ "2 lb 3 oz", "a pound and four ounces", "two cups plus a tablespoon": one amount in the first unit."""
    last = first.measure
    while last and last.base and first.measure and first.measure.base:
        joints = (
            (*_PLUS, ",") if last.dimension == "length" else _PLUS
        )  # "2 cups, 3 tbsp lime" are two things
        j = first.end + 1 if at(atoms, first.end) in joints else first.end
        more, end = Fraction(1), j + 1
        if at(atoms, j) not in ARTICLES or j == first.end:
            number = read_number(atoms, j) if is_number_word(at(atoms, j)) else None
            if not number:
                break
            more, end = number.value, number.end
        found = measures.at(atoms, end)
        if not found or not found.measure.base or found.measure.dimension != last.dimension:
            break
        if found.measure.base >= last.base or (found.measure.name in METRIC) != (last.name in METRIC):
            break  # "a pound and a half and 250 g of oats" are two things
        first = first.plus(more * found.measure.base / first.measure.base, found.end)
        last = found.measure
    return first
