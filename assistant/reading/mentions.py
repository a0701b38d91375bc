"""The phrases of the lexicon in a note: a layer of mentions for each sort of thing that they may be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from spacy.language import Language
from spacy.tokens import Doc

from assistant.reading.sketch import Mention
from assistant.reading.vocabulary import Sense, Vocabulary

Layers = dict[str, list[Mention]]
Words = tuple[str, ...]

_SAYINGS = ("moisture", "progress", "smell")


def mention_finder(vocabulary: Vocabulary, nlp: Language) -> Callable[[Doc], Layers]:
    """A function that finds the phrases of a vocabulary in a note, by layer; `nlp` cuts them up.

    A table by words: spaCy's PhraseMatcher finds the same, but takes most of a second to fill at every start.
    """
    senses: dict[Words, tuple[Sense, ...]] = {}
    for phrase, meant in vocabulary.phrases.items():
        words = cut(phrase, nlp.tokenizer)
        senses[words] = (*senses.get(words, ()), *meant)
    lengths: dict[str, set[int]] = {}
    for words in senses:
        lengths.setdefault(words[0], set()).add(len(words))

    def find(doc: Doc) -> Layers:
        found: Layers = {}
        words = [t.lower_ for t in doc]
        for start, word in enumerate(words):
            for end in (start + n for n in lengths.get(word, ()) if start + n <= len(words)):
                for label, value in senses.get(tuple(words[start:end]), ()):
                    found.setdefault(label, []).append(Mention(start, end, label, value))
        layers = {label: _longest(mentions, label) for label, mentions in found.items()}
        layers["mark"] = _outside_sayings(layers)
        layers["thing"] = _not_likened(layers)
        return layers

    return find


def cut(phrase: str, tokenizer: Any) -> Words:
    """The lower-case words of a phrase as the tokenizer cuts it: words of plain letters only by its rules."""
    words = tuple(phrase.lower().split())
    if all(w.isascii() and w.isalpha() and w not in tokenizer.rules for w in words):
        return words
    return tuple(t.lower_ for t in tokenizer(phrase))


def _longest(mentions: list[Mention], label: str) -> list[Mention]:
    """The longest mentions of a layer, none overlapping; things with the same words are told together."""
    mentions.sort(key=lambda m: (m.start - m.end, m.start))
    taken: dict[int, Mention] = {}
    kept: list[Mention] = []
    for m in mentions:
        owner = taken.get(m.start)
        if owner is not None and (owner.start, owner.end) == (m.start, m.end) and label == "thing":
            owner.value = (*owner.value, m.value)
            continue
        if any(i in taken for i in range(m.start, m.end)):
            continue
        if label == "thing":
            m.value = (m.value,)
        kept.append(m)
        taken.update(dict.fromkeys(range(m.start, m.end), m))
    kept.sort(key=lambda m: m.start)
    return kept


def _not_likened(layers: Layers) -> list[Mention]:
    """The things that are no part of a saying: "like chocolate cake", "a hair wet"."""
    said = [m for layer in ("moisture", "smell") for m in layers.get(layer, ()) if m.end - m.start > 1]
    length = {i: m.end - m.start for m in said for i in range(m.start, m.end)}
    return [
        t
        for t in layers.get("thing", ())
        if t.start not in length or t.end - 1 not in length or t.end - t.start >= length[t.start]
    ]


def _outside_sayings(layers: Layers) -> list[Mention]:
    """The marks that are no part of a saying about moisture, progress or smell ("not too wet")."""
    sayings = [m for layer in _SAYINGS for m in layers.get(layer, ()) if m.end - m.start > 2]
    return [
        m
        for m in layers.get("mark", ())
        if m.value == "not" or not any(s.start <= m.start and m.end <= s.end for s in sayings)
    ]
