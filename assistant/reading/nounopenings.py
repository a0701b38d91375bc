"""Whether a clause begins at a noun: "lettuce all gone", "bed temp nineteen", "no mites"."""

from __future__ import annotations

from assistant.reading.clausewords import MEASURED, NO, SUBORDINATE, ClauseWords

_QUANTITIES = frozenset("of or half all most much many".split())
_SAID_OF_A_NOUN = frozenset("though has had have need needs still came was went got".split())
_SAME_PHRASE = frozenset(("in", "on", "to"))
_PARTICLES = frozenset(("out", "up", "off", "down"))
_WHO = frozenset(("i", "we", "she", "he"))
_PUT = frozenset("add give feed pour scoop bed mix mixin buy prepare".split())
_NEARLY = frozenset("nearly almost to about practically there but except".split())
_DEGREES = frozenset(("degF", "degC"))
_READINGS = ("moisture", "leftover", "progress", "smell")
_MEASURED = frozenset(("bed", "bedding", "core", "inside", "ph"))
_IT_IS = (["it", "'s"], ["it", "is"])
_TAKEN = frozenset(("them", "em", "it"))
_READ_OFF = frozenset(("degF", "degC", "percent", "pH", None))
_PAUSES = frozenset("um uh uhm oh erm".split())
_FINITE = frozenset("is are was were 's have has look looks seem seems smell smells".split())
_GOOD = frozenset("good fine ok okay right perfect great nil none normal".split())
_PLACED = frozenset("out off up down on in over".split())
_STOPS = frozenset(("", ".", ",", ";", "\n", "!"))


class NounOpenings:
    """The rules for nouns, figures and denials that open a clause, for one note."""

    def __init__(self, words: ClauseWords) -> None:
        self.n, self.v, self.s, self.words = words, words.v, words.s, words.words

    def opens(self, i: int, begin: int) -> bool:
        """Whether a noun, a figure, a portion or a denial at `i` opens a clause of its own.

        `begin` is where the clause before it began.
        """
        fixed = self._subject(i) or self._figure(i) or self._denial(i) or self._reading(i)
        return fixed or self._portion(i, begin)

    def _portion(self, i: int, begin: int) -> bool:
        """ "damp no smell | two cups of kale": a measure of a thing, after a reading that no verb carries."""
        amount = self.n.amounts.get(i)
        denied = self._denied(begin, i)
        if amount is None or self._tied(i) or i - 1 in self.n.in_verb:
            return False
        if amount.unit in _READ_OFF and not (denied and amount.unit is None):
            return False
        j = amount.end + (self.n.word(amount.end) == "of")
        if j not in self.n.things or self.s.within("verb", begin, i):
            return False
        return any(self.s.within(layer, begin, i) for layer in _READINGS) or denied

    def _denied(self, begin: int, i: int) -> bool:
        """ "no smell", "no mites": a denial of a thing that ends at word `i`."""
        thing = self.s.ending("thing", i)
        return thing is not None and thing.start > begin and self.n.word(thing.start - 1) in NO

    def _reading(self, i: int) -> bool:
        """ "| moisture's okay | smell good": what is measured, in front of what it is."""
        if self.n.word(i) not in MEASURED or self._tied(i) or self.n.attributive(i):
            return False
        return self.n.role(i + 1, "copula") or self.n.word(i + 1) in _GOOD

    def _figure(self, i: int) -> bool:
        """Whether an instrument with its figure begins here: "bed temp in the upper tray nineteen"."""
        degrees = self.n.amounts.get(i)
        if degrees is not None and degrees.unit in _DEGREES and self.n.word(i - 1) in _PAUSES:
            return True
        tool = self.n.tools.get(i)
        if (
            tool is None
            or self._tied(i)
            or self.n.role(i - 1, "prep", "det", "copula", "negation")
            or self.n.attributive(i)
        ):
            return False
        figured = any(a in self.n.amounts for a in range(tool.end, tool.end + 6))
        return figured and not self.n.role(tool.end, "copula")

    def _subject(self, i: int) -> bool:
        """Whether a known noun with its copula or its reading begins here: "lettuce all gone"."""
        j = i
        while j < i + 2 and self.n.role(j, "det"):
            j += 1
        noun = self.n.things.get(j) or self.n.tools.get(j) or self.n.rooms.get(j) or self.n.rooms.get(i)
        if noun is None:
            return False
        if j > i and self._said(i - 1) and self._finite(noun.end):
            return True  # "the bottom one I didn't look at | the mango pits are"
        if self._tied(i):
            return False
        if self._ends_subordinate(i):
            return True
        if j == i and self.n.attributive(i):
            return False
        if self._of_ours(noun.end):
            return True
        after = self._past_phrase(noun.end)
        if noun.end == after and noun.label == "room" and self.words[after : after + 2] in _IT_IS:
            return True
        if self.n.role(after, "copula") or self.n.word(after) in _SAID_OF_A_NOUN:
            return True
        if after > noun.end and self._spoken(after):
            return True  # "the cabbage in the middle tray they've barely touched"
        return self.s.starting("leftover", after) is not None

    def _spoken(self, i: int) -> bool:
        """Whether the worms or the noun itself are spoken of from word `i` on: "they've", "is"."""
        worms = self.n.word(i) in ("they", "it") and self.n.role(i + 1, "aux", "copula")
        return worms or self.n.word(i) in _FINITE

    def _said(self, i: int) -> bool:
        """Whether the word at `i` ends what a verb or a figure says."""
        if self.n.word(i) in _QUANTITIES:
            return False
        return i in self.n.in_verb or i in self.n.in_amount

    def _finite(self, i: int) -> bool:
        """Whether a verb of its own follows a noun, which therefore is no object."""
        return self.n.word(i) in _FINITE

    def _of_ours(self, i: int) -> bool:
        """ "the manure | I put on last month is gone": what somebody did with the noun before word `i`."""
        if self.n.word(i) not in _WHO:
            return False
        while self.n.role(i + 1, "adverb", "aux"):
            i += 1
        return i + 1 in self.n.verbs and self.n.verbs[i + 1].value in _PUT

    def _tied(self, i: int) -> bool:
        """ "half of |", "fed the |", "and |": the word before keeps a noun in its clause."""
        before = self.n.word(i - 1)
        if self.v.role(before, "prep", "det", "copula", "negation") or before in _QUANTITIES:
            return True
        made = self.s.ending("thing", i) if i in self.n.tools else None
        if made is not None and self.n.role(made.start - 1, "prep", "det"):
            return True  # "by the meat thermometer"
        if before == "and" and not self.n.role(i, "det"):
            return True
        if i - 1 in self.n.in_verb or (i - 1 in self.n.in_amount and not self._read_off(i)):
            return True
        return i in self.n.things and self.s.ending("thing", i) is not None

    def _read_off(self, i: int) -> bool:
        """ "temperature fifty nine | the room is": a figure read off, which counts nothing behind it."""
        figure = self.s.ending("amount", i)
        if figure is None or figure.unit not in _READ_OFF:
            return False
        if self.n.role(i, "det") and figure.best >= 1 and self.n.role(figure.start - 1, "copula"):
            return True  # "it's fifty eight | the bedding is damp"
        named = any(self.s.ending(layer, figure.start) for layer in ("instrument", "room"))
        return figure.unit is not None or named or self.n.word(figure.start - 1) in _MEASURED

    def _past_phrase(self, i: int) -> int:
        """Past what describes the noun before word `i`: "the peels from Sunday | are"."""
        relative = self.s.starting("relative", i)
        if relative is not None:
            return int(relative.end)
        place = self.n.places.get(i + 1) or self.n.places.get(i + 2)
        if self.n.role(i, "prep") and place is not None and self._spoken(place.end):
            return place.end
        if not self.n.role(i, "prep") or self.words[i] in _SAME_PHRASE:
            return i
        for k in range(i + 1, min(i + 5, len(self.words))):
            if self.n.role(k, "copula"):
                return i if any(x in self.n.verbs for x in range(i, k)) else k
        return i

    def _ends_subordinate(self, i: int) -> bool:
        """ "till it dries out | maggots in the okra": a noun straight after the end of a side clause."""
        if self.n.word(i - 1) not in _PARTICLES:
            return False
        return any(w in SUBORDINATE for w in self.words[max(0, i - 6) : i - 2])

    def _denial(self, i: int) -> bool:
        """ "no mites no smell", "not feeding": opens a clause unless a verb or a place carries it."""
        before = self.n.word(i - 1)
        if self.n.word(i) not in NO or self._none_of_them(i) or before in _NEARLY:
            return False
        if before in _PLACED:
            return True
        carried = self.v.role(before, "copula", "aux", "verb", "subject", "prep")
        given = self.n.role(i - 1, "object", "pronoun")  # "gave them nothing"
        placed = self.s.ending("place", i) is not None and self.n.word(i + 1) in _STOPS  # "T2 nothing"
        told = self.words[i] == "nothing" and (given or placed)
        return not (carried or told) and (i - 1 not in self.n.in_verb or before in _TAKEN)

    def _none_of_them(self, i: int) -> bool:
        """ "mites none", "ants zero", "water none": the denial belongs to the thing before it."""
        behind = i - (self.n.word(i - 1) in (":", ","))
        ended = self.n.word(i + 1) in _STOPS or i + 1 in self.n.days or self.n.role(i + 1, "adverb")
        denied = self.words[i] == "none" or (self.words[i] == "zero" and ended)
        thing = self.s.ending("thing", behind) if denied else None
        return thing is not None and (thing.value[0].topic == "organism" or ended)
