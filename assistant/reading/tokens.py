"""Words as spaCy splits them, cut further into atoms that the number and day readers can walk over.

An atom is a run of letters, a number ("1,500", ".75", "18th"), a clock time ("10:30") or one mark. Dashes
of every kind become "-", a minus sign becomes "minus", full-width digits become plain ones. What only looks
like a number ("1e309", "t1") stays one atom that no reader takes for one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache

VULGAR = frozenset("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒")
MONTHS = {
    name: k
    for k, names in enumerate(
        (
            "january jan",
            "february feb",
            "march mar",
            "april apr",
            "may",
            "june jun",
            "july jul",
            "august aug",
            "september sept sep",
            "october oct",
            "november nov",
            "december dec",
        ),
        start=1,
    )
    for name in names.split()
}

MINUS = "minus"
_LONGEST = 40  # letters; nothing that is a number or a day is longer
_MINUS = "−"
_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―"), "-") | {ord("’"): "'"}
_ATOM = re.compile(
    r"\d{1,2}:\d\d(?::\d\d)?(?:am|pm)?"  # a clock time
    r"|\d+(?:\.\d+)?e[+-]?\d+"  # a number in exponent form: never an amount
    r"|\d+(?:st|nd|rd|th)(?![a-z])"
    r"|\d+(?:[.,]\d+)*|[.,]\d+"
    r"|[^\W\d_]+(?:'[^\W\d_]+)*"
    r"|''|'[^\W\d_]+|."
)

_SUM = re.compile(r"r\d{2,6}|(?:rm|rs)\d{1,6}")  # rand, ringgit, rupees
_TIMES = re.compile(r"x\d{1,4}(?:ish)?")
ARROWS = ("->", "=>", "-->")
SIGN = "$"  # marks letters that stand before a sum in one word with it: "r$", "40"


def at(atoms: Sequence[str], i: int) -> str:
    """The atom at `i`, "" beyond either end."""
    return atoms[i] if 0 <= i < len(atoms) else ""


@lru_cache(maxsize=8192)
def _cut(word: str) -> tuple[str, ...]:
    """The atoms of one word that is not plain letters."""
    if len(word) > _LONGEST or (len(word) == 1 and word.isascii()) or word in ARROWS:
        return (word,)
    if not word.isascii():
        word = "".join(c if c in VULGAR or c == _MINUS else unicodedata.normalize("NFKC", c) for c in word)
        word = word.translate(_DASHES).lower()
    if word[:1] == _MINUS or (word[:1] == "-" and word[1:2].isdigit()):
        return (MINUS, *_ATOM.findall(word[1:]))
    if word[:1].isalpha() and word.isalnum():  # "t1" and "q3" stay whole, "oct2" and "x3" do not
        head = word.rstrip("0123456789")
        if _SUM.fullmatch(word):
            return head + SIGN, word[len(head) :]
        if _TIMES.fullmatch(word):
            return head, *_ATOM.findall(word[len(head) :])
        return (head, word[len(head) :]) if head in MONTHS else (word,)
    return tuple(_ATOM.findall(word)) or (word,)


def split(words: Sequence[str]) -> tuple[list[str], list[int]]:
    """The atoms of lower-cased `words`; for each the index of its word, and last the number of words."""
    atoms: list[str] = []
    origin: list[int] = []
    for k, word in enumerate(words):
        if word.isalpha():
            if word == "d" and atoms and atoms[-1] == "we":  # spaCy's cut of "wed"; "we'd" is "we", "'d"
                atoms[-1] = "wed"
                continue
            atoms.append(word)
            origin.append(k)
        else:
            for atom in _cut(word):
                after_number = atom == MINUS and atoms and atoms[-1][-1].isdecimal()  # "2 -7" is a range
                atoms.append("-" if after_number else atom)
                origin.append(k)
    origin.append(len(words))
    return atoms, origin


def span(origin: Sequence[int], begin: int, end: int) -> tuple[int, int]:
    """The words, end exclusive, that the atoms from `begin` to before `end` came from."""
    return origin[begin], max(origin[end - 1] + 1, origin[end])
