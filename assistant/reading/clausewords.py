"""What the cutting of clauses asks of a note's words: where verbs, things, figures and days stand."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.reading.sketch import Mention, Sketch, inside
from assistant.reading.vocabulary import Vocabulary

SUBORDINATE = frozenset("when until till til if unless whenever before after".split())
JOINS = frozenset(
    "but because cause 'cause cos coz while when which who until till til if unless though although "
    "whenever".split()
)
CONNECTORS = frozenset("and so then now oh um uh uhm er erm well plus also".split())
NO = frozenset(("no", "not", "nothing", "none", "zero"))
MEASURED = frozenset("moisture smell smells odour odor ph dampness".split())
"""What is looked at and told of in short: "moisture ok, smell fine"."""
_TOLD = ("moisture", "leftover", "progress", "smell", "abundance")
_SCALES = (*_TOLD, "thing")
_WHOLE = ("moisture", "leftover", "progress", "smell")


class ClauseWords:
    """One note's words with the tables that the rules for clauses ask."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        layers = sketch.layers
        self.verbs = _starts(layers.get("verb", ()))
        self.things = _starts(layers.get("thing", ()))
        self.tools = _starts(layers.get("instrument", ()))
        self.rooms = _starts(layers.get("room", ()))
        self.marks = _starts(layers.get("mark", ()))
        self.days = {d.start: d for d in sketch.days}
        self.day_ends = {d.end: d for d in sketch.days}
        self.places = {p.start: p for p in sketch.places}
        self.amounts = {a.start: a for a in sketch.amounts}
        self.in_verb = {i for m in layers.get("verb", ()) for i in range(m.start, m.end)}
        self.in_amount = {i for a in sketch.amounts for i in range(a.start, a.end)}
        figured = [(a.start, a.end) for a in sketch.amounts] + [(d.start, d.end) for d in sketch.days]
        figured += [(self._with_grade(m), m.end) for layer in _WHOLE for m in layers.get(layer, ())]
        figured += [(m.start - 1, m.end) for m in layers.get("relative", ())]
        figured += [(p.start, p.end) for p in sketch.places if p.spread]
        figured += [(p.start, p.end) for p in sketch.places]
        self.inner = {i for start, end in figured for i in range(start + 1, end)}
        """Words inside an amount, a day, a place or a reading, after its first, or in a relative clause."""

    def _with_grade(self, m: Mention) -> int:
        """Where a reading begins with the word that grades it: "all but gone"."""
        grade = self.s.ending("grade", m.start)
        return int(grade.start) if grade is not None else m.start

    def line(self, i: int) -> bool:
        """Whether word `i` begins a line of a timed transcript."""
        gap = self.s.text[self.s.spans[i - 1][1] : self.s.spans[i][0]]
        return "[" in gap or "\n" in gap

    def word(self, i: int) -> str:
        """The word at `i`, "" outside the note."""
        return self.words[i] if 0 <= i < len(self.words) else ""

    def role(self, i: int, *roles: str) -> bool:
        """Whether the word at `i` plays one of the grammatical roles."""
        return self.v.role(self.word(i), *roles)

    def complete(self, begin: int, i: int) -> bool:
        """Whether the words from `begin` to `i` already say something: a reading or a figure."""
        if any(self.s.within(layer, begin, i) for layer in _TOLD):
            return True
        return bool(inside(self.s.amounts, begin, i))

    def ended(self, i: int) -> bool:
        """Whether a day, a thing or a reading ends just before word `i`."""
        return i in self.day_ends or any(self.s.ending(layer, i) for layer in _SCALES)

    def attributive(self, i: int) -> bool:
        """Whether the word before is an adjective of the noun at `i`, so that its phrase began earlier."""
        before = self.word(i - 1)
        if not before.isalpha() or self.ended(i) or i - 1 in self.in_amount:
            return False
        return not self.v.role(before, "adverb", "filler", "opener", "object", "pronoun", "verb", "conj")


def _starts(mentions: Iterable[Mention]) -> dict[int, Mention]:
    return {m.start: m for m in mentions}
