"""The door to the reading: `Reader().read(text, setup, now)`."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.reading.edits import Edit
from assistant.reading.mend import Mender
from assistant.reading.pipeline import build, sketch_of
from assistant.reading.restated import Restater
from assistant.reading.rewriting import Readable, Rewritten, rewrite
from assistant.reading.sayings import Sayings
from assistant.reading.sketch import Sketch
from assistant.records import Record, SetUp
from lexicon import load

VERSION = "1"
"""Kept with every note, so that stored notes can be read again and compared."""

_TIME_MARK = re.compile(r"\[\s*(?:\d{1,3}:)?\d{1,3}:\d{2}(?:[.,]\d+)?\s*\]")
_RUN = re.compile(r"([^\w\s])\1{8,}")
_MARKS = re.compile(r"[^\w\s]{40,}")
_RETURN = re.compile(r"\r(?!\n)")
"""A line's end as terminals paste it."""
_CONTROL = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]"
)


@dataclass(frozen=True, slots=True)
class Reading:
    """What a note says: its records, in the order of the note."""

    records: tuple[Record, ...]


class Reader:
    """Reads notes. Building one takes about a second (spaCy and the lexicon); reading is quick."""

    def __init__(self) -> None:
        self.nlp = build()
        self.mender = Mender(load(), _classes())
        self.restater = Restater(load())
        self.sayings = Sayings(load())

    def read(self, text: str, setup: SetUp, now: datetime) -> Reading:
        """Read one note; never fails on any text. `now` is the note's own date and time."""
        doc = self._doc(text, setup, now)
        return Reading(tuple(doc._.records))

    def corrected(self, text: str, correction: str, setup: SetUp, now: datetime) -> Reading:
        """Read a note anew with a correction that was said after it."""
        doc = self._doc(f"{text.rstrip()}\n{correction}", setup, now, mending=len(text.rstrip()))
        return Reading(tuple(doc._.records))

    def sketch(self, text: str, setup: SetUp, now: datetime) -> Sketch:
        """The note's words with everything found in them: things, verbs, amounts, days, places, clauses.

        For questions, which are read with the same words as notes.
        """
        sketch: Sketch = self._doc(text, setup, now)._.sketch
        sketch.amounts = [a for a in sketch.amounts if not a.impossible]
        return sketch

    def explain(self, text: str, setup: SetUp, now: datetime) -> Iterator[str]:
        """Every step of a reading, a line a finding: clauses with stance and place, things, amounts, days."""
        sketch = self.sketch(text, setup, now)
        for clause in sketch.clauses:
            words = " ".join(sketch.words[clause.start : clause.end])
            yield f"{clause.stance:8} {clause.because:12} {clause.where!s:24} {words}"
            for layer in ("verb", "thing", "mark", "moisture", "leftover", "abundance", "progress", "smell"):
                for m in sketch.within(layer, clause.start, clause.end):
                    value = [t.name for t in m.value] if layer == "thing" else m.value
                    yield f"    {layer}: {' '.join(sketch.words[m.start : m.end])} = {value}"
            for a in sketch.amounts:
                if clause.start <= a.start < clause.end:
                    yield f"    amount: {' '.join(sketch.words[a.start : a.end])} = {a.best:g} {a.unit}"
            for d in clause.days:
                yield f"    day: {' '.join(sketch.words[d.start : d.end])} = {d.past} {d.coming}"

    def _doc(self, text: str, setup: SetUp, now: datetime, mending: int | None = None) -> Any:
        """The note as a document with its sketch and records, what it says anew put in its place."""
        line = self.sayings.without(_readable(text))
        mended = self.mender.mend(line.text, _words_of(setup))
        note: Readable = Rewritten(line, mended, mended.repairs)
        for _ in range(_RESTATED):
            doc = self._begun(note, text, setup, now, mending)
            changes = self._restated(doc)
            if not changes:
                break
            note = rewrite(note, changes)
        for _, step in self.nlp.pipeline[self.nlp.pipe_names.index(_AFTER_WORDS) :]:
            doc = step(doc)
        return doc

    def _begun(self, note: Readable, text: str, setup: SetUp, now: datetime, mending: int | None) -> Any:
        """A document whose words, amounts, days and places are found."""
        doc = self.nlp.make_doc(note.text)
        sketch = sketch_of(doc, text, note.raw, now, setup)
        starts = [token.idx for token in doc] if note.repairs else []
        for start, end, heard, meant in note.repairs:
            i = bisect_left(starts, start)
            if i < len(starts) and starts[i] < end:
                sketch.mends[i] = f"heard '{heard}', read as '{meant}'"
        if mending is not None:
            sketch.mending = next(
                (i for i, (start, _) in enumerate(sketch.spans) if start > mending), len(doc)
            )
        doc._.sketch = sketch
        for name, step in self.nlp.pipeline:
            if name == _AFTER_WORDS:
                break
            doc = step(doc)
        return doc

    def _restated(self, doc: Any) -> list[tuple[int, int, str]]:
        """What the note says anew, as changes of its text; what was said after the note changes no word."""
        sketch = doc._.sketch
        end = len(doc) if sketch.mending is None else sketch.mending
        return [_change(doc, e) for e in self.restater.edits(sketch) if e.start < e.end <= end]


def _words_of(setup: SetUp) -> frozenset[str]:
    """The words of the names that the keeper gave to bins and tiers, but for words of their kind."""
    names = [n for b in setup for n in (b.name, *b.also, *(t for _, tier in b.tier_names for t in tier))]
    return frozenset(word for name in names for word in name.lower().split())


def _change(doc: Any, edit: Edit) -> tuple[int, int, str]:
    """An edit in characters; what is cut takes one of its two blanks with it."""
    last = doc[edit.end - 1]
    start, end = doc[edit.start].idx, last.idx + len(last.text)
    blanks = doc.text[max(0, start - 1) : start].strip() == "" and doc.text[end : end + 1] == " "
    return start, end + (blanks and not edit.text), edit.text


_RESTATED = 4
"""How often a text is read for what it says anew: "two, no, three, no, four"."""

_AFTER_WORDS = "binside_clauses"
"""The first step that needs the words to be settled."""


def _readable(text: str) -> str:
    """The text with everything that is not talk blanked out, character for character."""
    text = _CONTROL.sub(" ", _RETURN.sub("\n", text))
    timed = _TIME_MARK.search(text) is not None
    text = _TIME_MARK.sub(lambda m: " " * len(m.group()), text)
    if timed:
        text = text.replace("\n", " ")
    text = _RUN.sub(_first_of, text)
    return _MARKS.sub(_first_of, text)


def _first_of(run: re.Match[str]) -> str:
    """The first mark of a run, blanks for the others."""
    return run.group()[:1] + " " * (len(run.group()) - 1)


def _classes() -> dict[str, frozenset[str]]:
    """Groups of words that a mishearing's neighbourhood may call for, by topic."""
    things = load().things
    groups: dict[str, set[str]] = {}
    little = {f.strip() for row in load().table("function") for f in row["form"].split(";")}
    for topic, by_name in things.items():
        for thing in by_name.values():
            groups.setdefault(topic, set()).update(w for form in thing.forms for w in _words(form))
    groups["worm"] = {"worm", "worms", "bin", "bedding", "castings", "tray", "reds", "wigglers"}
    groups["bin"] = set().union(*(r["form"].split(";") for r in load().table("binnouns"))) | {"worms", "lid"}
    return {name: frozenset(words - little) for name, words in groups.items()}


def _words(form: str) -> Iterable[str]:
    return (w for w in form.split() if len(w) > 2)
