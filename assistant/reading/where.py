"""Which bin and tiers hold in a clause: the last place named, until another is (contract 5.2, 5.12, 5.26)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from assistant.reading.draft import Target
from assistant.reading.otherplaces import STATES, state_told
from assistant.reading.passing import PASSING, WAS
from assistant.reading.sketch import Clause, Place, inside
from assistant.reading.targets import Targets

_TRAYS = frozenset("tray tier level layer box drawer".split())
_WHOLE = (
    ("the", "whole"),
    ("whole", "thing"),
    ("whole", "bin"),
    ("whole", "stack"),
    ("whole", "lot"),
    ("whole", "tower"),
)
_THAT = frozenset(("that", "it", "this", "all"))
_INTO = frozenset(("in", "into", "to", "for", "on"))
_ALL_WENT = frozenset(
    "'s is was all went goes gone going has been just of that it in into to the for".split()
)
_TOLD = 12
"""Clauses back to which "that's all in the top" may reach."""


class Walk(Targets):
    """Goes through the clauses of one note in order and keeps the place that holds."""

    def settle(self) -> None:
        """Set the targets of every clause."""
        before: Clause | None = None
        for k, clause in enumerate(self.s.clauses):
            clause.places = inside(self.s.places, clause.start, clause.end)
            talk = clause.stance == "talk" and clause.because != "subordinate"
            aside = clause.because == "subordinate" and any(
                p.spread or p.word.startswith("other") for p in clause.places
            )
            told = _gone_to(clause.places)
            if (
                told
                and not aside
                and not (
                    talk
                    and clause.because in ("teaching", "other", "hypothetical", "question")
                    and told[0].bin is None
                    and not (clause.because == "hypothetical" and told[0].after == "")
                )
            ):
                main = _main(told)
                self.here = self._but_for(clause, self.targets(main)) or self.here
                if main.doubt:
                    clause.doubts = (*clause.doubts, main.doubt)
                if before and self._trails(clause, before):
                    before.where = self.here
            clause.where = self.here
            self._refer_back(clause, self.s.clauses[max(0, k - _TOLD) : k])
            before = clause
            clause.bin = self.here[0][0]
            self._remember(clause)
            self.seen = [*self.seen, *(t for t in self.here if t not in self.seen[-1:])][-40:]

    def _remember(self, clause: Clause) -> None:
        """Keep what is told of the place in hand, so that "the wet one" is known later."""
        if len(self.here) > 1 or clause.stance == "talk":
            return
        for layer in STATES:
            for m in self.s.within(layer, clause.start, clause.end):
                self.told[state_told(layer, m.value)] = self.here

    def _but_for(self, clause: Clause, targets: tuple[Target, ...]) -> tuple[Target, ...]:
        """ "all trays except four and five": the targets without those that are taken out."""
        out = {t for p in clause.places if p.after == "except" for t in self.targets(p)}
        return tuple(t for t in targets if t not in out) if len(targets) > 1 else targets

    def _trails(self, clause: Clause, before: Clause) -> bool:
        """A place alone at the end ("1.5 lb trimmings, top tray.") belongs to what stands before it."""
        if before.places or clause.end - clause.start > 5 or clause.places[0].start != clause.start:
            return False
        between = self.s.words[before.end : clause.start]
        after = self.s.words[clause.end : clause.end + 1]
        rest = range(clause.places[0].end, clause.end)
        content = any(
            self.s.starting(layer, i)
            for layer in ("thing", "verb", "moisture", "progress", "leftover")
            for i in rest
        )
        return (
            between == [","]
            and after in ([], ["."], [";"], ["\n"])
            and not content
            and not any(self.s.starting("amount", i) for i in rest)
        )

    def _refer_back(self, clause: Clause, told: list[Clause]) -> None:
        """ "that's all in the top": the place of what was told since the last one."""
        words = self.s.words[clause.start : clause.end]
        if len(clause.places) != 1 or words[0] not in _THAT or clause.places[0].after not in _INTO:
            return
        if not set(self.s.words[clause.start + 1 : clause.places[0].start]) <= _ALL_WENT:
            return
        whole_bin = ((self.here[0][0], None),)
        for earlier in reversed(told):
            if earlier.where != whole_bin:
                break
            earlier.where = self.here
            if earlier.places:
                break

    def within(self, place: Place, clause: Clause) -> tuple[Target, ...]:
        """What a place means in a clause: "the top" is of the bin that holds there."""
        if place.step or place.bin:
            return self.targets(place)
        held, self.here = self.here, clause.where
        try:
            return self.targets(place)
        finally:
            self.here = held


def _gone_to(places: list[Place]) -> list[Place]:
    """The places of a clause that are not only named in passing; what one was, where nothing else is said."""
    told = [p for p in places if p.after not in PASSING]
    return told if any(not p.step for p in told) else [p for p in places if p.after == WAS] or told


def _main(places: list[Place]) -> Place:
    """The place a clause is about: in front, else where things go, else the first."""
    for place in places:
        if place.after == "":
            inner = (p for p in places if p.tiers and p.bin in (None, place.bin))
            deeper = next((p for p in inner if p.after not in ("from", "off", "out")), None)
            return replace(deeper, bin=place.bin) if place.bin and not place.tiers and deeper else place
    for place in places:
        if place.after not in ("from", "off", "out"):
            return place
    return places[0]


def whole(words: list[str], clause: Clause) -> bool:
    """Whether the clause speaks of the whole bin: "the whole thing"."""
    part = words[clause.start : clause.end]
    return any(
        pair in _WHOLE
        and not _TRAYS & set(part[k + 2 : k + 3])
        and part[max(0, k - 1)] not in ("this", "that")
        for k, pair in enumerate(pairwise(part))
    )
