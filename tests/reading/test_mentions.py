"""Phrases of the lexicon are cut as spaCy's tokenizer cuts the notes that they stand in."""

from __future__ import annotations

from assistant.reading.mentions import cut
from assistant.reading.vocabulary import Vocabulary
from lexicon import load
from tests.reading.notesets import reader


def test_every_phrase_is_cut_as_in_a_note() -> None:
    tokenizer = reader().nlp.tokenizer
    phrases = Vocabulary(load()).phrases
    assert len(phrases) > 10_000
    assert not [p for p in phrases if cut(p, tokenizer) != tuple(t.lower_ for t in tokenizer(p))]
