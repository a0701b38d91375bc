"""The door to the reading: `Reader().read(text, setup, now)`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.reading.mend import Mender
from assistant.reading.pipeline import build, sketch_of
from assistant.reading.sketch import Sketch
from assistant.records import Record, SetUp
from lexicon import load

VERSION = "1"
"""Kept with every note, so that stored notes can be read again and compared."""

_TIME_MARK = re.compile(r"\[\s*(?:\d{1,3}:)?\d{1,3}:\d{2}(?:[.,]\d+)?\s*\]")
_RUN = re.compile(r"([^\w\s])\1{8,}")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f​-‏‪-‮⁠-⁤⁦-⁩﻿]")


@dataclass(frozen=True, slots=True)
class Reading:
    """What a note says: its records, in the order of the note."""

    records: tuple[Record, ...]


class Reader:
    """Reads notes. Building one takes about a second (spaCy and the lexicon); reading is quick."""

    def __init__(self) -> None:
        self.nlp = build()
        self.mender = Mender(load(), _classes())

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
        mended = self.mender.mend(_readable(text))
        doc = self.nlp.make_doc(mended.text)
        sketch = sketch_of(doc, text, mended.raw, now, setup)
        for start, end, heard, meant in mended.repairs:
            for i, token in enumerate(doc):
                if start <= token.idx < end:
                    sketch.mends[i] = f"heard '{heard}', read as '{meant}'"
                    break
        if mending is not None:
            sketch.mending = next(
                (i for i, (start, _) in enumerate(sketch.spans) if start > mending), len(doc)
            )
        doc._.sketch = sketch
        for _, step in self.nlp.pipeline:
            doc = step(doc)
        return doc


def _readable(text: str) -> str:
    """The text with everything that is not talk blanked out, character for character."""
    text = _CONTROL.sub(" ", text)
    timed = _TIME_MARK.search(text) is not None
    text = _TIME_MARK.sub(lambda m: " " * len(m.group()), text)
    if timed:
        text = text.replace("\n", " ").replace("\r", " ")
    return _RUN.sub(lambda m: m.group()[:1] + " " * (len(m.group()) - 1), text)


def _classes() -> dict[str, frozenset[str]]:
    """Groups of words that a mishearing's neighbourhood may call for, by topic."""
    things = load().things
    groups: dict[str, set[str]] = {}
    for topic, by_name in things.items():
        for thing in by_name.values():
            groups.setdefault(topic, set()).update(w for form in thing.forms for w in _words(form))
    groups["worm"] = {"worm", "worms", "bin", "bedding", "castings", "tray", "reds", "wigglers"}
    groups["bin"] = set().union(*(r["form"].split(";") for r in load().table("binnouns"))) | {"worms", "lid"}
    return {name: frozenset(words) for name, words in groups.items()}


def _words(form: str) -> Iterable[str]:
    return (w for w in form.split() if len(w) > 2)
