"""Which thing an amount is of: the one after it, the one before it, or one that the lexicon does not know."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.amounts import AmountSpan
from assistant.reading.known import Known
from assistant.reading.nounphrases import NounPhrases
from assistant.reading.numbers import cardinal
from assistant.reading.pieces import JOINING
from assistant.reading.sketch import Clause, Item, Mention

_REACH = 6
_FAR = 9
_LEADING = frozenset(
    "over round around along across in into on onto to under down at near by for from".split()
)
_BREAKING = frozenset(", . ; and but then so plus with of".split())
_EACH = frozenset(("each", "every"))
_PASSED_OVER = frozenset(("more", "each", "really", "nice"))
_THEM = frozenset(("them", "em"))
_OF_THEM = frozenset(("them", "em", "'em", "those", "these"))
_TORN = frozenset("shredded torn ripped scrunched crumpled".split())
_OF_IT = frozenset(("it", "that"))
_ALL_OF_THEM = frozenset(("those", "these", "them", "the", "all"))
_NO_NAME = frozenset(
    "them it one ones full time times minus stuff "
    "finished ready done total sifted screened sieved worth".split()
)
_BETWEEN = frozenset(
    ", about like maybe call it was is 's of cut in strips small up : - = ( roughly around say them "
    "those these all total worth came to at and a good full x only just thinly squeezed out blended "
    "chopped strained it's over on top them it deep thick here there so counted count i "
    "we 'd guess say reckon".split()
)


class Binder:
    """Binds the amounts of one note to its things."""

    def __init__(self, phrases: NounPhrases, known: Known) -> None:
        self.p, self.known = phrases, known
        self.v, self.s, self.words = phrases.v, phrases.s, phrases.words

    def right(self, clause: Clause, items: list[Item], amount: AmountSpan, unknown: bool) -> bool:
        """Give an amount to the thing it stands before; make an unknown one where that is what follows."""
        i = amount.end
        of = i < clause.end and self.words[i] == "of"
        if not of and amount.unit and i < clause.end and self._another_phrase(i):
            return False
        pointed = of and self.words[i + 1 : i + 2] and self.words[i + 1] in _THEM
        if self.words[i : i + 2] == ["full", "of"]:
            i, of = i + 1, True  # "a tub full of squash guts"
        if self.words[i + 1 : i + 2] == ["of"] and self.words[i] in self.v.vague:
            i, of = i + 1, True  # "20 cm carpet of rice straw"
        first = i = self._past_owner(self._past_day(self._past_articles(i + of, clause.end, of)))
        while i < clause.end and i - first < _REACH:
            item = next((x for x in items if x.start <= i < x.end), None)
            if item is not None:
                return self._give(item, self._respelt(amount, first) if i == first + 1 else amount)
            if not self._within_phrase(i):
                break
            i += 1
        return bool(unknown and not pointed and i > first and (of or amount.unit)) and self._make(
            items, amount, first, i
        )

    def _another_phrase(self, i: int) -> bool:
        """ "two cups | the melon": an article begins another phrase."""
        return self.v.role(self.words[i], "det") and self.words[i] not in _EACH

    def _past_articles(self, i: int, end: int, of: bool) -> int:
        """ "two cups of | the really nice ..."."""
        while i < end:
            word = self.words[i]
            if not (self.v.role(word, "det", "filler") or word in _PASSED_OVER or (of and word in _OF_THEM)):
                break
            i += 1
        if of and self.words[i - 1] in _OF_THEM and i < end and self.v.role(self.words[i], "copula"):
            i += 1  # "nine of those were babies"
        return i

    def _past_day(self, i: int) -> int:
        """ "six forkfuls of | last month's | cow dung"."""
        day = self.s.starting("day", i)
        return day.end + 1 if day is not None and self.words[day.end : day.end + 1] == ["'s"] else i

    def _past_owner(self, i: int) -> int:
        """ "a handful of | Dad's | coffee grounds"."""
        return i + 2 if self.words[i + 1 : i + 2] == ["'s"] and self.s.starting("thing", i) is None else i

    def _within_phrase(self, i: int) -> bool:
        return self.p.plain(i) or self.p.participle(i) or self.words[i] in JOINING

    def _respelt(self, amount: AmountSpan, i: int) -> AmountSpan:
        """ "two cpus melon": a bare number with a misspelt measure after it."""
        unit = self.v.spelling.measure(self.words[i]) if amount.unit is None else None
        if not unit:
            return amount
        doubt = f"'{self.words[i]}' read as '{unit}'"
        return replace(amount, unit=unit, end=i + 1, unsure=(*amount.unsure, doubt))

    def _give(self, item: Item, amount: AmountSpan) -> bool:
        """Give an amount to the thing after it; False where it may still belong to the one before."""
        if item.amount is not None or (amount.unit == "spray" and item.topic != "water"):
            return False
        if amount.unit != "bunch" or item.topic == "food":
            item.amount = amount
        return True

    def _make(self, items: list[Item], amount: AmountSpan, start: int, end: int) -> bool:
        """A thing of words that the lexicon does not know; False where they are no name."""
        if amount.unit == "spray":
            return False
        first = start
        while start < end and (self.p.participle(start) or self.words[start] in self.v.conditions | _TORN):
            start += 1
        while end > start and self.p.participle(end - 1):
            end -= 1
        end = min(end, start + 3)
        name = self.p.said(start, end)
        if self._no_name(start, end):
            return False
        exact = self.v.spelling.measured(name)
        if exact:
            items.append(Item(start, end, exact[0].name, self.known.topics(exact), amount, (), exact))
            return True
        meant = self.v.spelling.things(name)
        if meant:
            doubt = f"'{name}' read as '{meant[0].name}'"
            topics = self.known.topics(meant)
            items.append(Item(start, end, meant[0].name, topics, amount, (doubt,), meant))
            return True
        if end - start == 1 and name.endswith("ed"):
            return False  # "about a ladleful, strained"
        topic = "bedding" if self._torn_up(first, start, end) else "unknown"
        items.append(Item(start, end, name, (topic,), amount, (f"'{name}' is not in the lexicon",)))
        return True

    def _no_name(self, start: int, end: int) -> bool:
        """Whether words behind an amount name nothing: "coir 3 handfuls | dry", "a quart of | Gray's"."""
        name = self.p.said(start, end)
        if len(name) < 3 or not any(c.isalpha() for c in name) or self.words[end : end + 1] == ["'s"]:
            return True
        last = self.words[end - 1]
        wet = all(self.s.covering("moisture", k) for k in range(start, end))
        return wet or last in _NO_NAME or last in self.v.measured or cardinal(last) is not None

    def _torn_up(self, first: int, start: int, end: int) -> bool:
        """ "shredded menus", "menu strips": what is torn up or in strips is bedding."""
        shaped = self.s.ending("head", end)
        torn = not _TORN.isdisjoint(self.words[first:start])
        return torn or (shaped is not None and shaped.value == "bedding")

    def each(self, items: list[Item], amount: AmountSpan) -> None:
        """ "a bale of peat in both, half a bale each": what each place got, and not the whole."""
        last = next((x for x in reversed(items) if x.end <= amount.start), None)
        if amount.each and last is not None and last.amount is not None and last.amount.unit == amount.unit:
            last.amount = amount

    def left(self, items: list[Item], amount: AmountSpan) -> None:
        """Give an amount that nothing follows to the thing before it: "watermelon two cups"."""
        before = [x for x in items if x.end <= amount.start and x.amount is None]
        if not before:
            return
        gap = self.words[before[-1].end : amount.start]
        if (len(gap) <= 8 and all(w in _BETWEEN or self.v.role(w, "adverb", "filler") for w in gap)) or (
            (amount.unit or self._of_them(amount.end))
            and len(gap) <= _FAR
            and self._phrases(before[-1].end, amount.start)
        ):
            before[-1].amount = amount

    def _of_them(self, i: int) -> bool:
        """ "the filters from the office, six | of them"."""
        return self.words[i : i + 1] == ["of"] and self.words[i + 1] in _OF_THEM

    def _phrases(self, start: int, end: int) -> bool:
        """Whether only phrases of where or what for stand between: "round the rim", "to soak it up"."""
        if self.words[start] not in _LEADING or any(m.start >= start for m in self._taking(start, end)):
            return False
        return not any(
            w in _BREAKING or self.v.role(w, "subject", "copula", "conj") for w in self.words[start:end]
        )

    def _taking(self, start: int, end: int) -> list[Mention]:
        """Verbs and things between two words, save a verb of purpose ("to soak it up"); "the cut" is none."""
        verbs = [m for m in self.s.within("verb", start, end) if not self._no_act(m.start - 1)]
        return verbs + self.s.within("thing", start, end)

    def _no_act(self, i: int) -> bool:
        return self.words[i] == "to" or self.v.role(self.words[i], "det")

    def pointed(self, clause: Clause, free: list[AmountSpan]) -> Iterator[Item]:
        """ "gave six of them to Priya": the things last spoken of."""
        for amount in free:
            i = self._pointer(clause, amount)
            if i is None or any(self.s.starting("worms", k) for k in range(i + 2, i + 5)):
                continue
            before = self.s.within("thing", max(0, amount.start - 60), amount.start)
            if before and before[-1].end <= clause.start < before[-1].end + 25:
                things = before[-1].value
                topics = self.known.topics(things)
                doubts = ("what 'them' means is taken from before",)
                start = max(i, amount.start)
                yield Item(start, i + 2, things[0].name, topics, amount, doubts, things)

    def _pointer(self, clause: Clause, amount: AmountSpan) -> int | None:
        """Two words before the end of "six | of them", "those | six"; None where nothing points back."""
        i = amount.end
        last = self.words[amount.start - 1]
        if last in _ALL_OF_THEM and (i >= clause.end or not self.p.plain(i)):
            return i - 2
        if self.words[i : i + 1] != ["of"] or i + 1 >= clause.end:
            return None
        it = self.words[i + 1] in _OF_IT and amount.unit is not None  # "half of it" is a share
        return i if it or self.words[i + 1] in _OF_THEM else None
