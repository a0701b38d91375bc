"""Figures, days, places and things that a note says anew, put where they are meant before it is read.

    "two handfuls of kale, no, three"  is read as  "three handfuls of kale"

A correction is words of lexicon/words/repairs.csv with something of one sort on both sides. What stands
before it is taken back; its unit or its thing stays where the new words give none (contract 5.4).
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import Measures
from assistant.reading.between import Betweens
from assistant.reading.edits import Around, Edit
from assistant.reading.refigured import Figures
from assistant.reading.reworded import COPULAS, SCALES, Rewordings
from assistant.reading.sketch import Sketch
from lexicon import Lexicon

_BEGUN = ("det", "prep", "subject", "and")
"""Roles of the words that a speaker begins anew with."""
_MEANT_TWICE = frozenset("no that her his this these those".split())
_LAYERS = ("thing", *SCALES)


class Restater:
    """Finds what a note says anew."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.betweens = Betweens(lexicon.table("repairs"))
        self.measures = Measures(lexicon.table("measures"))
        roles = {row["role"]: row["form"].split(";") for row in lexicon.table("function")}
        self.small = frozenset(form for role in _BEGUN for form in roles[role]) - _MEANT_TWICE
        self.persons = frozenset(roles["subject"])

    def edits(self, sketch: Sketch) -> list[Edit]:
        """The changes that make the note say only what is meant, in order, none overlapping."""
        found: list[Edit] = []
        walk = _Walk(sketch, self.betweens, self.measures, self.small, self.persons)
        for i in range(len(sketch.words) if sketch.mending is None else sketch.mending):
            if found and i < found[-1].end:
                continue
            edits = list(walk.at(i))
            if edits and (not found or edits[0].start >= found[-1].end):
                found += edits  # all that one correction changes, or nothing: the next reading sees the rest
        return found


class _Walk(Around):
    """One walk over one note."""

    def __init__(
        self,
        sketch: Sketch,
        betweens: Betweens,
        measures: Measures,
        small: frozenset[str],
        persons: frozenset[str],
    ) -> None:
        """`small`: words that may be begun twice by themselves; `persons`: what a sentence begins with."""
        super().__init__(sketch, betweens)
        layers = [sketch.amounts, sketch.days, sketch.places, *(sketch.layers.get(x, ()) for x in _LAYERS)]
        self.spans = {m.start: m.end for layer in reversed(layers) for m in layer}
        self.small, self.persons = small, persons
        self.figures = Figures(sketch, betweens, measures)
        self.rewordings = Rewordings(sketch, betweens)

    def at(self, i: int) -> Iterator[Edit]:
        """The edits of a correction whose words start at `i`; several make one change together."""
        twice = self.figures.twice(i) or self._stammer(i)
        if twice:
            yield twice
            return
        run = self.b.run(self.words, i, self.spans)
        if run is not None:
            yield from self.figures.corrected(run) or self.rewordings.corrected(run)
        elif self.b.at(self.words, i, "denial"):
            yield from self._aside(i)

    def _stammer(self, i: int) -> Edit | None:
        """ "I put in | I put in two cups", "the the rice", "fed fed them": what was begun twice, once."""
        for n in (3, 2, 1):
            said = self.words[i : i + n]
            if said != self.words[i + n : i + 2 * n] or not all(w.isalpha() for w in said):
                continue
            if n == 1:
                begun = said[0] in self.small or self.s.starting("verb", i)
            else:
                begun = said[0] in self.persons and not any(
                    self.s.covering("amount", i + k) for k in range(n)
                )
            if begun:
                return Edit(i, i + n, "")
        return None

    def _aside(self, i: int) -> Iterator[Edit]:
        """ "one cup, not two, of grounds", "it was lettuce, not spinach": what is denied, gone."""
        end = self.b.at(self.words, i, "denial")
        if end is None:
            return
        if self.ends(i - 1) and (meant := self.rewordings.denied(end[0])) is not None:
            yield from meant
            return
        if self.word(i - 1) != ",":
            return
        wrong = self.s.starting("amount", end[0])
        if wrong is not None and self.s.ending("amount", i - 1) and self.ends(wrong.end):
            comma = self.word(wrong.end) == "," and self.word(wrong.end + 1) == "of"
            yield Edit(i - 1, wrong.end + comma, "")
            return
        thing, meant = self.s.starting("thing", end[0]), self.s.ending("thing", i - 1)
        if thing and meant and self.word(meant.start - 1) in COPULAS and self.ends(thing.end):
            yield Edit(i - 1, thing.end, "")
