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
    free = [i for i in part if i not in known and not _explained(heard, facts, i)]
    items = facts.item_names
    for start in free:
        for length in range(MOST, 0, -1):
            words = heard.words[start : start + length]
            if len(words) == length and all(k in free for k in range(start, start + length)):
                name = " ".join(words)
                if name in items:
                    return (name,)
    for start in free:
        before = heard.words[start - 1] if start else ""
        if before in LEADS:
            end = start + 1
            while end in free and end - start < MOST:
                end += 1
            return (" ".join(heard.words[start:end]),)
    return ()


def _explained(heard: Heard, facts: Facts, i: int) -> bool:
    word = heard.words[i]
    if word in facts.terms.plain_words or len(word) < 3 or not word.isalpha():
        return True
    sketch, k = heard.sketch, heard.at[i]
    if any(m.start <= k < m.end for layer in sketch.layers.values() for m in layer):
        return True
    if any(d.start <= k < d.end for d in sketch.days) or any(a.start <= k < a.end for a in sketch.amounts):
        return True
    for name in TABLES:
        if any(p.start <= i < p.end for p in phrases(facts.lexicon, name).all(heard.words)):
            return True
    return False
