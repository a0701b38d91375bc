"""The things of a clause with their amounts: "two quarts of rose petals", "papaya skins, five of them"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.amounts import AmountSpan
from assistant.reading.sketch import Clause, Item, Mention, Sketch, inside
from assistant.reading.vocabulary import Vocabulary
from lexicon import Thing, inflect

_JOINS = frozenset(("and", "&", "+", "plus", ",", "with", "or"))
_BETWEEN = frozenset(
    ", about like maybe call it was is 's of cut in strips small up : - = ( roughly around say them those these all "
    "total worth came to at and a good full x only just thinly squeezed out blended chopped strained it's over on top them it deep thick counted count".split()
)
_VAGUE = frozenset("some a an any bunch bit little more another the few".split())
_REACH = 6
_CONTAINERS = frozenset(
    "tub tubs cup cups pot pots jar jars can cans container containers carton cartons bag bags bottle bottles box boxes bucket buckets".split()
)
_COUNTED = frozenset(("food", "treatment", "organism"))
_NOT_COUNTED = frozenset(
    "mixed coffee tea grain drink legume manure pulp meal fungus fly mite helper worm garden prepared".split()
)
_NOT_OF_THINGS = frozenset(("degF", "degC", "degree", "percent", "pH", "min"))
_LIKELY = (
    "castings",
    "leachate",
    "water",
    "worms",
    "organism",
    "bedding",
    "food",
    "amendment",
    "cover",
    "treatment",
    "product",
)


class Items:
    """Finds the things of one note, clause by clause."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.verbs = {i for m in sketch.layers.get("verb", ()) for i in range(m.start, m.end)}
        self.marks = {i for m in sketch.layers.get("mark", ()) for i in range(m.start, m.end)}
        self.place_words = {i for p in sketch.places for i in range(p.start, p.end)}

    def of(self, clause: Clause, amounts: list[AmountSpan], unknown: bool) -> list[Item]:
        """The items of a clause in order; `amounts` are those not used for a reading.

        `unknown`: whether words that the lexicon does not know may be taken for a thing.
        """
        items = self._known(clause)
        free: list[AmountSpan] = []
        for amount in amounts:
            if (
                amount.unit in _NOT_OF_THINGS
                or amount.unit in self.v.vague - {"ball", "pound", "kilo"}
                or amount.currency
                or any(x.amount and x.amount.start == amount.start for x in items)
            ):
                continue
            if not self._bind_right(clause, items, amount, unknown):
                free.append(amount)
        for amount in free:
            if amount.unit == "spray":
                continue
            self._bind_left(items, amount)
        items += self._pointed(clause, free)
        items.sort(key=lambda item: item.start)
        self._share(items)
        return items

    def _known(self, clause: Clause) -> list[Item]:
        items = []
        for mention in self.s.within("thing", clause.start, clause.end):
            if self._container(mention.end) or self._measured(mention.end - 1):
                continue
            things = mention.value
            start, end, name = mention.start, mention.end, things[0].name
            head = next((h for h in self.s.within("head", end, clause.end) if h.start == end), None)
            role = head.value if head else ""
            if head and end not in self.place_words and role in [t.topic for t in things]:
                end = head.end
                name = self._said(start, end)
            doubts = (mention.doubt,) if mention.doubt else ()
            if role == "" and (_generic(mention) or self._short(mention)):
                front = self._modifiers(start, clause.start)
                if front < start and (start - front) <= 2:
                    start = front
                    name = self._said(start, end)
            amount = self._as_said(start, clause.start) or self._one(start, end, things)
            last = items[-1] if items else None
            if (
                last is not None
                and last.end == start
                and last.topic == "food"
                and things[0].topic == "food"
                and amount is None
            ):
                last.end, last.name = end, self._said(last.start, end)  # "lima bean | hulls" is one food
                continue
            items.append(Item(start, end, name, self._topics(things), amount, doubts, things))
        return items

    def _container(self, i: int) -> bool:
        """Whether the word at `i` makes the thing before it a mere container: "ice cream tubs of hulls"."""
        word = self.words[i] if i < len(self.words) else ""
        return word in _CONTAINERS or word in ("plant", "plants", "bush", "tree")

    def _as_said(self, start: int, floor: int) -> AmountSpan | None:
        """A measure that the lexicon has not got, as said: "a case of bad strawberries" (contract, section 2)."""
        i = start - 1
        while i > floor and self.words[i] != "of" and self.plain(i) and start - i < 4:
            i -= 1
        j = i - 1
        if (
            j <= floor
            or self.words[i] != "of"
            or self._in_amount(j)
            or not self.plain(j)
            or self.words[j] in self.v.vague
        ):
            return None
        while self.words[j] in _CONTAINERS and j - 1 > floor and self._named_container(j - 1):
            j -= 1
        if self.words[j - 1] in ("a", "an", "another") and (
            j - 2 < floor or self.words[j - 2] not in ("such", "like")
        ):
            return AmountSpan(j - 1, i, 1, 1, 1, self._measure(i - 1))
        number = self.s.ending("amount", j)
        if number is None or number.unit is not None or number.currency:
            return None
        return AmountSpan(number.start, i, number.low, number.best, number.high, self._measure(i - 1))

    def _named_container(self, i: int) -> bool:
        return self.plain(i) and self.s.covering("thing", i) is not None

    def _measure(self, i: int) -> str:
        """The singular of the measure that stands at `i`."""
        word = self.words[i]
        return inflect(word)[0] if word.endswith("s") and inflect(word) else word

    def _one(self, start: int, end: int, things: tuple[Thing, ...]) -> AmountSpan | None:
        """ "a cabbage": one piece (contract, section 2)."""
        i = start - 1
        while i > 0 and start - i < 3 and self.plain(i):
            i -= 1
        said = self.words[end - 1]
        if (
            i < 0
            or self.words[i] not in ("a", "an")
            or self._in_amount(i)
            or said.endswith("s")
            or things[0].topic not in _COUNTED
            or things[0].klass in _NOT_COUNTED
        ):
            return None
        if any(x in ("little", "bit", "few", "lot") for x in self.words[i:start]):
            return None
        if i and self.words[i - 1] in ("half", "1/2", "½"):
            return AmountSpan(i - 1, start, 0.5, 0.5, 0.5, None)
        return AmountSpan(i, start, 1, 1, 1, None)

    def _topics(self, things: tuple[Thing, ...]) -> tuple[str, ...]:
        """The topics a thing may be taken for, the likeliest first: what is put in loose is bedding before food."""
        unlikely = {self.v.topic(t) for t in things if "ambiguous" in t.note}
        return tuple(
            sorted({self.v.topic(t) for t in things}, key=lambda t: (t in unlikely, _LIKELY.index(t)))
        )

    def _short(self, mention: Mention) -> bool:
        """Whether one word stands for a longer name ("pellets"), so that a word before it may name another thing."""
        said = self.words[mention.start]
        return mention.end - mention.start == 1 and all(
            said in t.name.split() and len(t.name.split()) > 1 for t in mention.value
        )

    def _modifiers(self, start: int, floor: int) -> int:
        """How far back plain words reach that may name the thing more closely ("sprout | trimmings")."""
        i = start
        while (
            i - 1 >= floor
            and self.plain(i - 1)
            and not self._in_amount(i - 1)
            and not self.s.covering("thing", i - 1)
        ):
            i -= 1
        return i

    def _measured(self, i: int) -> bool:
        """Whether a word is part of an amount's measure: "one leaf of romaine"."""
        amount = self.s.covering("amount", i)
        return amount is not None and amount.unit is not None and amount.start < i + 1

    def _in_amount(self, i: int) -> bool:
        return self.s.covering("amount", i) is not None

    def plain(self, i: int) -> bool:
        """Whether a word may be part of a noun phrase: no verb, mark, place or function word."""
        word = self.words[i]
        if not word[0].isalpha() or i in self.verbs or i in self.marks or i in self.place_words:
            return False
        return not self.v.role(
            word,
            "det",
            "prep",
            "copula",
            "aux",
            "conj",
            "subject",
            "object",
            "pronoun",
            "adverb",
            "filler",
            "opener",
            "negation",
            "verb",
            "and",
            "you",
        )

    def _said(self, start: int, end: int) -> str:
        return " ".join(self.words[start:end])

    def _bind_right(self, clause: Clause, items: list[Item], amount: AmountSpan, unknown: bool) -> bool:
        """Give an amount to the thing it stands before; make an unknown one where that is what follows."""
        i = amount.end
        of = i < clause.end and self.words[i] == "of"
        i += of
        if (
            not of
            and amount.unit
            and i < clause.end
            and self.v.role(self.words[i], "det")
            and self.words[i] not in ("each", "every")
        ):
            return False
        while i < clause.end and (
            self.v.role(self.words[i], "det", "filler")
            or self.words[i] in ("more", "each", "really", "nice")
            or (of
            and self.words[i] in ("them", "em"))
        ):
            i += 1
        first = i
        while i < clause.end and i - first < _REACH:
            item = next((x for x in items if x.start <= i < x.end), None)
            if item is not None:
                if (
                    amount.unit is None
                    and i == first + 1
                    and (unit := self.v.spelling.measure(self.words[first]))
                ):
                    amount = replace(
                        amount,
                        unit=unit,
                        end=i,
                        unsure=(*amount.unsure, f"'{self.words[first]}' read as '{unit}'"),
                    )
                if amount.unit == "spray" and item.topic != "water":
                    return False
                if item.amount is not None or (item.topic == "organism" and amount.unit and not of and False):
                    return False
                if amount.unit == "bunch" and item.topic != "food":
                    return True
                item.amount = amount
                return True
            if not (
                self.plain(i) or self._participle(i) or self.words[i] in ("-", "up", "old", "well", "used")
            ):
                break
            i += 1
        return bool(unknown and i > first and (of or amount.unit) and self._make(items, amount, first, i))

    def _participle(self, i: int) -> bool:
        """Whether a verb at `i` stands as an adjective: "torn", "blended"."""
        return i in self.verbs and self.words[i].endswith(("ed", "en", "n", "t"))

    def _pointed(self, clause: Clause, free: list[AmountSpan]) -> Iterator[Item]:
        """ "gave six of them to Priya": the things last spoken of."""
        for amount in free:
            i = amount.end
            if self.words[amount.start - 1] in ("those", "these", "them", "the", "all") and (
                i >= clause.end or not self.plain(i)
            ):
                i = amount.end - 2
            elif (
                self.words[i : i + 1] != ["of"]
                or i + 1 >= clause.end
                or self.words[i + 1] not in ("them", "em", "'em", "those", "these")
            ):
                continue
            if any(self.s.starting("worms", k) for k in range(i + 2, i + 5)):
                continue
            before = self.s.within("thing", max(0, amount.start - 60), amount.start)
            if before and clause.start - before[-1].end < 25 and before[-1].end <= clause.start:
                things = before[-1].value
                yield Item(
                    max(i, amount.start),
                    i + 2,
                    things[0].name,
                    self._topics(things),
                    amount,
                    ("what 'them' means is taken from before",),
                    things,
                )

    def _make(self, items: list[Item], amount: AmountSpan, start: int, end: int) -> bool:
        while start < end and self._participle(start):
            start += 1
        while end > start and self._participle(end - 1):
            end -= 1
        end = min(end, start + 3)
        name = self._said(start, end)
        if (
            start >= end
            or name in ("them", "it", "one", "ones")
            or len(name) < 3
            or not any(c.isalpha() for c in name)
        ):
            return False
        meant = self.v.spelling.things(name)
        if meant:
            doubt = f"'{name}' read as '{meant[0].name}'"
            items.append(Item(start, end, meant[0].name, self._topics(meant), amount, (doubt,), meant))
            return True
        items.append(Item(start, end, name, ("unknown",), amount, (f"'{name}' is not in the lexicon",)))
        return True

    def _bind_left(self, items: list[Item], amount: AmountSpan) -> None:
        """Give an amount that nothing follows to the thing before it: "watermelon two cups"."""
        before = [x for x in items if x.end <= amount.start and x.amount is None]
        if not before:
            return
        item = before[-1]
        gap = self.words[item.end : amount.start]
        if len(gap) <= 8 and all(w in _BETWEEN or self.v.role(w, "adverb", "filler") for w in gap):
            item.amount = amount

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
        gap = self.words[left.end : right.start]
        if not gap or gap[0] not in _JOINS - {"with"} or len(gap) > 4:
            return False
        rest = [w for w in gap if w not in _JOINS]
        return not any(
            w in _VAGUE or self.v.role(w, "det", "prep", "subject", "copula", "aux", "negation", "pronoun")
            for w in rest
        )


def _generic(mention: Mention) -> bool:
    return (
        any(t.klass == "mixed" or "generic" in t.note for t in mention.value)
        and mention.end - mention.start == 1
    )


def readable(amounts: list[AmountSpan], clause: Clause) -> list[AmountSpan]:
    """The amounts inside a clause that nothing has used yet."""
    return [
        a for a in inside(amounts, clause.start, clause.end) if not (set(range(a.start, a.end)) & clause.used)
    ]
