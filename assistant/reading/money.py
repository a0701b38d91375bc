"""Money: "$12", "£3.50", "R40", "twelve dollars", "two dollars and ten cents", "a fiver".

signed(atoms, i)           a sum with its sign before it: value, end, currency
named(atoms, value, i)     a number before atom `i` whose currency stands there

The currencies are those of lexicon/words/currencies.csv.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple, TypeAlias

from assistant.reading.numbers import is_number_word, read_number
from assistant.reading.tokens import SIGN, at
from lexicon import load

Sum: TypeAlias = tuple[Fraction, int, str]  # value, the atom after it, ISO 4217 code

_HUNDREDTH = Fraction(1, 100)
_PAID = frozenset("for paid cost costs costing at @ me is was asked charged spent price".split())
_WORMS_GO = frozenset(
    "bought ordered added moved put released tipped took counted pulled picked of another some got + the "
    "those my these 's".split()
)
_EUROS_GO = frozenset("from to in into went out moved and $ £ came arrived are were".split())


class _Name(NamedTuple):
    code: str
    worth: Fraction
    how: str


@cache
def _table(*hows: str) -> Mapping[str, _Name]:
    """The currencies by their words; `hows` says how they stand: as a sign before, or a name behind."""
    rows = [r for r in load().table("currencies") if r["how"] in hows]
    return {f: _Name(r["code"], Fraction(r["worth"]), r["how"]) for r in rows for f in r["form"].split(";")}


@cache
def signs() -> Mapping[str, str]:
    """The signs that stand before a sum, with their codes."""
    return {form + SIGN * form.isalpha(): name.code for form, name in _table("sign").items()}


def _names() -> Mapping[str, _Name]:
    return _table("name", "weight")


def signed(atoms: Sequence[str], i: int) -> Sum | None:
    """ "$12", "£3.50", "R40"."""
    code = signs().get(at(atoms, i))
    number = read_number(atoms, i + 1) if code and is_number_word(at(atoms, i + 1)) else None
    return (number.value, number.end, code) if number and code else None


def named(atoms: Sequence[str], value: Fraction, i: int) -> Sum | None:
    """The sum of a number read before atom `i`: "... dollars", "... bucks and fifty cents"."""
    found = _names().get(at(atoms, i))
    if not found or _goes_in(atoms, i):
        return None
    small = _hundredths(atoms, i + 1) if found.worth == 1 else None
    if small is not None:
        return value + small[0], small[1], found.code
    if found.how == "weight" and not _paid(atoms, i):
        return None
    return value * found.worth, i + 1, found.code


def _hundredths(atoms: Sequence[str], i: int) -> tuple[Fraction, int] | None:
    """What stands behind the whole sum: "and fifty cents", "ten cents", "fifty"."""
    linked = at(atoms, i) == "and"
    small = read_number(atoms, i + linked) if is_number_word(at(atoms, i + linked)) else None
    if small is None or small.value >= 100:
        return None
    name = _names().get(at(atoms, small.end))
    if name is not None and name.worth == _HUNDREDTH:
        return small.value * _HUNDREDTH, small.end + 1
    bare = not linked and small.value >= 10 and _ends(atoms, small.end)
    return (small.value * _HUNDREDTH, small.end) if bare else None


def one(atoms: Sequence[str], i: int) -> Sum | None:
    """ "a | fiver", "a | dollar": one piece of money after an article."""
    found = _names().get(at(atoms, i))
    if not found or found.how == "weight" or at(atoms, i).endswith("s") or len(at(atoms, i)) < 3:
        return None
    return found.worth, i + 1, found.code


def _ends(atoms: Sequence[str], i: int) -> bool:
    """Whether no noun follows the pence: "twelve pounds fifty", not "two pounds fifty worms"."""
    return not at(atoms, i).isalpha() or at(atoms, i) in (
        "for",
        "each",
        "a",
        "the",
        "which",
        "and",
        "at",
        "all",
    )


def _number_start(atoms: Sequence[str], i: int) -> int:
    """Where the number before atom `i` starts."""
    while i > 0 and (is_number_word(atoms[i - 1]) or atoms[i - 1] in ("hundred", "thousand", "-", "and")):
        i -= 1
    return i


def _paid(atoms: Sequence[str], i: int) -> bool:
    """Whether "pounds" at `i` are paid and not weighed: "for eight pounds", not "two pounds of worms"."""
    return at(atoms, _number_start(atoms, i) - 1) in _PAID and at(atoms, i + 1) not in ("of", "worth", "-")


def _goes_in(atoms: Sequence[str], i: int) -> bool:
    """Whether "euros" at `i` are nightcrawlers: "added 200 euros", "500 euros from B", "2000 euros $64"."""
    if at(atoms, i) != "euros":
        return False
    before = at(atoms, _number_start(atoms, i) - 1)
    return before in _WORMS_GO or (before not in _PAID and at(atoms, i + 1) in _EUROS_GO)
