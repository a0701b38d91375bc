"""Figures, days, places and things that a note says anew, put where they are meant before it is read.

    "two handfuls of kale, no, three"  is read as  "three handfuls of kale"

A correction is words of lexicon/words/repairs.csv with something of one sort on both sides. What stands
before it is taken back; its unit or its thing stays where the new words give none (contract 5.4).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.reading.amounts import AmountSpan, Measures, find_amounts
from assistant.reading.between import FAINT, STRONG, WEAK, Between, Betweens
from assistant.reading.days import find_days
from assistant.reading.sketch import Mention, Sketch
from lexicon import Lexicon

_BACK = {FAINT: 2, WEAK: 9, STRONG: 16}
"""How many words back what is corrected may stand."""

_LEAD = 5
_NEAR = 12
_DEGREES = frozenset(("degree", "degF", "degC"))
_APART = ("percent", "pH", "min", "inch", "cm")
_ARTICLES = frozenset(("a", "an", "the", "some", "that", "one"))
_COPULAS = frozenset(("was", "were", "is", "'s", "are"))
_ENDS = frozenset((".", ",", ";", "!", "?", ")", "\n"))
_SCALES = ("moisture", "smell")


@dataclass(frozen=True, slots=True)
class Edit:
    """`words[start:end]` are read as `text`."""

    start: int
    end: int
    text: str


class Restater:
    """Finds what a note says anew."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.betweens = Betweens(lexicon.table("repairs"))
        self.measures = Measures(lexicon.table("measures"))

    def edits(self, sketch: Sketch) -> list[Edit]:
        """The changes that make the note say only what is meant, in order, none overlapping."""
        found: list[Edit] = []
        pass_ = _Pass(sketch, self.betweens, self.measures)
        for i in range(len(sketch.words)):
            if found and i < found[-1].end:
                continue
            for edit in pass_.at(i):
                if not found or edit.start >= found[-1].end:
                    found.append(edit)
        return found


class _Pass:
    """One walk over one note."""

    def __init__(self, sketch: Sketch, betweens: Betweens, measures: Measures) -> None:
        self.s, self.words = sketch, sketch.words
        self.b, self.measures = betweens, measures
        layers = [sketch.amounts, sketch.days, sketch.places, *(sketch.layers.get(x, ()) for x in _LAYERS)]
        self.spans = {m.start: m.end for layer in reversed(layers) for m in layer}

    def at(self, i: int) -> Iterator[Edit]:
        """The edits of a correction whose words start at `i`; several make one change together."""
        twice = self._twice(i)
        if twice:
            yield twice
            return
        run = self.b.run(self.words, i, self.spans)
        if run is None:
            if self.b.at(self.words, i, "denial"):
                yield from self._aside(i)
            return
        for sort in (self._amount, self._day, self._place, self._thing, self._scale):
            edits = sort(run)
            if edits:
                yield from edits
                return

    # amounts

    def _amount(self, run: Between) -> list[Edit]:
        new = self._figure(run)
        if new is None:
            return []
        old = self._old_figure(run, new)
        if old is None:
            return self._whole(run, new)
        if self._headed(new) and self._touches(old, run, new):
            return [Edit(old.start, self._after_article(new.start), ""), *self._loose_comma(new.end)]
        text = self._merged(old, new)
        sure = run.strength > FAINT or self._close(old, run) or self._word(new.end) == "actually"
        if text is None or not sure:
            return []
        return [Edit(old.start, old.end, text), *self._cut(run, new.end)]

    def _figure(self, run: Between) -> AmountSpan | None:
        """The amount that the correction leads to, past a few words of no weight."""
        strong = run.strength == STRONG and self._word(run.end - 1) != "."
        for i in range(run.end, min(len(self.words), run.end + (_LEAD if strong else 1))):
            found: AmountSpan | None = self.s.starting("amount", i)
            if found is not None:
                new = any(self.b.at(self.words, k, "added") for k in range(i, found.end))
                return None if found.currency or new else found
            if self._weighty(i):
                break
        inner: AmountSpan | None = self.s.covering("amount", run.end - 1)  # "more like three" hedges it
        if inner and inner.start > run.start and inner.end > run.end:
            return inner
        return self._summed(run) if strong else None

    def _summed(self, run: Between) -> AmountSpan | None:
        """ "actually no that's the last of it so two handfuls"."""
        for i in range(run.end, min(len(self.words) - 1, run.end + _LEAD + 2)):
            if self.words[i] in (".", "?", "!"):
                return None
            if self.words[i] == "so":
                found: AmountSpan | None = self.s.starting("amount", i + 1)
                return found if found and (found.unit or self._headed(found)) else None
        return None

    def _weighty(self, i: int) -> bool:
        word = self.words[i]
        if word in (".", "?", "!") or self.b.at(self.words, i, "added"):
            return True
        return any(self.s.covering(x, i) for x in ("thing", "place", "day"))

    def _old_figure(self, run: Between, new: AmountSpan) -> AmountSpan | None:
        floor = run.start - _BACK[max(run.strength, WEAK)]
        for old in reversed(self.s.amounts):
            if old.end > run.start or old.currency:
                continue
            if old.end <= floor:
                return None
            if self._crossed(old.end, run.start):
                return None
            if _alike(old, new):
                return old
        return None

    def _crossed(self, start: int, end: int) -> bool:
        """Whether another place is opened in between: the figure before it is of somewhere else."""
        return any(p.start >= start and p.end <= end and not p.after for p in self.s.places)

    def _headed(self, new: AmountSpan) -> bool:
        """Whether the thing measured is said after the new figure."""
        i = new.end
        if i < len(self.words) and self.words[i] == ",":
            return self._word(i + 1) == "of"
        if self._word(i) == "of":
            return True
        return any(self.s.starting("thing", k) for k in (i, i + 1, i + 2) if not self._stops(i, k))

    def _stops(self, start: int, k: int) -> bool:
        return any(w in _ENDS or w in ("and", "in", "on", "to", "plus") for w in self.words[start:k])

    def _touches(self, old: AmountSpan, run: Between, new: AmountSpan) -> bool:
        """Whether nothing of another sort stands between the two figures."""
        head = self._things(new.end, new.end + 4)
        names = {t.name for m in head for t in m.value}
        topics = {t.topic for m in head for t in m.value}
        between = self._things(old.end, run.start)
        if run.strength == FAINT:
            return run.start - old.end == 0 and not between
        return all(
            names & {t.name for t in m.value} or topics & {t.topic for t in m.value} for m in between
        ) and not any(m.start >= old.end for m in self.s.within("verb", old.end, run.start))

    def _close(self, old: AmountSpan, run: Between) -> bool:
        return run.start - old.end <= 1 or all(w in _ENDS for w in self.words[old.end : run.start])

    def _merged(self, old: AmountSpan, new: AmountSpan) -> str | None:
        """The new figure with the old unit where it says none of its own."""
        said = self.words[new.start : new.end]
        if said[-2:] == ["of", "one"] or said[-2:] == ["of", "it"]:
            said = said[:-2]
        if new.unit is not None or old.unit is None:
            return " ".join(said)
        unit = self.words[old.start + 1 : old.end]
        for k in range(len(unit)):
            for end in range(len(unit), k, -1):
                words = [*said, *unit[k:end]]
                read = find_amounts(words, self.measures)
                if len(read) == 1 and (read[0].unit, read[0].best) == (old.unit, new.best):
                    return " ".join(words)
        return None

    def _whole(self, run: Between, new: AmountSpan) -> list[Edit]:
        """ "a blended pineapple core no wait just half of one": the share goes before the article."""
        things = self._things(run.start - 4, run.start)
        of_it = self.words[new.end : new.end + 2] in (["of", "one"], ["of", "it"])
        if not things or new.unit is not None or run.strength < WEAK or (self._headed(new) and not of_it):
            return []
        thing = things[-1]
        article = next(
            (k for k in range(thing.start - 1, thing.start - 4, -1) if self._word(k) in ("a", "an", "one")), None
        )
        if article is None or any(self.s.covering("verb", k) for k in range(thing.end, run.start)):
            return []
        end = new.end + 2 if of_it else new.end
        text = " ".join(w for w in self.words[new.start : new.end] if w not in ("of", "one", "just"))
        after = article + 1 + (self._word(article + 1) in ("whole", "entire", "full"))
        return [Edit(article, after, f"{text} a" if new.best < 1 else text), *self._cut(run, end)]

    def _twice(self, i: int) -> Edit | None:
        """ "call it three, three handfuls": the second one is the figure."""
        span = self.s.starting("amount", i)
        if span is None or self.words[i] != "call":
            return None
        said = self.words[i : span.end]
        again = next((k for k in range(3, len(said)) if said[k] == said[2]), None)
        return Edit(i, i + again, "") if again else None

    # days, places, things, scales

    def _day(self, run: Between) -> list[Edit]:
        return self._like(run, "day")

    def _place(self, run: Between) -> list[Edit]:
        return self._like(run, "place")

    def _like(self, run: Between, layer: str) -> list[Edit]:
        """A day or place said anew, put where the old one stood."""
        old = self._last(self._layer(layer), run)
        if old is None or run.strength < WEAK or run.start - old.end > _NEAR:
            return []
        if run.strength == WEAK and not (run.paused or run.start == old.end or run.led):
            return []
        text, end = self._said(run, layer, old)
        return [Edit(old.start, old.end, text), *self._cut(run, end)] if text else []

    def _said(self, run: Between, layer: str, old: Any) -> tuple[str, int]:
        """The new day or place in words, and where it ends; "" where there is none."""
        k = run.end
        while self._word(k) in ("the", "on", "in", "into", "to") and not self.s.starting(layer, k):
            k += 1
        new = self.s.starting(layer, k)
        if new is None:
            bare = [*self.words[old.start : old.start + 1], "the", self._word(k)]
            dated = layer == "day" and k > run.end and find_days(bare, self.s.now)
            return (" ".join(bare), k + 1) if dated and dated[0].end == 3 else ("", k)
        end = self._with_its_bin(new) if layer == "place" else new.end
        return " ".join(self.words[k:end]), end

    def _with_its_bin(self, place: Any) -> int:
        """Where a place of two parts ends: "the stack, middle tray", "the top of the stack"."""
        k = place.end + (self.s.starting("binnoun", place.end) is not None)
        if k > place.end:
            return k
        while self._word(k) in (",", "of", "the", "in"):
            k += 1
        more = self.s.starting("place", k)
        parts = more is not None and k > place.end and bool(place.bin) != bool(more.bin)
        return more.end if parts else place.end  # type: ignore[union-attr, no-any-return]

    def _layer(self, layer: str) -> Sequence[Any]:
        own = {"day": self.s.days, "place": self.s.places}
        return own[layer] if layer in own else self.s.layers.get(layer, ())

    def _last(self, layer: Sequence[Any], run: Between) -> Any | None:
        floor = run.start - _BACK[run.strength]
        return next((m for m in reversed(layer) if m.end <= run.start and m.end > floor), None)

    def _thing(self, run: Between) -> list[Edit]:
        k = run.end + (self._word(run.end) in _ARTICLES)
        new = self.s.starting("thing", k)
        if new is None or run.strength < WEAK or (run.strength == WEAK and not (run.paused or run.denied)):
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
        text = " ".join(self.words[new.start : new.end])
        return [Edit(old.start, old.end, text), *self._cut(run, new.end)]

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
            t.name for k in run.denied for m in [self.s.starting("thing", k)] if m is not None for t in m.value
        }
        same = [m for m in self.s.layers.get("thing", ()) if names & {t.name for t in m.value}]
        return self._last(same, run)

    def _closed(self, end: int, run: Between) -> bool:
        """Whether the new thing stands alone and opens no sentence of its own."""
        if run.denied or run.led:
            return True
        return not (self._word(end) in _COPULAS or self.s.covering("verb", end))

    def _scale(self, run: Between) -> list[Edit]:
        for layer in _SCALES:
            new = self.s.starting(layer, run.end)
            old = self._last(self.s.layers.get(layer, ()), run)
            if new is None or old is None or run.strength < WEAK or not (run.paused or run.led):
                continue
            if self._places_between(old.end, new.start):
                continue
            return [
                Edit(old.start, old.end, " ".join(self.words[new.start : new.end])),
                *self._cut(run, new.end),
            ]
        return []

    def _places_between(self, start: int, end: int) -> bool:
        return any(start <= p.start < end for p in self.s.places)

    def _aside(self, i: int) -> Iterator[Edit]:
        """ "one cup, not two, of grounds", "it was lettuce, not spinach": what is denied beside what is meant."""
        end = self.b.at(self.words, i, "denial")
        if end is None or self._word(i - 1) != ",":
            return
        wrong = self.s.starting("amount", end[0])
        if wrong is not None and self.s.ending("amount", i - 1) and self._ends(wrong.end):
            comma = self._word(wrong.end) == "," and self._word(wrong.end + 1) == "of"
            yield Edit(i - 1, wrong.end + comma, "")
            return
        thing, meant = self.s.starting("thing", end[0]), self.s.ending("thing", i - 1)
        if thing and meant and self._word(meant.start - 1) in _COPULAS and self._ends(thing.end):
            yield Edit(i - 1, thing.end, "")

    # shared

    def _cut(self, run: Between, end: int) -> list[Edit]:
        """The words of the correction, gone; a pause stays where one stood before them."""
        start = run.start
        while start and self.words[start - 1] in (",", ".", "(", "...", "…", "–", "-"):
            start -= 1
        if self._word(end) == ")":
            end += 1
        for after in ("actually", "altogether", "sorry"):
            end += self._word(end) == after
        return [Edit(start, end, "")]

    def _loose_comma(self, end: int) -> list[Edit]:
        return [Edit(end, end + 1, "")] if self._word(end) == "," and self._word(end + 1) == "of" else []

    def _after_article(self, i: int) -> int:
        return i

    def _things(self, start: int, end: int) -> list[Any]:
        return self.s.within("thing", max(0, start), end)

    def _ends(self, i: int) -> bool:
        return i >= len(self.words) or self.words[i] in _ENDS

    def _word(self, i: int) -> str:
        return self.words[i] if 0 <= i < len(self.words) else ""


_LAYERS = ("thing", *_SCALES)


def _alike(old: AmountSpan, new: AmountSpan) -> bool:
    """Whether two figures may be of one thing: degrees with degrees, percents with percents."""
    if new.unit is None:
        return True
    if old.unit is None:
        return True
    if new.unit == old.unit:
        return True
    if new.unit in _DEGREES or old.unit in _DEGREES:
        return new.unit in _DEGREES and old.unit in _DEGREES
    return new.unit not in _APART and old.unit not in _APART
