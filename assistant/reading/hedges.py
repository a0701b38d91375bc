"""Words around an amount that loosen it ("about", "or so") or bound it on one side ("at least")."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

ABOUT, LEAST, MOST, NOTHING = "about", "least", "most", ""

WIDEN = Fraction(1, 5)  # contract, rule 7

_BEFORE = {
    ABOUT: "about, around, roughly, approximately, approx, maybe, perhaps, probably, possibly, nearly, "
    "almost, "
    "circa, ~, ≈, close to, near to, call it, call that, say, something like, somewhere around, somewhere "
    "about, "
    "somewhere near, in the region of, more like, est, estimated, an estimated, a scant, just under, just "
    "over, "
    "just shy of, shy of, pushing, a bit over, a bit under, a little over, a little under, a bit more than, "
    "a bit less than, a little more than, a little less than, slightly over, slightly under, slightly "
    "more than, "
    "slightly less than, not quite, barely, give or take, in the neighborhood of, getting on for, best "
    "part of, "
    "the best part of, easily",
    LEAST: "at least, at the least, at the very least, no less than, not less than, no fewer than, "
    "not under, "
    "more than, better than, over, above, well over, upwards of, upward of, north of, exceeding, exceed, "
    "exceeds, "
    "greater than, higher than, surpass, surpasses, surpassing, a minimum of, minimum of, >, "
    "greater than or equal to, more than or equal to, equal to or greater than",
    MOST: "at most, at the most, at the very most, no more than, not more than, not over, less than, "
    "fewer than, "
    "lower than, under, below, well under, up to, a maximum of, maximum of, max, <, less than or equal to, "
    "as little as, south of, no higher than",
    NOTHING: "exactly, precisely, just, only, equals, a total of, a good, a full, a solid",
}
_AFTER = {
    ABOUT: "or so, ish, - ish, or thereabouts, give or take, more or less, near enough, , near enough, "
    "somewhere in there, roughly, approximately, or something, or something like that",
    LEAST: "or more, and more, plus, +, and up, or over, or better, minimum, at least, and counting",
    MOST: "or less, or fewer, or under, tops, max, at most, maximum, at the most",
}
_INSIDE = (("-", "ish"), ("ish",), ("or", "so"), ("-", "odd"), ("odd",), ("-", "some"))
# prepositions as well: a bound only where a verb of being or having, or nothing, stands before them
_PLACES = frozenset(("over", "above", "under", "below"))
_BOUND_AFTER = frozenset(
    "is was are were be been 's 're had has have got gets at to well just and but of it by stay stays "
    "stayed keep "
    "weighs weighed about for with".split()
)


class Hedge(NamedTuple):
    """What stands around an amount: whether it is loose, and which bound alone is said, LEAST or MOST."""

    about: bool = False
    bound: str = ""

    def with_(self, kind: str) -> Hedge:
        """The same with one more word taken in; the outermost bound counts."""
        if kind == ABOUT:
            return self._replace(about=True)
        return self._replace(bound=kind) if kind else self


def _table(phrases: dict[str, str], side: int) -> dict[str, list[tuple[tuple[str, ...], str]]]:
    """Phrases by the word that touches the amount, the longest first."""
    table: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for kind, listed in phrases.items():
        for phrase in _split(listed):
            table.setdefault(phrase[side], []).append((phrase, kind))
    for known in table.values():
        known.sort(key=lambda entry: -len(entry[0]))
    return table


def _split(listed: str) -> Iterable[tuple[str, ...]]:
    for phrase in listed.replace(", ,", ", COMMA").split(", "):
        words = phrase.split()
        yield tuple("," if w == "COMMA" else w for w in words)


_LEFT, _RIGHT = _table(_BEFORE, -1), _table(_AFTER, 0)


def before(atoms: Sequence[str], i: int, floor: int) -> tuple[int, Hedge]:
    """The hedges that end at atom `i`, none starting before `floor`: where they start, and what they say."""
    hedge = Hedge()
    while i > floor:
        for phrase, kind in _LEFT.get(atoms[i - 1], ()):
            start = i - len(phrase)
            if start >= floor and tuple(atoms[start:i]) == phrase and _bounds(atoms, start, phrase):
                i, hedge = start, hedge.with_(kind)
                break
        else:
            break
    return i, hedge


def _bounds(atoms: Sequence[str], start: int, phrase: tuple[str, ...]) -> bool:
    """Whether the phrase loosens or bounds: not the "over" of a place, not the "about" of "how about"."""
    if start == 0 or len(phrase) > 1:
        return True
    if phrase[0] in _PLACES:
        return atoms[start - 1] in _BOUND_AFTER
    return phrase[0] != "about" or atoms[start - 1] not in ("how", "what")


def inside(atoms: Sequence[str], i: int) -> int:
    """Past what may loosen a number before its unit: "two-ish cups", "two or so cups", "twenty odd worms"."""
    for phrase in _INSIDE:
        if tuple(atoms[i : i + len(phrase)]) == phrase:
            return i + len(phrase)
    return i


def after(atoms: Sequence[str], i: int) -> tuple[int, Hedge]:
    """The hedges that start at atom `i`: where they end, and what they say."""
    hedge = Hedge()
    while i < len(atoms):
        for phrase, kind in _RIGHT.get(atoms[i], ()):
            if tuple(atoms[i : i + len(phrase)]) == phrase:
                i, hedge = i + len(phrase), hedge.with_(kind)
                break
        else:
            break
    return i, hedge


def widened(low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    """An exact figure made loose: a fifth less and a fifth more."""
    return low - abs(low) * WIDEN, high + abs(high) * WIDEN
