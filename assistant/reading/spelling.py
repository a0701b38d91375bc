"""Words written in a hurry, where a thing or a measure is expected: "2 tbsp eggshel", "3 hdfls dry leaves".

Only asked where an amount stands before the word, so that ordinary words are never touched.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from lexicon import Lexicon, Thing

_VOWELS = str.maketrans("", "", "aeiou")


class Spelling:
    """Finds the lexicon's word nearest to one that it has not got."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon

    @cached_property
    def _things(self) -> Mapping[str, tuple[Thing, ...]]:
        found: dict[str, tuple[Thing, ...]] = {}
        for topic in ("food", "bedding", "amendment", "cover"):
            for thing in self._lexicon.things.get(topic, {}).values():
                for form in thing.forms:
                    found[form] = (*found.get(form, ()), thing)
        return found

    @cached_property
    def _by_length(self) -> Mapping[int, tuple[str, ...]]:
        groups: dict[int, list[str]] = {}
        for form in self._things:
            groups.setdefault(len(form), []).append(form)
        return {length: tuple(forms) for length, forms in groups.items()}

    @cached_property
    def _measures(self) -> Mapping[str, str]:
        """Consonants of a measure's forms -> its name; only those long enough to tell."""
        found: dict[str, str] = {}
        for row in self._lexicon.table("measures"):
            for form in (row["name"], *row["forms"].split(";")):
                bones = _bones(form.strip().lower())
                if len(bones) >= 3 and " " not in form:
                    found.setdefault(bones, row["name"])
        return found

    def measured(self, name: str) -> tuple[Thing, ...]:
        """What a word that mostly means something else is behind a measure: "3 handfuls of card"."""
        return self._things.get(name) or tuple(
            t for t in self._lexicon.things.get("treatment", {}).values() if name in t.forms
        )

    def things(self, name: str) -> tuple[Thing, ...]:
        """The things a slip away from `name` (two from ten letters on); none where several are."""
        slips = 0 if len(name) < 5 else 1 if len(name) < 10 else 2
        for allowed in range(1, slips + 1):
            near = [f for f in self._candidates(name, allowed) if within(name, f, allowed)]
            owners = {id(t) for f in near for t in self._things[f]}
            if near and len(owners) <= len(self._things[near[0]]):
                return self._things[near[0]]
        return ()

    def measure(self, word: str) -> str | None:
        """The measure that a word without its vowels stands for ("hdfls"), None where it is not plain."""
        bones = _bones(word)
        if len(bones) < 3 or len(word) > len(bones) + 2 or word.endswith("ed"):
            return None  # "two sliced cucumbers" counts cucumbers
        if bones in self._measures:
            return self._measures[bones]
        near = {
            name
            for known, name in self._measures.items()
            if within(bones, known, 1) and known[0] == bones[0] and len(known) > 3
        }
        return near.pop() if len(near) == 1 else None

    def _candidates(self, name: str, allowed: int) -> Iterable[str]:
        for length in range(len(name) - allowed, len(name) + allowed + 1):
            yield from (f for f in self._by_length.get(length, ()) if f[0] == name[0])


def _bones(word: str) -> str:
    return word[:1] + word[1:].translate(_VOWELS)


def within(a: str, b: str, slips: int) -> bool:
    """Whether `a` is at most `slips` letters added, left out, changed, or swapped with the next, from `b`."""
    if abs(len(a) - len(b)) > slips or len(set(a) - set(b)) > slips or len(set(b) - set(a)) > slips:
        return False
    before, row = list(range(len(b) + 1)), list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        older, before, row = before, row, [i] + [0] * len(b)
        for j, y in enumerate(b, 1):
            row[j] = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                row[j] = min(row[j], older[j - 2] + 1)
    return row[-1] <= slips
