"""Scores what was read from a note against what should have been, by the rules of the record contract.

A gold slot may hold a list of answers that are all right; a slot left out is not scored; a gold record with
"optional" may be read or not. Records are paired greedily: same kind, most slots right, nearest words.
`Found` is kind and item right, `whole` every scored slot.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tests.reading.slots import overlap, right_slots

Json = Mapping[str, Any]
ACTIONS = frozenset(
    "feed bed water drain amend move remove turn harvest cover treat restack start refresh worms_added "
    "worms_removed prepare buy sell give".split()
)
"""What is done to a bin or for it; one of these read as done and not said is invented."""


@dataclass(frozen=True)
class Pair:
    """A gold record and the read one that stands for it, with each scored slot right or wrong."""

    gold: Json
    read: Json
    slots: Mapping[str, bool]

    @property
    def found(self) -> bool:
        """Kind and item are right."""
        return self.slots.get("item", True)

    @property
    def whole(self) -> bool:
        """Every scored slot is right."""
        return all(self.slots.values())

    @property
    def wrong(self) -> list[str]:
        """The names of the slots that are wrong."""
        return [name for name, right in self.slots.items() if not right]


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a reading: what should be, what was read, and why they differ."""

    gold: Json | None
    read: Json | None
    why: tuple[str, ...]


@dataclass(frozen=True)
class NoteScore:
    """One note scored. `pairs` are those whose gold record must be read, `free` those that may be."""

    note: Json
    pairs: tuple[Pair, ...]
    free: tuple[Pair, ...]
    missed: tuple[Json, ...]
    extra: tuple[Json, ...]

    @property
    def faults(self) -> list[Fault]:
        """All that is wrong, wrong slots before what is missed and what is too many."""
        wrong = [Fault(p.gold, p.read, tuple(p.wrong)) for p in self.pairs if not p.whole]
        missed = [Fault(gold, None, ("missed",)) for gold in self.missed]
        return [*wrong, *missed, *(Fault(None, read, ("extra",)) for read in self.extra)]

    @property
    def invented(self) -> list[Json]:
        """Things done to a bin that the note does not say."""
        return [r for r in self.extra if r.get("kind") in ACTIONS and r.get("state", "done") == "done"]


def score_note(note: Json, records: Iterable[Json]) -> NoteScore:
    """Pair a note's gold records with those read from it; remarks are never scored."""
    gold: Sequence[Json] = note["records"]
    read = [r for r in records if r.get("kind") != "remark"]
    tiers = {b["name"].lower(): b.get("tiers", 1) for b in note.get("setup", ())}
    chosen = _pairs(gold, read, tiers)
    pairs = [Pair(gold[i], read[j], slots) for i, j, slots in chosen]
    used, taken = {i for i, _, _ in chosen}, {j for _, j, _ in chosen}
    return NoteScore(
        note,
        tuple(pair for pair in pairs if not pair.gold.get("optional")),
        tuple(pair for pair in pairs if pair.gold.get("optional")),
        tuple(g for i, g in enumerate(gold) if not g.get("optional") and i not in used),
        tuple(r for j, r in enumerate(read) if j not in taken),
    )


def _pairs(
    gold: Sequence[Json], read: Sequence[Json], tiers: Mapping[str, int]
) -> list[tuple[int, int, dict[str, bool]]]:
    """The best pair first, then the best of what is left; earlier records win where two are as good."""
    able: list[tuple[float, int, int, dict[str, bool]]] = []
    for i, g in enumerate(gold):
        for j, r in enumerate(read):
            if g["kind"] == r.get("kind"):
                slots = right_slots(g, r, tiers)
                near = overlap(str(g.get("text", "")), str(r.get("text", "")))
                worth = 2.0 * slots.get("item", True) + sum(slots.values()) / len(slots)
                able.append((worth + 0.2 * near + 0.05 * (not g.get("optional")), i, j, slots))
    able.sort(key=lambda one: (-one[0], one[1], one[2]))
    chosen: list[tuple[int, int, dict[str, bool]]] = []
    for _, i, j, slots in able:
        if all(i != a and j != b for a, b, _ in chosen):
            chosen.append((i, j, slots))
    return chosen


@dataclass(frozen=True)
class Share:
    """How many were right, of how many read and how many there were to read."""

    right: int
    read: int
    gold: int

    @property
    def precision(self) -> float:
        """The share of what was read that is right; 1 where nothing was."""
        return self.right / self.read if self.read else 1.0

    @property
    def recall(self) -> float:
        """The share of what there was to read that is right; 1 where there was nothing."""
        return self.right / self.gold if self.gold else 1.0

    @property
    def f1(self) -> float:
        """The harmonic mean of the two."""
        p, r = self.precision, self.recall
        return 2 * p * r / (p + r) if p + r else 0.0


@dataclass(frozen=True)
class Score:
    """A set of notes scored."""

    notes: Sequence[NoteScore]
    slots: Mapping[str, tuple[int, int]] = field(init=False)
    """Each slot: right, and of how many, among the records found."""

    def __post_init__(self) -> None:
        right: Counter[str] = Counter()
        of: Counter[str] = Counter()
        for pair in (p for n in self.notes for p in n.pairs if p.found):
            of.update(list(pair.slots))
            right.update([name for name, good in pair.slots.items() if good])
        object.__setattr__(self, "slots", {name: (right[name], of[name]) for name in sorted(of)})

    def _share(self, right: int) -> Share:
        pairs = sum(len(n.pairs) for n in self.notes)
        extra, missed = sum(len(n.extra) for n in self.notes), sum(len(n.missed) for n in self.notes)
        return Share(right, pairs + extra, pairs + missed)

    @property
    def found(self) -> Share:
        """Kind and item."""
        return self._share(sum(p.found for n in self.notes for p in n.pairs))

    @property
    def whole(self) -> Share:
        """Every scored slot."""
        return self._share(sum(p.whole for n in self.notes for p in n.pairs))

    @property
    def invented(self) -> float:
        """Invented actions for 1,000 words."""
        words = sum(len(n.note["text"].split()) for n in self.notes)
        return 1000 * sum(len(n.invented) for n in self.notes) / max(words, 1)

    @property
    def clean(self) -> float:
        """The share of notes without a fault."""
        return sum(not n.faults for n in self.notes) / max(len(self.notes), 1)

    def by_style(self) -> dict[str, Share]:
        """Whole-right for each style of note."""
        styles: dict[str, list[NoteScore]] = {}
        for n in self.notes:
            styles.setdefault(n.note.get("style", "-"), []).append(n)
        return {style: Score(notes).whole for style, notes in sorted(styles.items())}

    def by_kind(self) -> dict[str, Share]:
        """Whole-right for each kind of record."""
        right: Counter[str] = Counter()
        read: Counter[str] = Counter()
        gold: Counter[str] = Counter()
        for n in self.notes:
            right.update(p.gold["kind"] for p in n.pairs if p.whole)
            read.update(p.read["kind"] for p in n.pairs)
            read.update(r.get("kind", "?") for r in n.extra)
            gold.update([p.gold["kind"] for p in n.pairs] + [g["kind"] for g in n.missed])
        return {kind: Share(right[kind], read[kind], gold[kind]) for kind in sorted(read | gold)}

    def doubt(self) -> dict[str, Share]:
        """Records read with and without a word in `unsure`: whole-right, read, and the same again as gold."""
        read: Counter[str] = Counter()
        right: Counter[str] = Counter()
        for n in self.notes:
            for record, whole in [*((p.read, p.whole) for p in n.pairs), *((r, False) for r in n.extra)]:
                kind = "unsure" if record.get("unsure") else "sure"
                read[kind] += 1
                right[kind] += whole
        return {kind: Share(right[kind], read[kind], read[kind]) for kind in ("sure", "unsure")}
