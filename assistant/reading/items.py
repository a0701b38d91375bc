"""The things of a clause with their amounts: "two quarts of rose petals", "papaya skins, five of them"."""

from __future__ import annotations

from itertools import pairwise

from assistant.reading.amounts import AmountSpan
from assistant.reading.binding import Binder
from assistant.reading.known import Known
from assistant.reading.nounphrases import NounPhrases
from assistant.reading.sketch import Clause, Item, Sketch, inside
from assistant.reading.vocabulary import Vocabulary

_SEVERAL = 2
_LIST_JOINS = frozenset(("and", "&", "+", "plus", ",", "or"))
_JOINS = _LIST_JOINS | {"with"}
_VAGUE = frozenset("some a an any bunch bit little more another the few".split())
_NO_NAME_ROLES = ("det", "prep", "subject", "copula", "aux", "negation", "pronoun")
_NOT_OF_THINGS = frozenset(("degF", "degC", "degree", "percent", "pH", "min"))
_MEASURES_TOO = frozenset("ball pound kilo ton load pile heap drop bunch crust lump".split())


class Items:
    """Finds the things of one note, clause by clause."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.words = vocabulary, sketch.words
        phrases = NounPhrases(vocabulary, sketch)
        self.plain = phrases.plain
        self.known = Known(phrases)
        self.binder = Binder(phrases, self.known)

    def of(self, clause: Clause, amounts: list[AmountSpan], unknown: bool) -> list[Item]:
        """The items of a clause in order; `amounts` are those not used for a reading.

        `unknown`: whether words that the lexicon does not know may be taken for a thing.
        """
        items = self.known.of(clause)
        free = [amount for amount in amounts if self._of_a_thing(amount, items)]
        if self._told_behind(items, free):
            for item, amount in zip(items, free, strict=True):
                item.amount = amount
        free = [a for a in free if self._of_a_thing(a, items)]
        free = [a for a in free if not self.binder.right(clause, items, a, unknown)]
        for amount in free:
            if amount.unit != "spray":
                self.binder.each(items, amount)
                self.binder.left(items, amount)
        items += self.binder.pointed(clause, free)
        items.sort(key=lambda item: item.start)
        self._eaten(items)
        self._share(items)
        return items

    def _told_behind(self, items: list[Item], amounts: list[AmountSpan]) -> bool:
        """ "scraps one kilo paper half a kilo": things and measures by turns, a measure last of all."""
        if len(items) < _SEVERAL or len(items) != len(amounts) or any(i.amount for i in items):
            return False
        order = [x for pair in zip(items, amounts, strict=True) for x in pair]
        by_turns = all(a.end <= b.start <= a.end + 1 for a, b in pairwise(order))
        plain = all(
            a.unit not in (None, "piece", "spray") and self.words[a.end : a.end + 1] != ["of"]
            for a in amounts
        )
        return by_turns and plain

    def _of_a_thing(self, amount: AmountSpan, items: list[Item]) -> bool:
        """Whether an amount may be of a thing: no reading, no mere word for some, no money, not bound."""
        if amount.currency or amount.unit in _NOT_OF_THINGS or amount.unit in self.v.vague - _MEASURES_TOO:
            return False
        return not any(x.amount and x.amount.start == amount.start for x in items)

    def _eaten(self, items: list[Item]) -> None:
        """ "celeriac tops, three mushrooms": among foods a mushroom is one too."""
        for left, right in pairwise(items):
            for one, other in ((left, right), (right, left)):
                both = {"food", "organism"} <= set(one.topics)
                if both and other.topics == ("food",) and self._joined_by(left, right):
                    one.topics = ("food", *(t for t in one.topics if t != "food"))

    def _joined_by(self, left: Item, right: Item) -> bool:
        """Whether only a word of joining, and an amount, stand between two things."""
        start = min(right.start, right.amount.start) if right.amount else right.start
        gap = self.words[left.end : start]
        return bool(gap) and len(gap) <= 2 and all(w in _JOINS or w == "some" for w in gap)

    def _share(self, items: list[Item]) -> None:
        """One measure for "rose petals and carnation heads": shared out evenly (contract 5.1)."""
        i = 0
        while i < len(items):
            j = i + 1
            first = items[i].amount
            if first is not None and first.unit not in (None, "piece") and first.end <= items[i].start:
                while j < len(items) and items[j].amount is None and self._joined(items[j - 1], items[j]):
                    j += 1
            if j - i > 1 and set(items[j - 1].topics) & set(items[i].topics):
                for item in items[i:j]:
                    item.amount, item.share = first, j - i
            i = j

    def _joined(self, left: Item, right: Item) -> bool:
        """Whether only "and" and words that name the second thing stand between two things."""
        gap = self.words[left.end : right.start]
        if not gap or gap[0] not in _LIST_JOINS or len(gap) > 4:
            return False
        return not any(w in _VAGUE or self.v.role(w, *_NO_NAME_ROLES) for w in gap if w not in _JOINS)


def readable(amounts: list[AmountSpan], clause: Clause) -> list[AmountSpan]:
    """The amounts inside a clause that nothing has used yet."""
    found: list[AmountSpan] = inside(amounts, clause.start, clause.end)
    return [a for a in found if not (set(range(a.start, a.end)) & clause.used)]
