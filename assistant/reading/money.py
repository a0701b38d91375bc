"""Money: "$12", "£3.50", "twelve dollars", "two dollars and ten cents".

signed(atoms, i)           a sum with its sign before it: value, end, currency
named(atoms, value, i)     a number before atom `i` whose currency stands there
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TypeAlias

from assistant.reading.numbers import is_number_word, read_number
from assistant.reading.tokens import at

Sum: TypeAlias = tuple[Fraction, int, str]  # value, the atom after it, ISO 4217 code

SIGNS = {"$": "USD", "£": "GBP", "€": "EUR"}
_HUNDREDTH = Fraction(1, 100)
_NAMES: dict[str, tuple[str, Fraction]] = {
    name: (code, Fraction(worth))
    for code, worth, names in (
        ("USD", 1, "dollar dollars buck bucks usd"),
        ("USD", _HUNDREDTH, "cent cents"),
        ("GBP", 1, "quid gbp"),
        ("GBP", _HUNDREDTH, "pence"),
        ("EUR", 1, "euro euros eur"),
    )
    for name in names.split()
}


def signed(atoms: Sequence[str], i: int) -> Sum | None:
    """ "$12", "£3.50"."""
    code = SIGNS.get(at(atoms, i))
    number = read_number(atoms, i + 1) if code and is_number_word(at(atoms, i + 1)) else None
    return (number.value, number.end, code) if number and code else None


def named(atoms: Sequence[str], value: Fraction, i: int) -> Sum | None:
    """The sum of a number read before atom `i`: "... dollars", "... bucks and fifty cents"."""
    found = _NAMES.get(at(atoms, i))
    if not found:
        return None
    code, worth = found
    j = i + 2 if at(atoms, i + 1) == "and" else i + 1
    small = read_number(atoms, j) if worth == 1 and is_number_word(at(atoms, j)) else None
    if small and small.value < 100 and _NAMES.get(at(atoms, small.end), (code, worth))[1] == _HUNDREDTH:
        return value + small.value * _HUNDREDTH, small.end + 1, code
    return value * worth, i + 1, code
