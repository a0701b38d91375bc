"""The phrases of the lexicon in a note: a layer of mentions for each sort of thing that they may be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from spacy.language import Language
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc

from assistant.reading.sketch import Mention
from assistant.reading.vocabulary import Vocabulary

Layers = dict[str, list[Mention]]

_SAYINGS = ("moisture", "progress", "smell")


def mention_finder(vocabulary: Vocabulary, nlp: Language) -> Callable[[Doc], Layers]:
    """A function that finds the phrases of a vocabulary in a note, by layer; `nlp` cuts them up."""
    tokenizer: Any = nlp.tokenizer
    matcher = PhraseMatcher(nlp.vocab, attr="LOWER")
    phrases: dict[str, tuple[Any, ...]] = {}
    for doc in tokenizer.pipe(vocabulary.phrases):
        key = " ".join(t.lower_ for t in doc)
        phrases[key] = (*phrases.get(key, ()), *vocabulary.phrases[doc.text])
    matcher.add("lexicon", list(tokenizer.pipe(phrases)))

    def find(doc: Doc) -> Layers:
        found: Layers = {}
        for _, start, end in matcher(doc):
            words = " ".join(t.lower_ for t in doc[start:end])
            for label, value in phrases.get(words, ()):
                found.setdefault(label, []).append(Mention(start, end, label, value))
        layers = {label: _longest(mentions, label) for label, mentions in found.items()}
        layers["mark"] = _outside_sayings(layers)
        return layers

    return find


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


def _outside_sayings(layers: Layers) -> list[Mention]:
    """The marks that are no part of a saying about moisture, progress or smell ("not too wet")."""
    sayings = [m for layer in _SAYINGS for m in layers.get(layer, ()) if m.end - m.start > 2]
    return [
        m
        for m in layers.get("mark", ())
        if m.value == "not" or not any(s.start <= m.start and m.end <= s.end for s in sayings)
    ]
