"""Whether a clause begins at somebody's name: "| Rosa gave them a case of strawberries"."""

from __future__ import annotations

from assistant.reading.clausewords import ClauseWords

_GIVING = frozenset("give feed take takeout water sell buy".split())


class PersonOpenings:
    """The rule for names of people that open a clause, for one note."""

    def __init__(self, words: ClauseWords) -> None:
        self.n, self.v, self.s, self.words = words, words.v, words.s, words.words

    def named(self, i: int, begin: int) -> bool:
        """Somebody by name who did something: "| Rosa gave them a case of strawberries"."""
        verb = self.n.verbs.get(i + 1)
        if verb is None or verb.value not in _GIVING or not self.n.complete(begin, i):
            return False
        given = self.words[i + 1]
        if given in self.v.bases or given.endswith(("ing", "s")) or not self.words[i].isalpha():
            return False
        return not self._known(i)

    def _known(self, i: int) -> bool:
        """Whether the lexicon or the set-up knows a word, so that it can be no one's name."""
        layers = (*self.s.layers, "place", "day")
        if i in self.n.in_amount or any(self.s.covering(layer, i) is not None for layer in layers):
            return True
        return any(self.words[i] in role for role in self.v.roles.values())
