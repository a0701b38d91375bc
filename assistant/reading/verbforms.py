"""Past and bare forms of verbs, told by their spelling."""

from __future__ import annotations

from assistant.reading.vocabulary import Vocabulary

PASTS = frozenset(
    "fed put did set had was were gave got took let froze tore bought sold found saw threw dug fell ran "
    "spread split cut".split()
)
_PAST_ENDINGS = ("ed", "t", "w", "ve", "ew", "ook", "ought", "un", "ung", "ut", "ip")


def past(vocabulary: Vocabulary, word: str) -> bool:
    """Whether a verb's form is (or may be) the past."""
    return word in PASTS or (word.endswith(_PAST_ENDINGS) and word not in vocabulary.bases)
