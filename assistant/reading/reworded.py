"""Days, places, things and states that a note says anew: "kale, I mean chard", "Sunday, no, Saturday"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from assistant.reading.between import STRONG, WEAK, Between
from assistant.reading.days import find_days
from assistant.reading.edits import BACK, Around, Edit
from assistant.reading.sketch import Mention

_NEAR = 12
"""How many words back a day or place that is corrected may stand."""

_ARTICLES = frozenset(("a", "an", "the", "some", "that", "one"))
_TURNS = frozenset((",", "but", "–", "-"))
_INTO = frozenset(("the", "on", "in", "into", "to"))
COPULAS = frozenset(("was", "were", "is", "'s", "are"))
SCALES = ("moisture", "smell")


class Rewordings(Around):
    """Looks for a day, place, thing or state on both sides of a correction."""

    def corrected(self, run: Between) -> list[Edit]:
        """The edits that put the new words in the place of the old ones."""
        if run.strength < WEAK:
            return []
        return self._like(run, "day") or self._like(run, "place") or self._thing(run) or self._scale(run)

    def _like(self, run: Between, layer: str) -> list[Edit]:
        """A day or place said anew, put where the old one stood."""
        old = self._last(self._layer(layer), run)
        if old is None or run.start - old.end > _NEAR:
            return []
        if run.strength == WEAK and not (run.paused or run.start == old.end or run.led):
            return []
        text, end = self._said(run, layer, old)
        return [Edit(old.start, old.end, text), *self.cut(run, end)] if text else []

    def _said(self, run: Between, layer: str, old: Any) -> tuple[str, int]:
        """The new day or place in words, and where it ends; "" where there is none."""
        k = run.end
        while self.word(k) in _INTO and not self.s.starting(layer, k):
            k += 1
        new = self.s.starting(layer, k)
        if layer == "day":
            return self._day(self.words[old.start : old.end], k, new)
        if new is None or self.b.added(self.words[k : new.end + 2]):
            return "", k
        end = self._with_its_bin(new)
        return " ".join(self.words[k:end]), end

    def _day(self, old: list[str], k: int, new: Any) -> tuple[str, int]:
        """A day said anew; one word alone stands for its like: "the 5th, no, 6th"."""
        if self.word(k).isalnum() and (new is None or new.end == k + 1):
            for i in range(len(old) - 1, -1, -1):
                words = [*old[:i], self.word(k), *old[i + 1 :]]
                read = find_days(words, self.s.now)
                if words != old and [(d.start, d.end) for d in read] == [(0, len(words))]:
                    return " ".join(words), k + 1
        return (" ".join(self.words[k : new.end]), new.end) if new is not None else ("", k)

    def _with_its_bin(self, place: Any) -> int:
        """Where a place of two parts ends: "the stack, middle tray", "the top of the stack"."""
        k = place.end + (self.s.starting("binnoun", place.end) is not None)
        if k > place.end:
            return int(k)
        while self.word(k) in (",", "of", "the", "in"):
            k += 1
        more = self.s.starting("place", k)
        parts = more is not None and k > place.end and bool(place.bin) != bool(more.bin)
        return int(more.end if more is not None and parts else place.end)

    def _layer(self, layer: str) -> Sequence[Any]:
        own: dict[str, Sequence[Any]] = {"day": self.s.days, "place": self.s.places}
        return own[layer] if layer in own else self.s.layers.get(layer, ())

    def _last(self, layer: Sequence[Any], run: Between) -> Any | None:
        floor = run.start - BACK[run.strength]
        return next((m for m in reversed(layer) if m.end <= run.start and m.end > floor), None)

    def _thing(self, run: Between) -> list[Edit]:
        k = run.end + (self.word(run.end) in _ARTICLES)
        new = self.s.starting("thing", k)
        if new is None or (run.strength == WEAK and not (run.paused or run.denied)):
            return []
        topics = {t.topic for t in new.value}
        old = self._denied_thing(run) or self._last(
            [m for m in self.s.layers.get("thing", ()) if topics & {t.topic for t in m.value}], run
        )
        while (more := self.s.starting("thing", new.end)) is not None:
            new = more  # "those are gnats fungus gnats"
        if old is None or not self._closed(new.end, run):
            return []
        old = self._first_of_it(old, new)
        if old is None:
            return []
        if self.word(old.start - 1) == "said":  # "I said oats, I meant barley": what was said before
            first = self._last(self._namesakes(old), Between(old.start - 1, old.start, STRONG))
            run.start, old = (old.start - 2, first) if first is not None else (run.start, old)
        text = " ".join(self.words[new.start : new.end])
        return [Edit(old.start, old.end, text), *self.cut(run, new.end)]

    def _first_of_it(self, old: Any, new: Any) -> Any:
        """ "watermelon um cantaloupe I meant to say cantaloupe": what stood before the first "cantaloupe"."""
        if not {t.name for t in old.value} & {t.name for t in new.value}:
            return old
        k = old.start
        while k and self.b.at(self.words, k - 1, "faint"):
            k -= 1
        before = self.s.ending("thing", k)
        return Mention(before.start, old.end, "thing", old.value) if before and k < old.start else None

    def _denied_thing(self, run: Between) -> Any | None:
        """The thing before that the correction takes back by name, whatever its sort."""
        names = {
            t.name
            for k in run.denied
            for m in [self.s.starting("thing", k)]
            if m is not None
            for t in m.value
        }
        same = [m for m in self.s.layers.get("thing", ()) if names & {t.name for t in m.value}]
        return self._last(same, run)

    def denied(self, i: int) -> list[Edit] | None:
        """ "not lime, grit", after lime was told: the second in the place of the first."""
        wrong = self.s.starting("thing", i)
        k = wrong.end + 1 if wrong is not None and self.word(wrong.end) in _TURNS else 0
        k += self.word(k) in _ARTICLES
        meant = self.s.starting("thing", k) if k else None
        if wrong is None or meant is None or not self.ends(meant.end):
            return None
        old = self._last(self._namesakes(wrong), Between(i - 1, i, STRONG))
        said = " ".join(self.words[meant.start : meant.end])
        return [Edit(old.start, old.end, said), Edit(i - 2, meant.end, "")] if old else None

    def _namesakes(self, thing: Any) -> list[Any]:
        names = {t.name for t in thing.value}
        return [m for m in self.s.layers.get("thing", ()) if names & {t.name for t in m.value}]

    def _closed(self, end: int, run: Between) -> bool:
        """Whether the new thing stands alone and opens no sentence of its own."""
        if run.denied or run.led:
            return True
        return not (self.word(end) in COPULAS or self.s.covering("verb", end))

    def _scale(self, run: Between) -> list[Edit]:
        for layer in SCALES:
            new = self.s.starting(layer, run.end)
            old = self._last(self.s.layers.get(layer, ()), run)
            if new is None or old is None or not (run.paused or run.led):
                continue
            if self._places_between(old.end, new.start):
                continue
            return [
                Edit(old.start, old.end, " ".join(self.words[new.start : new.end])),
                *self.cut(run, new.end),
            ]
        return []

    def _places_between(self, start: int, end: int) -> bool:
        return any(start <= p.start < end for p in self.s.places)
