"""Whether a small learner, trained on the example notes, would better what the rules read. Run by hand:

    python -m tests.bench.learner ../shared/notes/dev.jsonl           at the threshold chosen and at 0.5
    python -m tests.bench.learner ../shared/notes/dev.jsonl --sweep   at every threshold

Two learners, both spaCy's bag of words (a linear model), trained on the notes given and our sets a, b, c:

- the gate looks at each record that was read, with the words of its clause and its kind, says how likely it
  is to be right (kind and place), and drops it where that is too little;
- the suggester looks at each clause from which nothing was read, says how likely each kind is to be recorded
  there, and adds a record where that is enough: place and day of the clause, item of what is named in it.

How likely is enough is chosen in five folds of the training notes; "off" where the rules alone are best
there. The tests are the given notes held back (HELD) and our set d. "Ceiling" is a learner that is never
wrong: every record too many dropped, or every missed record added whole whose clause was silent.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from time import perf_counter
from typing import Any

import spacy
from spacy.tokens import Doc
from spacy.training import Example
from thinc.api import fix_random_seed

from assistant.reading.sketch import Clause, Sketch
from assistant.records import setup_from_json
from tests.reading import notesets
from tests.reading.scoring import Score, score_note

Json = Mapping[str, Any]
Line = tuple[tuple[str, ...], Mapping[str, float]]
"""Words, and the labels that are right for them."""
Chances = list[dict[str, float]]

HELD = (
    "d08 d11 d14 d17 d20 d23 d25 d26 w05 w06 m02 m05 t02 t05 t08 t11 t14 t17 t20 t23 j02 j05 j08 x02 x05 x08 "
    "s02 f02 c02"
).split()
"""The given notes held back from all training, without the "dev-" of their names."""

SEED, FOLDS, ROUNDS, BATCH, SLOTS = 20250614, 5, 20, 32, 2**14
GRID = [0.0, *(k / 20 for k in range(1, 20)), 0.97, 0.98, 0.99, 1.01]
"""Thresholds tried: a gate at 0 drops nothing, a suggester at 1.01 adds nothing."""

TOPICS = dict(feed="food", leftover="food", bed="bedding", amend="amendment", sighting="organism")
USUAL = dict.fromkeys(("worms_added", "worms_removed", "worm_estimate", "sighting"), "worms")
LEVELS = {"sighting": 2, "cover": 1}


@dataclass(frozen=True)
class Stretch:
    """A clause: its words, the kinds that answers record in it, and what a suggestion there would say."""

    line: Line
    silent: bool
    bare: Sequence[Json]
    things: Sequence[Any]
    missed: Sequence[Json]

    def suggest(self, kind: str) -> list[Json]:
        """A record of a kind, one a place; the amount, and nearly every level, is left to the keeper."""
        fits = [t for t in self.things if t.topic == TOPICS.get(kind)] or self.things
        item = fits[0].name if fits else USUAL.get(kind)
        return [{**bare, "kind": kind, "item": item, "level": LEVELS.get(kind)} for bare in self.bare]


@dataclass(frozen=True)
class Told:
    """A note, what the rules read in it, a line for each record read (is it right?), and its clauses."""

    note: Json
    read: Sequence[Json]
    lines: Sequence[Line]
    clauses: Sequence[Stretch]


def told(note: Json) -> Told:
    """Read a note and lay its answers beside its clauses."""
    now, setup = datetime.fromisoformat(note["now"]), setup_from_json(note.get("setup") or ())
    sketch = notesets.reader().sketch(note["text"], setup, now)
    read = [r for r in notesets.read(note) if r["kind"] != "remark"]
    score = score_note(note, read)
    right = {id(p.read) for p in (*score.pairs, *score.free) if not {"bin", "tier"} & set(p.wrong)}
    missed = {id(g) for g in score.missed}
    spans = [sketch.raw(c.start, c.end)[1:] for c in sketch.clauses]
    golds: list[list[Json]] = [[] for _ in spans]
    for gold in note["records"]:
        start = gold.get("start", note["text"].find(gold["text"]) if gold.get("text") else -1)
        at = _clause_of(spans, start, start + len(gold.get("text") or "")) if start >= 0 else None
        if at is not None:
            golds[at].append(gold)
    clauses = [
        Stretch(
            (tuple(sketch.words[c.start : c.end]), {g["kind"]: 1.0 for g in mine}),
            all(r["end"] <= start or r["start"] >= end for r in read),
            _bare(sketch, c),
            [thing for m in sketch.within("thing", c.start, c.end) for thing in m.value],
            [g for g in mine if id(g) in missed],
        )
        for c, (start, end), mine in zip(sketch.clauses, spans, golds, strict=True)
    ]
    lines = []
    for r in read:
        at, kind = _clause_of(spans, r["start"], r["end"]), f"<{r['kind']}>"
        words = clauses[at].line[0] if at is not None else tuple(r["text"].lower().split())
        lines.append(((*words, kind, *(kind + w for w in words)), {"right": float(id(r) in right)}))
    return Told(note, read, lines, clauses)


def _bare(sketch: Sketch, clause: Clause) -> list[Json]:
    """State, day and place of a record in a clause, one for each place."""
    state = "done" if clause.stance == "talk" else clause.stance
    said = next((d.past if state == "done" else d.coming for d in clause.days), None)
    today = sketch.now.date() if state in ("done", "ruled_out") else None
    day = said[0] if said else today
    base = {"state": state, "when": day and day.isoformat(), "text": sketch.raw(clause.start, clause.end)[0]}
    return [{**base, "bin": bin_, "tier": tier} for bin_, tier in clause.where]


def _clause_of(spans: Sequence[tuple[int, int]], start: int, end: int) -> int | None:
    """The clause that shares most characters with start..end, None where none does."""
    shared = [min(end, b) - max(start, a) for a, b in spans]
    return shared.index(max(shared)) if max(shared, default=0) > 0 else None


class Learner:
    """A bag-of-words classifier: the chance of each label for a line of words."""

    def __init__(self, lines: Sequence[Line]) -> None:
        fix_random_seed(SEED)
        labels = sorted({label for _, right in lines for label in right})
        shape = {"exclusive_classes": False, "ngram_size": 1, "no_output_layer": False, "length": SLOTS}
        model = {"@architectures": "spacy.TextCatBOW.v3", **shape}
        self.nlp = spacy.blank("en")
        self.pipe: Any = self.nlp.add_pipe("textcat_multilabel", config={"model": model})
        examples = [
            Example.from_dict(
                Doc(self.nlp.vocab, words=list(words)), {"cats": {x: right.get(x, 0.0) for x in labels}}
            )
            for words, right in lines
        ]
        optimizer = self.nlp.initialize(lambda: examples)
        for _ in range(ROUNDS):
            random.shuffle(examples)
            for i in range(0, len(examples), BATCH):
                self.nlp.update(examples[i : i + BATCH], sgd=optimizer)

    def __call__(self, lines: Sequence[Line]) -> Chances:
        """The chance of each label, a line at a time; what is right is not looked at."""
        rows = self.pipe.predict([Doc(self.nlp.vocab, words=list(words)) for words, _ in lines])
        return [dict(zip(self.pipe.labels, map(float, row), strict=True)) for row in rows]


@dataclass(frozen=True)
class Trial:
    """One use of a learner: the lines it learns from, what its chances change, the threshold that is off."""

    name: str
    lines: Callable[[Told], Sequence[Line]]
    change: Callable[[Told, Chances, float], list[Json]]
    off: float

    def threshold(self, notes: Sequence[Told]) -> float:
        """The best for found and whole F1 together, each note judged by a learner that never saw it."""
        chances: dict[int, Chances] = {}
        for fold in range(FOLDS):
            learner = Learner([x for i, t in enumerate(notes) if i % FOLDS != fold for x in self.lines(t)])
            chances |= {i: learner(self.lines(notes[i])) for i in range(fold, len(notes), FOLDS)}

        def worth(x: float) -> tuple[float, bool]:
            score = Score([score_note(t.note, self.change(t, chances[i], x)) for i, t in enumerate(notes)])
            return score.found.f1 + score.whole.f1, x == self.off

        return max(GRID, key=worth)


def _gated(t: Told, chances: Chances, threshold: float) -> list[Json]:
    return [r for r, c in zip(t.read, chances, strict=True) if c["right"] >= threshold]


def _suggested(t: Told, chances: Chances, threshold: float) -> list[Json]:
    silent = [(s, c) for s, c in zip(t.clauses, chances, strict=True) if s.silent]
    likely = [(s, kind) for s, c in silent for kind, p in c.items() if p > threshold]
    return [*t.read, *(r for s, kind in likely for r in s.suggest(kind))]


TRIALS = (
    Trial("gate", lambda t: t.lines, _gated, 0.0),
    Trial("suggester", lambda t: [s.line for s in t.clauses], _suggested, 1.01),
)


def _ceilings(t: Told) -> tuple[list[Json], list[Json]]:
    """The records read without those too many; and with those missed in silent clauses."""
    extra = {id(r) for r in score_note(t.note, t.read).extra}
    missed = [g for s in t.clauses if s.silent for g in s.missed]
    first = [{k: v[0] if isinstance(v, list) and v else v for k, v in g.items()} for g in missed]
    return [r for r in t.read if id(r) not in extra], [*t.read, *first]


def _scored(name: str, notes: Sequence[Told], read: Iterable[Sequence[Json]]) -> str:
    s = Score([score_note(t.note, records) for t, records in zip(notes, read, strict=True)])
    figures = f"found {s.found.f1:.3f}  whole {s.whole.f1:.3f}  invented {s.invented:5.2f}"
    return f"  {name:26}{figures}  ({s.whole.right} whole of {s.whole.read} read, {s.whole.gold} to read)"


def main() -> None:
    """Train, choose, test, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("notes", type=Path, help="the example notes that came with the contract")
    parser.add_argument("--sweep", action="store_true", help="show every threshold")
    options = parser.parse_args()
    given = [told(note) for note in notesets.lines_of(options.notes)]
    a, b, c, d = ([told(n) for n in notesets.lines_of(notesets.OURS / f"{x}.jsonl")] for x in "abcd")
    held = [t for t in given if t.note["id"].removeprefix("dev-") in HELD]
    train = [*(t for t in given if t not in held), *a, *b, *c]
    random.Random(SEED).shuffle(train)
    tests = {"held back": held, "set d": d}
    tables = {name: [_scored("rules alone", notes, [t.read for t in notes])] for name, notes in tests.items()}
    for trial in TRIALS:
        started = perf_counter()
        lines = [line for t in train for line in trial.lines(t)]
        learner = Learner(lines)
        took, chosen = perf_counter() - started, trial.threshold(train)
        size = len(learner.pipe.to_bytes(exclude=["vocab"]))
        print(f"{trial.name}: {len(lines)} lines of {len(train)} notes, trained in {took:.1f} s,", end=" ")
        print(f"{size / 1024:.0f} KiB, threshold {'off' if chosen == trial.off else chosen}")
        for name, notes in tests.items():
            chances = [learner(trial.lines(t)) for t in notes]
            for x in GRID if options.sweep else sorted({0.5, chosen}):
                changed = [trial.change(t, c, x) for t, c in zip(notes, chances, strict=True)]
                tables[name].append(_scored(f"{trial.name} at {x}", notes, changed))
    for name, notes in tests.items():
        for trial, best in zip(TRIALS, zip(*map(_ceilings, notes), strict=True), strict=True):
            tables[name].append(_scored(f"ceiling of the {trial.name}", notes, best))
        print("\n".join((f"{name}: {len(notes)} notes", *tables[name])))


if __name__ == "__main__":
    main()
