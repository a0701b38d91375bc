"""The reading as a spaCy pipeline: blank English, then one small component a step, in the order of `STEPS`.

Each component is a registered factory that declares what it needs and gives; they hand one `Sketch` along in
`doc._.sketch`. The order stands here and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any, ClassVar

from spacy.lang.en import English
from spacy.language import Language
from spacy.tokens import Doc

from assistant.reading.aliases import aliases, plural_stems
from assistant.reading.amounts import AmountSpan, find_figures
from assistant.reading.clauses import Cutter
from assistant.reading.days import find_days
from assistant.reading.measures import Measures
from assistant.reading.mentions import mention_finder
from assistant.reading.otherplaces import STATES
from assistant.reading.places import PlaceFinder
from assistant.reading.records import assemble
from assistant.reading.relatives import Relatives
from assistant.reading.sketch import Clause, Sketch
from assistant.reading.stance import Stances
from assistant.reading.tokens import ARROWS
from assistant.reading.verbs import VerbSieve
from assistant.reading.vocabulary import Vocabulary
from assistant.reading.where import Walk
from lexicon import load

Step = Callable[[Doc], Doc]

STEPS = (
    "binside_mentions",
    "binside_amounts",
    "binside_days",
    "binside_verbs",
    "binside_places",
    "binside_clauses",
    "binside_stance",
    "binside_where",
    "binside_records",
)

if not Doc.has_extension("sketch"):
    Doc.set_extension("sketch", default=None)
    Doc.set_extension("records", default=())


_LETTER = re.compile(r"[A-Za-z]\.")


class _Defaults(English.Defaults):  # type: ignore[misc, valid-type]
    """ "went back into B." ends a sentence: nothing keeps its full stop; "72/68" are two figures."""

    tokenizer_exceptions: ClassVar = {
        k: v for k, v in English.Defaults.tokenizer_exceptions.items() if not _LETTER.fullmatch(k)
    } | {arrow: [{"ORTH": arrow}] for arrow in ARROWS}
    suffixes: ClassVar = [*(English.Defaults.suffixes or ()), r"(?<=[A-Za-z0-9])\."]
    prefixes: ClassVar = [*(English.Defaults.prefixes or ()), "~"]
    infixes: ClassVar = [*(English.Defaults.infixes or ()), r"(?<=[0-9][0-9fFcC°])/(?=[0-9]{2})"]


class _English(English):  # type: ignore[no-untyped-call]
    """spaCy's English as notes are typed."""

    Defaults = _Defaults


def build() -> Language:
    """A pipeline over the shipped lexicon, ready to read."""
    nlp = _English(max_length=20_000_000)
    for name in STEPS:
        nlp.add_pipe(name)
    return nlp


_SHARED: dict[int, Vocabulary] = {}
"""The vocabulary of each pipeline, by its id; the first step makes it, the later ones ask it."""


@Language.factory("binside_mentions", assigns=["doc._.sketch"])
def _mentions(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)] = Vocabulary(load())
    find = mention_finder(vocabulary, nlp)

    def step(doc: Doc) -> Doc:
        doc._.sketch.layers = find(doc)
        return doc

    return step


@Language.factory("binside_amounts", requires=["doc._.sketch"])
def _amounts(nlp: Language, name: str) -> Step:
    measures = Measures(load().table("measures"))

    def step(doc: Doc) -> Doc:
        found = find_figures(doc._.sketch.words, measures)
        sketch: Sketch = doc._.sketch
        starts = {a.start for a in found}
        sketch.amounts = [_short_of_the_stop(_not_acidity(a, a.end in starts), doc) for a in found]
        paid = {i for a in found if a.currency for i in range(a.start, a.end)}
        sketch.layers["thing"] = [m for m in sketch.layers.get("thing", ()) if m.start not in paid]
        return doc

    return step


def _not_acidity(a: AmountSpan, led: bool) -> AmountSpan:
    """ "temp sixty eight ph six point five", "bay 4 ph 7.1": the word has a figure of its own."""
    misread = a.unit == "pH" and (a.best > 14 or led) and a.end - a.start > 1
    return replace(a, end=a.end - 1, unit=None) if misread else a


def _short_of_the_stop(a: AmountSpan, doc: Doc) -> AmountSpan:
    """ "Grit 1 tsp. Water next", "peel 2c. t2 kale": the full stop is the sentence's, not the measure's."""
    if a.end - a.start < 2 or doc[a.end - 1].text != ".":
        return a
    following = doc[a.end].text if a.end < len(doc) else ""
    goes_on = following[:1].islower() and following.isalpha()
    if goes_on and doc._.sketch.ending("thing", a.start) is None:
        return a
    return replace(a, end=a.end - 1)


@Language.factory("binside_days", requires=["doc._.sketch"])
def _days(nlp: Language, name: str) -> Step:
    def step(doc: Doc) -> Doc:
        sketch: Sketch = doc._.sketch
        sketch.days = find_days(sketch.words, sketch.now)
        taken = {i for d in sketch.days for i in range(d.start, d.end)}
        sketch.amounts = [a for a in sketch.amounts if not taken & set(range(a.start, a.end))]
        return doc

    return step


@Language.factory("binside_verbs", requires=["doc._.sketch"])
def _verbs(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)]

    def step(doc: Doc) -> Doc:
        sketch: Sketch = doc._.sketch
        sketch.layers["verb"] = VerbSieve(vocabulary, sketch).sift()
        verbs = {i for m in sketch.layers["verb"] for i in range(m.start, m.end)}
        sketch.layers["thing"] = [
            m for m in sketch.layers.get("thing", ()) if m.end - m.start > 1 or m.start not in verbs
        ]
        return doc

    return step


@Language.factory("binside_places", requires=["doc._.sketch"])
def _places(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)]
    nouns = frozenset(
        f.strip() for row in vocabulary.lexicon.table("binnouns") for f in row["form"].split(";")
    )

    def split(text: str) -> list[str]:
        return [t.lower_ for t in nlp.tokenizer(text)]

    def step(doc: Doc) -> Doc:
        sketch: Sketch = doc._.sketch
        names = aliases(sketch.setup, split, nouns)
        sketch.places = PlaceFinder(vocabulary, names, plural_stems(sketch.setup, split), sketch).find()
        taken = {i for p in sketch.places for i in range(p.start, p.end)}
        named = {p.start for p in sketch.places if p.bin}
        apart = [_short_of_a_bin(a, named) for a in sketch.amounts]
        sketch.amounts = [b for a in apart if (b := _outside(a, taken, sketch.words)) is not None]
        for layer in ("thing", "verb", *STATES):
            sketch.layers[layer] = [m for m in sketch.layers.get(layer, ()) if m.start not in taken]
        return doc

    return step


def _short_of_a_bin(a: AmountSpan, named: set[int]) -> AmountSpan:
    """ "temp seventy | tub B": a bin's name is no measure of the figure before it."""
    last = a.end - 1
    return replace(a, end=last, unit=None) if last in named and last > a.start and a.unit else a


def _outside(a: AmountSpan, taken: set[int], words: list[str]) -> AmountSpan | None:
    """An amount that no place takes a word of; "A 71 F" without what was read as "a" and is bin A."""
    article = a.start in taken and words[a.start] in ("a", "an") and a.end - a.start > 1
    start = a.start + article
    return None if taken & set(range(start, a.end)) else replace(a, start=start)


@Language.factory("binside_clauses", requires=["doc._.sketch"])
def _clauses(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)]

    def step(doc: Doc) -> Doc:
        sketch: Sketch = doc._.sketch
        Relatives(vocabulary, sketch).pass_over()
        sketch.clauses = Cutter(vocabulary, sketch).cut()
        if sketch.mending is not None:
            sketch.clauses = [c for c in sketch.clauses if c.end <= sketch.mending]
            sketch.clauses += _lines(sketch.words, sketch.mending)
        return doc

    return step


def _lines(words: list[str], begin: int) -> list[Clause]:
    """Each line of corrections is one clause, however it is said."""
    ends = [i for i in range(begin, len(words)) if "\n" in words[i]] + [len(words)]
    starts = [begin, *(e + 1 for e in ends[:-1])]
    return [Clause(a, b) for a, b in zip(starts, ends, strict=True) if b > a]


@Language.factory("binside_stance", requires=["doc._.sketch"])
def _stance(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)]

    def step(doc: Doc) -> Doc:
        Stances(vocabulary, doc._.sketch).settle()
        return doc

    return step


@Language.factory("binside_where", requires=["doc._.sketch"])
def _where(nlp: Language, name: str) -> Step:
    def step(doc: Doc) -> Doc:
        sketch: Sketch = doc._.sketch
        sketch.walk = Walk(sketch)
        sketch.walk.settle()
        return doc

    return step


@Language.factory("binside_records", requires=["doc._.sketch"], assigns=["doc._.records"])
def _records(nlp: Language, name: str) -> Step:
    vocabulary = _SHARED[id(nlp)]

    def step(doc: Doc) -> Doc:
        doc._.records = tuple(assemble(doc._.sketch, vocabulary))
        return doc

    return step


_AND = frozenset(("n", "n'", "'n", "'n'"))


def sketch_of(doc: Doc, text: str, raw: Callable[[int, bool], int], now: datetime, setup: Any) -> Sketch:
    """The empty sketch of a tokenized note; `raw` leads from the mended text back to what was written."""
    tokens = list(doc)
    words = [t.lower_.replace("’", "'") for t in tokens]
    for i, word in enumerate(words):
        if word == "-" and tokens[i].whitespace_ and (i == 0 or tokens[i - 1].whitespace_):
            words[i] = "–"  # a dash between two thoughts, not the hyphen of a word
        elif tokens[i].text in _AND and i and words[i - 1].isalpha():
            words[i] = "and"  # "kale n beet tops"; "N" is north
    spans = [(raw(t.idx, False), raw(t.idx + len(t), True)) for t in tokens]
    return Sketch(text, words, spans, now, setup)
