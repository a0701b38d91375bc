"""Numbers as people write and say them, to `fractions.Fraction`.

    cardinal("seven")            7
    ordinal("third")             3
    read_number(atoms, i)        "two and three quarters", "1 1/2", "ninety nine thousand", "six point eight"
    read_fraction(atoms, i)      "half", "a third", "three quarters", "1/2", "½"
    read_ordinal(atoms, i)       "twenty first", "21st"

`atoms` are those of `tokens.split`. A proper fraction after "and" is added.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from assistant.reading.tokens import VULGAR, at

_UNITS = "zero one two three four five six seven eight nine".split()
_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
ZEROS = frozenset(("zero", "nought", "naught", "nil"))
SMALL: dict[str, int] = {word: k for k, word in enumerate(_UNITS + _TEENS)}
SMALL |= {word: 20 + 10 * k for k, word in enumerate(_TENS)}
SMALL |= dict.fromkeys(ZEROS, 0) | {"fourty": 40, "single": 1}
SCALES = {"hundred": 100, "thousand": 1000, "million": 10**6, "billion": 10**9}
DOZEN = frozenset(("dozen", "dozens"))

_ORDINAL_UNITS = "first second third fourth fifth sixth seventh eighth ninth".split()
_ORDINAL_TEENS = (
    "tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth"
)
ORDINALS: dict[str, int] = {
    word: k for k, word in enumerate(_ORDINAL_UNITS + _ORDINAL_TEENS.split(), start=1)
}
ORDINALS |= {word[:-1] + "ieth": 20 + 10 * k for k, word in enumerate(_TENS)}
ORDINALS |= {word + "th": size for word, size in SCALES.items()} | {"trillionth": 10**12}

# what divides: "a third", "two thirds"; a second is a time or a place, never a half
DENOMINATORS: dict[str, int] = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4}
DENOMINATORS |= {word + end: k for word, k in ORDINALS.items() if k > 2 for end in ("", "s")}

_PLACES = 12  # after the point
HUGE = 10**12  # nothing in a worm bin is counted so far
_DIGITS = re.compile(r"\d+|\d{1,3}(?:,\d{3})+|\d*\.\d+|\d{1,3}(?:,\d{3})+\.\d+")
_COMMA = re.compile(r"\d+,\d{1,2}|\d+,\d{4,}")
_ORDINAL_DIGITS = re.compile(r"(\d{1,9})(?:st|nd|rd|th)")
_NOT_AFTER_HALF = frozenset(("a", "an", "the", "of"))
COMMA_DOUBT = "read the comma as a decimal point"


class Number(NamedTuple):
    """A number that ends before atom `end`; `scale` is its last word of size ("four thousand": 1000)."""

    value: Fraction
    end: int
    scale: int = 1
    doubt: str = ""


def cardinal(word: str) -> int | None:
    """The whole number that one word or run of digits names ("seven", "40"), else None."""
    if word.isdecimal() and len(word) < 16:
        return int(word)
    return SMALL.get(word)


def ordinal(word: str) -> int | None:
    """The place that one word names ("third", "21st"), else None."""
    if word in ORDINALS:
        return ORDINALS[word]
    found = _ORDINAL_DIGITS.fullmatch(word)
    return int(found[1]) if found else None


def is_number_word(word: str) -> bool:
    """Whether a number in digits or words may start with this atom."""
    return (
        word in SMALL
        or word[:1].isdecimal()
        or word[:1] in VULGAR
        or word == "point"
        or word[1:2].isdecimal()
    )


def read_ordinal(atoms: Sequence[str], i: int) -> tuple[int, int] | None:
    """An ordinal of one or two words ("twenty first", "twenty-first") and where it ends, else None."""
    word = at(atoms, i)
    tens = SMALL.get(word, 0)
    if tens >= 20:
        j = i + 2 if at(atoms, i + 1) == "-" else i + 1
        unit = ORDINALS.get(at(atoms, j), 0)
        return (tens + unit, j + 1) if 0 < unit < 10 else None
    place = ordinal(word)
    return None if place is None else (place, i + 1)


def _small(atoms: Sequence[str], i: int) -> tuple[int, int] | None:
    """0 to 99 in words, and where it ends."""
    value = SMALL.get(at(atoms, i))
    if value is None:
        return None
    if value >= 20:
        j = i + 2 if at(atoms, i + 1) == "-" else i + 1
        unit = SMALL.get(at(atoms, j), 0)
        if 0 < unit < 10:
            return value + unit, j + 1
    return value, i + 1


def _whole(atoms: Sequence[str], i: int, stop: int) -> tuple[int, int, int] | None:
    """A whole number in words before atom `stop`: value, end and last scale. "one twenty two" is 122."""
    total, group, scale, ceiling = 0, -1, 1, 10**15
    hundred = False
    start = i
    if at(atoms, i) in ("a", "an") and at(atoms, i + 1) in SCALES:
        group, i = 1, i + 1
    while i < stop:
        word = atoms[i]
        after_size = group % 100 == 0 if hundred else group < 0 and total > 0
        if word == "and" and after_size and SMALL.get(at(atoms, i + 1), 0) > 0:
            i += 1
            continue
        small = _small(atoms, i)
        if small and small[1] <= stop:
            value = small[0]
            if group < 0:
                group = value
            elif hundred and group % 100 == 0 and value:
                group += value
            elif not hundred and 0 < group < 10 <= value:
                group, hundred = group * 100 + value, True
            else:
                break
            i = small[1]
        elif word == "hundred" and 0 < group < 100 and not hundred:
            group, hundred, scale, i = group * 100, True, 100, i + 1
        elif word in SCALES and word != "hundred" and group > 0 and SCALES[word] < ceiling:
            ceiling = scale = SCALES[word]
            total, group, hundred, i = total + group * scale, -1, False, i + 1
        elif word == "oh" and 0 < group < 10 and 0 < SMALL.get(at(atoms, i + 1), 0) < 10:
            group, hundred, i = group * 100 + SMALL[atoms[i + 1]], True, i + 2
        else:
            break
    if i == start or (group < 0 and total == 0):
        return None
    return total + max(group, 0), i, scale


def _decimals(atoms: Sequence[str], i: int) -> tuple[str, int]:
    """The digits said after "point": "seven five", "oh five", "seventy five", "77"."""
    digits = ""
    while True:
        word = at(atoms, i)
        if word.isdecimal() and not digits:
            return (word, i + 1) if len(word) <= _PLACES else ("", i)
        small = (0, i + 1) if word == "oh" else _small(atoms, i)
        if not small or (digits and small[0] > 9) or len(digits) >= _PLACES:
            return digits, i
        digits += str(small[0])
        i = small[1]
        if small[0] > 9:
            return digits, i


def _written(text: str) -> tuple[Fraction, str] | None:
    """The value of an atom in digits, with the doubt that it leaves."""
    if text in VULGAR:
        top, _, bottom = unicodedata.normalize("NFKC", text).partition("⁄")
        return Fraction(int(top), int(bottom)), ""
    if len(text) > 24:
        return None
    if _DIGITS.fullmatch(text):
        return Fraction(text.replace(",", "")), ""
    if _COMMA.fullmatch(text):
        return Fraction(text.replace(",", ".")), COMMA_DOUBT
    return None


def _slashed(atoms: Sequence[str], i: int) -> tuple[Fraction, int] | None:
    """ "½" or "3/4" in digits, and where it ends."""
    word = at(atoms, i)
    if word in VULGAR:
        value = _written(word)
        return (value[0], i + 1) if value else None
    below = at(atoms, i + 2)
    if word.isdecimal() and at(atoms, i + 1) in ("/", "⁄") and below.isdecimal() and at(atoms, i + 3) != "/":
        if len(word) > 9 or len(below) > 9 or int(below) == 0:
            return None
        return Fraction(int(word), int(below)), i + 3
    return None


def _divided(atoms: Sequence[str], i: int, end: int) -> tuple[Fraction, int] | None:
    """A fraction in words whose denominator's last word stands at `end`: "three twenty-firsts"."""
    last = at(atoms, end)
    size = DENOMINATORS.get(last) or (ORDINALS.get(last.removesuffix("s")) if last != "second" else None)
    if size is None or end == i:
        return None
    for cut in range(i + 1, end + 1):  # the longest denominator that leaves a numerator
        top = _whole(atoms, i, cut)
        if not top or top[1] != cut:
            continue
        bottom = _denominator(atoms, cut, end, size)
        if bottom and (last.endswith("s") or top[0] == 1 or (top[0] == 3 and last == "quarter")):
            return Fraction(top[0], bottom), end + 1
    return None


def _denominator(atoms: Sequence[str], cut: int, end: int, size: int) -> int | None:
    """The whole of a denominator from `cut`, its last word (at `end`) being worth `size`."""
    stem = end - 1 if atoms[end - 1] == "-" else end
    if cut == stem:
        return size if atoms[end] in DENOMINATORS else None
    before = _whole(atoms, cut, stem)
    if not before or before[1] != stem or atoms[end] in ("half", "halves", "quarter", "quarters"):
        return None
    return before[0] + size if before[0] % 10 == 0 and 0 < size < 10 else None


def read_fraction(atoms: Sequence[str], i: int) -> tuple[Fraction, int] | None:
    """A fraction by itself, "½", "3/4", "half", "quarter", "a third", "two thirds": value and end."""
    found = _slashed(atoms, i)
    if found:
        return found
    word = at(atoms, i)
    if word in ("half", "quarter"):
        return Fraction(1, DENOMINATORS[word]), i + 1
    if word in ("a", "an"):
        size = DENOMINATORS.get(at(atoms, i + 1))
        if size and not atoms[i + 1].endswith(("s", "halves")):
            return Fraction(1, size), i + 2
        return None
    top = _whole(atoms, i, len(atoms)) if word in SMALL else None
    if not top and word.isdecimal() and len(word) < 10:
        top = int(word), i + 1, 1
    if not top:
        return None
    j = top[1] + 1 if at(atoms, top[1]) == "-" else top[1]
    return _divided(atoms, i, j) if word in SMALL else _divided_by(top[0], atoms, j)


def _divided_by(top: int, atoms: Sequence[str], j: int) -> tuple[Fraction, int] | None:
    """`top` over the one word at `j`: "3 quarters", "one-eighth"."""
    last = at(atoms, j)
    size = DENOMINATORS.get(last)
    if size and (last.endswith("s") or top == 1 or (top == 3 and last == "quarter")):
        return Fraction(top, size), j + 1
    return None


def _mixed(atoms: Sequence[str], value: Fraction, i: int) -> tuple[Fraction, int]:
    """What a fraction after a whole number adds: "1 1/2", "1-1/2", "two and a half"."""
    if value.denominator != 1:
        return value, i
    word = at(atoms, i)
    j = i
    if word == "-":
        j = i + 1
    elif word == "and":
        j = i + 1
        part = read_fraction(atoms, j)
        if (
            part
            and part[0] < 1
            and not (atoms[j] in ("half", "quarter") and at(atoms, part[1]) in _NOT_AFTER_HALF)
        ):
            return value + part[0], part[1]
        return value, i
    part = _slashed(atoms, j)
    return (value + part[0], part[1]) if part and part[0] < 1 else (value, i)


def _sized(atoms: Sequence[str], value: Fraction, i: int) -> tuple[Fraction, int, int]:
    """What a word of size after a number makes of it: "1.5 million", "4 hundred", "two dozen", "2 k"."""
    scale = 1
    word = at(atoms, i)
    while word in SCALES or word in DOZEN or (word == "k" and scale == 1):
        size = SCALES.get(word, 12 if word in DOZEN else 1000)
        value, scale, i = value * size, scale * size, i + 1
        word = at(atoms, i)
        if scale > HUGE:
            break
    return value, i, scale


def read_number(atoms: Sequence[str], i: int) -> Number | None:
    """The number that starts at atom `i`, in digits or words, with its fraction; None where there is none.

    Words of an ordinal are no number ("twenty first"); nor is anything of a million million and more.
    """
    word = at(atoms, i)
    if word in DOZEN or word == "half" or (word in ("a", "an") and at(atoms, i + 1) not in SCALES):
        return _with_article(atoms, i)
    if word and (word == "point" or word[0].isdecimal() or word[0] in ".," or word in VULGAR):
        start = _in_digits(atoms, i)
    else:
        end = (_whole(atoms, i, len(atoms)) or (0, i, 1))[1]
        fraction = _worded_fraction(atoms, i, end) if end > i else None
        if fraction:
            return fraction
        start = _in_words(atoms, i)
    return _completed(atoms, start) if start else None


def _with_article(atoms: Sequence[str], i: int) -> Number | None:
    """ "a dozen", "half a dozen", "half a million", "a third"; "dozen" alone is twelve."""
    word = atoms[i]
    if word in DOZEN:
        return Number(Fraction(12), i + 1) if word == "dozen" else None
    if word == "half":
        j = i + 2 if at(atoms, i + 1) in ("a", "-") else i + 1
        size = 12 if at(atoms, j) == "dozen" else SCALES.get(at(atoms, j))
        return Number(Fraction(size, 2), j + 1) if size else None
    if at(atoms, i + 1) == "dozen":
        return Number(Fraction(12), i + 2)
    part = read_fraction(atoms, i)
    return Number(*part) if part else None


def _in_words(atoms: Sequence[str], i: int) -> Number | None:
    """A whole number in words, with the decimals said after "point"."""
    whole = _whole(atoms, i, len(atoms))
    if not whole or _is_ordinal_here(atoms, whole[1]):
        return None
    value, end, scale = whole
    digits, after = _decimals(atoms, end + 1) if at(atoms, end) == "point" else ("", end)
    if digits:
        return Number(value + Fraction(int(digits), 10 ** len(digits)), after, scale)
    return Number(Fraction(value), end, scale)


def _completed(atoms: Sequence[str], start: Number) -> Number | None:
    """A number with the fraction, the word of size or the ratio that follows it."""
    value, i = _mixed(atoms, start.value, start.end)
    value, i, scale = _sized(atoms, value, i)
    value, i = _over(atoms, value, i)
    return Number(value, i, max(start.scale, scale), start.doubt) if value < HUGE else None


def _in_digits(atoms: Sequence[str], i: int) -> Number | None:
    """A number that starts in digits or with "point"."""
    if atoms[i] == "point":
        digits, end = _decimals(atoms, i + 1)
        return Number(Fraction(int(digits), 10 ** len(digits)), end) if digits else None
    slashed = _slashed(atoms, i)
    if slashed:
        return Number(*slashed)
    written = _written(atoms[i])
    if not written:
        return None
    value, doubt = written
    part = _divided_by(int(value), atoms, i + 1) if value.denominator == 1 else None
    if part:
        return Number(*part)
    digits, end = _decimals(atoms, i + 2) if at(atoms, i + 1) == "point" else ("", i + 1)
    if digits:
        return Number(value + Fraction(int(digits), 10 ** len(digits)), end, 1, doubt)
    return Number(value, i + 1, 1, doubt)


def _worded_fraction(atoms: Sequence[str], i: int, end: int) -> Number | None:
    """A fraction, or a whole and a proper fraction, whose cardinal words run from `i` to `end`."""
    stop = end + 1 if at(atoms, end) == "-" else end
    divided = _divided(atoms, i, stop)
    if not divided:
        return None
    for k in range(end - 1, i, -1):  # "one hundred and three quarters"
        if atoms[k] == "and":
            head, part = _whole(atoms, i, k), read_fraction(atoms, k + 1)
            if head and head[1] == k and part and part[1] == divided[1] and part[0] < 1:
                return Number(head[0] + part[0], part[1])
    return Number(*divided)


def _is_ordinal_here(atoms: Sequence[str], end: int) -> bool:
    """Whether words before `end` only begin an ordinal: "twenty first"; not "seventy | second tray"."""
    hyphen, tens = at(atoms, end) == "-", SMALL.get(atoms[end - 1], 0)
    return 20 <= tens < (100 if hyphen else 40) and 0 < ORDINALS.get(at(atoms, end + hyphen), 0) < 10


def _over(atoms: Sequence[str], value: Fraction, i: int) -> tuple[Fraction, int]:
    """ "one over three", "two out of five": a ratio of two whole numbers."""
    j = i + 1 if at(atoms, i) == "over" else i + 2 if list(atoms[i : i + 2]) == ["out", "of"] else 0
    if not j or value.denominator != 1:
        return value, i
    word = at(atoms, j)
    if word.isdecimal() and len(word) < 10:
        bottom, end = int(word), j + 1
    else:
        whole = _whole(atoms, j, len(atoms)) if word in SMALL else None
        if not whole:
            return value, i
        bottom, end = whole[0], whole[1]
    return (value / bottom, end) if 0 < value <= bottom else (value, i)
