"""A food or other thing that a question names and the lexicon does not know."""

from __future__ import annotations

from assistant.answers.facts import Facts
from assistant.answers.phrases import Heard, phrases
from assistant.answers.subject import LEADS

TABLES = ("cues", "subjects", "adjectives", "units")
MOST = 3
"""A name has at most so many words."""


def unknown_item(heard: Heard, facts: Facts, part: range, known: set[int]) -> tuple[str, ...]:
    """The name of what is asked about, where words remain that nothing explains; empty for none.

    Words that the log has as an item win; others count only where a thing would stand ("how much X").
    """
    told = known | _explained(heard, facts)
    free = [i for i in part if i not in told and not _plain(heard, facts, i)]
    unexplained = frozenset(free)
    items = facts.item_names
    for start in free:
        for length in range(MOST, 0, -1):
            words = heard.words[start : start + length]
            if len(words) == length and unexplained.issuperset(range(start, start + length)):
                name = " ".join(words)
                if name in items:
                    return (name,)
    for start in free:
        before = heard.words[start - 1] if start else ""
        if before in LEADS:
            end = start + 1
            while end in unexplained and end - start < MOST:
                end += 1
            return (" ".join(heard.words[start:end]),)
    return ()


def _plain(heard: Heard, facts: Facts, i: int) -> bool:
    """Whether a word is no name of anything: a common one, a short one, a figure."""
    word = heard.words[i]
    return word in facts.terms.plain_words or len(word) < 3 or not word.isalpha()


def _explained(heard: Heard, facts: Facts) -> set[int]:
    """The words that the reading or a table of questions knows."""
    sketch = heard.sketch
    spans = [(m.start, m.end) for layer in sketch.layers.values() for m in layer]
    spans += [(d.start, d.end) for d in sketch.days] + [(a.start, a.end) for a in sketch.amounts]
    told = heard.covered(spans)
    for name in TABLES:
        for phrase in phrases(facts.lexicon, name).all(heard.words):
            told.update(range(phrase.start, phrase.end))
    return told
