"""The unit after a number: a measure of the lexicon, degrees, "c" and "in" where they are units.

read_unit(atoms, i, value, measures)
bracketed_unit(atoms, i, measures)     "20 (kg)"
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from assistant.reading.amountwords import IN_A_ROW
from assistant.reading.measures import Found, Measure, Measures
from assistant.reading.tokens import MONTHS, at

DEGREES = frozenset(("°", "º", "degree", "degrees", "deg", "degs"))
SCALES = {
    "fahrenheit": "degF",
    "farenheit": "degF",
    "celsius": "degC",
    "celcius": "degC",
    "centigrade": "degC",
}
LETTERS = {"f": "degF", "c": "degC"}
BARE_DEGREE = (
    "degree"  # degrees of a scale that is not said: the keeper's settings decide (contract, rule 16)
)

_LOOSE = frozenset("deep thick long".split())
_NO_INCH = frozenset(
    "the a an my our your his her this that these those it its there here each every all both total front "
    "back "
    "top middle bottom upper lower left right one bin tray box bed tier tower crate barrel freezer garage "
    "shed "
    "basement kitchen tote cellar drawer room bucket case between among for and or but now so with of".split()
)
_WARM = frozenset(
    "temp temps temperature probe thermometer reading reads read bed air room rm outside inside core "
    "minus degrees "
    "gauge at celsius garage shed".split()
)


def read_unit(atoms: Sequence[str], i: int, value: Fraction, measures: Measures) -> Found | None:
    """The unit at atom `i` for a number before it: a measure, degrees, "in" where it means inches."""
    word = at(atoms, i)
    if word in DEGREES:
        j = i + 2 if at(atoms, i + 1) == "." else i + 1
        scale = SCALES.get(at(atoms, j)) or LETTERS.get(at(atoms, j))
        return _degrees(scale or BARE_DEGREE, j + 1 if scale else i + 1, word)
    if word in SCALES:
        return _degrees(SCALES[word], i + 1, word)
    if word == "f" or (word == "c" and _is_celsius(atoms, i, value)):
        return _degrees(LETTERS[word], i + 1, word)
    if (word == "in" and not _is_inches(atoms, i, value)) or (
        word == "second" and at(atoms, i + 1) in IN_A_ROW
    ):
        return None
    if (word == "''" or (word == '"' and at(atoms, i + 1).isalpha())) and at(atoms, i - 1)[-1:].isdecimal():
        inch = measures.by_name.get("inch")
        return Found(inch, i + 1, word, False) if inch else None
    return measures.at(atoms, i)


def _degrees(unit: str, end: int, word: str) -> Found:
    return Found(Measure(unit, "temperature", None), end, word, False)


def _is_celsius(atoms: Sequence[str], i: int, value: Fraction) -> bool:
    """Whether "c" is degrees and not cups: a large or negative figure, or a word of warmth shortly before."""
    return value < 0 or value > 8 or any(w in _WARM for w in atoms[max(0, i - 5) : i])


def _is_inches(atoms: Sequence[str], i: int, value: Fraction) -> bool:
    """Whether "in" is a measure and not a place: what follows is a material, "of" or a depth."""
    follows = at(atoms, i + 2) if at(atoms, i + 1) == "." else at(atoms, i + 1)
    if follows in ("of", *_LOOSE):
        return True
    return value <= 24 and follows.isalpha() and follows not in _NO_INCH and follows not in MONTHS


def bracketed_unit(atoms: Sequence[str], i: int, measures: Measures) -> Found | None:
    """A unit in brackets: "20 (kg)"."""
    if at(atoms, i) not in ("(", "[", "{"):
        return None
    found = measures.at(atoms, i + 1)
    return found._replace(end=found.end + 1) if found and at(atoms, found.end) in (")", "]", "}") else None
