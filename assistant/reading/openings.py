"""Whether a clause begins at a word: a subject with its verb, a conjunction, a mark, a verb, a place."""

from __future__ import annotations

from assistant.reading.clausewords import CONNECTORS, JOINS, MEASURED, SUBORDINATE, ClauseWords
from assistant.reading.personopenings import PersonOpenings
from assistant.reading.sketch import Mention
from assistant.reading.verbforms import past

_SUBJECTS = frozenset("i we he she they you y'all yall".split())
_POINTERS = frozenset("it that this those these there here".split())
_OPENERS = frozenset(
    "hopefully okay ok alright then anyway anyways well oh yeah yep meanwhile hey nope thanks bye "
    "goodbye cheers".split()
)
_TO_YOU = frozenset(
    "show showed tell told telling take ask asked of for to at with thank see let give teach walk remind "
    "bring".split()
)
_STARTING = frozenset(("starting", "beginning"))
_WHEREABOUTS = frozenset("in up down out over on under round around back from through".split())
_EXIST = frozenset(("is", "'s", "are", "was", "were"))
_ALL_RIGHT = frozenset(("okay", "ok", "alright"))
_AND = frozenset(("and", "whereas", "while", "but", "then"))
_HEREABOUTS = frozenset(("here", "there"))
_FROM_WHERE = frozenset(("with", "at", "from", "in", "on"))
_ONWARDS = frozenset("up down over back upstairs downstairs on for".split())
_SIGHS = frozenset(("yeah", "oh", "well", "yep"))
_BREAKING = frozenset(("drop", "replace", "question", "summing"))
_IMPRESSIONS = frozenset(("looks", "seems", "feels"))
_NOT_IN_FRONT = frozenset("your yours usually always normally generally you".split())
_THINKING = frozenset("expect bet reckon hope guess".split())
"""What only "I" does, so that it may be left out: "squished | expect hatchlings"."""
_CONTINUING = frozenset(
    "have has got need needs ought should want wants plan to supposed".split(),
)
_IT_AS_OBJECT = frozenset("of in on over through with at to for into".split())
_POINTED_ONE = frozenset("one guy guys thing things stuff bin bed ones".split())
_HAS = frozenset(("got", "gets", "needs", "just"))
_SUBJECT_POINTERS = frozenset(("it", "that", "this", "there"))
_AFTER_A_POINTER = frozenset(
    "looks smells smelled seems feels needs got gets went still just already came took says said stinks "
    "goes".split()
)
_BEFORE_A_VERB = frozenset(
    "it that which who to got get gets getting gotten been there n't ll 'll just also only still then "
    "na".split()
)
_ASKED = frozenset(("if", "whether", "how", "what"))
_LOOKED = frozenset(("see", "check"))
_DONE_BY_IT = frozenset(("eat", "comeout", "goout"))
_IN_FRONT = 2
"""Words before a place that a verb may be said of."""
_AHEAD = frozenset(("will", "must", "shall"))
_LEAVING = frozenset("leave have get keep see let need".split())
"""Acts after which "it" may have a state of its own: "left it covered"."""
_MEASURED = frozenset("cup pint quart gallon litre ml oz lb g kg bucket bag barrow tub handful".split())
_ROW_ENDS = frozenset(("", ".", ",", ";", "\n"))
_NOT_BEFORE_A_PLACE = frozenset("as back was is were the my that this new old another other".split())


class Openings:
    """The rules for the first word of a clause, for one note."""

    def __init__(self, words: ClauseWords) -> None:
        self.n, self.v, self.s, self.words = words, words.v, words.s, words.words
        self.persons = PersonOpenings(words)

    def opens(self, i: int, begin: int) -> bool:
        """Whether word `i` opens a clause of its own, `begin` being where the one before began."""
        opened = self.starts(i) or self.persons.named(i, begin) or self._finite(i, begin) or self._fronted(i)
        return opened or self._further_down(i, begin) or self._instead(i, begin)

    def onwards(self, i: int) -> bool:
        """ "now over to the tote": the walk goes on."""
        return self.n.word(i) == "now" and self.n.word(i + 1) in _ONWARDS

    def _instead(self, i: int, begin: int) -> bool:
        """ "no food | just a spritz", "not feeding them | just a little water": what is done in its place."""
        if self.n.word(i) != "just" or not any(self.n.role(k, "negation") for k in range(begin, i - 1)):
            return False
        return (i + 1 in self.n.amounts or self.n.role(i + 1, "det")) and not self.n.role(i - 1, "copula")

    def starts(self, i: int) -> bool:
        """Whether a subject with its verb, a conjunction or an opener stands at `i`."""
        word = self.n.word(i)
        if word in _ASKED and self.n.word(i - 1) in _LOOKED:
            return False
        if word in _SUBJECTS or word in JOINS:
            return word != "you" or self.words[i - 1] not in _TO_YOU
        if word in _POINTERS:
            return self._pointer(i)
        if word in _AHEAD and (i in self.n.day_ends or self.n.role(i - 1, "adverb")):
            return not self.n.role(i - 2, "subject", "pronoun")  # "not an ant about | will water it"
        if word in _OPENERS:
            if word in _SIGHS and self.n.role(i - 1, "copula", "det"):
                return False
            if word in _ALL_RIGHT and self._told_of(i - 1):
                return False
            return word != "then" or self.n.word(i + 1) != "and"
        mark = self.n.marks.get(i)
        if mark is not None and mark.value == "other":
            return i - 1 not in self.n.in_verb and not self.n.role(i - 1, "prep")
        if word in _STARTING and self.n.word(i + 1) in _FROM_WHERE:
            return True
        if self.onwards(i):
            return True
        if word in _IMPRESSIONS and self.n.ended(i):
            return True
        return mark is not None and self._by_mark(i, mark)

    def _told_of(self, i: int) -> bool:
        """ "moisture: | ok", "smell is | okay": the word is what is told of it, and opens nothing."""
        if self.s.ending("place", i + 1) is not None and self.n.word(i + 2) == "at":
            return True  # "the tub | ok at 78"
        if self.n.word(i) == ":" or self.n.role(i, "copula"):
            i -= 1
        return self.n.word(i) in MEASURED

    def _by_mark(self, i: int, mark: Mention) -> bool:
        """ "scratch that", "skipped tray two", "people say", "going to harvest"."""
        if mark.value in _BREAKING or mark.value == "people":
            return True
        if mark.value == "skip":
            return not self.n.role(i - 1, "subject", "copula", "aux", "adverb")
        if mark.value == "teaching":
            return self.words[i] not in _NOT_IN_FRONT
        if self.words[i] in _THINKING:
            return not self.n.role(i - 1, "subject", "aux", "adverb", "negation", "you", "and")
        planned = mark.value in ("planned", "expected") and mark.end - mark.start > 1
        return planned and self.words[i] not in _CONTINUING and not self.n.role(i, "aux", "copula")

    def _pointer(self, i: int) -> bool:
        """Whether "it", "that one" or "there" at `i` is a subject."""
        word, before, after = self.words[i], self.n.word(i - 1), self.n.word(i + 1)
        if word == "it" and before in _IT_AS_OBJECT:
            return False
        if word in ("here", "there") and before in _WHEREABOUTS and not (word == "there" and after in _EXIST):
            return False
        copula = self.v.role(after, "copula")
        if before == "of" and word != "it" and not copula:
            return False
        if word == "there" and before == "in" and copula and self._figured(i + 2):
            return False
        if word == "that" and self.v.role(after, "verb") and not copula:
            return before in CONNECTORS and after in _AFTER_A_POINTER
        if copula or self.v.role(after, "aux"):
            return before not in ("in", "of", "with", "like") or after != "'s"
        if after in _POINTED_ONE:
            hung = self.n.role(i - 1, "prep") and before not in ("up", "down", "off", "out")
            return not hung and (self.n.role(i + 2, "copula", "aux") or self.n.word(i + 2) in _HAS)
        return word in _SUBJECT_POINTERS and after in _AFTER_A_POINTER

    def _figured(self, i: int) -> bool:
        """ "in there is | sixty six", "in there is | soggy": what is told of the inside follows."""
        return i in self.n.amounts or self.s.starting("moisture", i) is not None

    def _finite(self, i: int, begin: int) -> bool:
        """Whether a verb at `i` opens a clause of its own, its subject left out."""
        verb = self.n.verbs.get(i)
        if verb is None or i in self.n.things or verb.value == "have" or i - 1 < begin:
            return False
        if self._held(i) or self._in_series(i, verb) or self.words[i] == "eaten":
            return False
        if self._until(i, begin) and past(self.v, self.words[i]):
            return True
        who = self.s.ending("mark", i)
        if who is not None and who.value in ("people", "other"):
            return False
        if verb.value in _DONE_BY_IT and (self.s.ending("thing", i) or self.s.ending("amount", i)):
            return False
        acted = bool(self.s.within("verb", begin, i))
        if not acted and self.s.ending("amount", i) and self.words[i].endswith("ed"):
            return False  # "1 kg sieved off"
        if self.s.ending("thing", i) is not None and (not acted or verb.value in ("count", "weigh")):
            return False
        place = self.s.ending("place", i)
        led = place is not None and place.after == "" and place.start - begin <= _IN_FRONT
        if led or (place is not None and place.after == "object"):
            return False  # "bin two | got": its subject; "soggy up top | pulled the naan" is another
        if told_of_measure(self.n, i) and (not acted or _parted(self.n, i)):
            return False
        day = self.n.day_ends.get(i)
        if day is not None and day.start <= begin:
            return False
        return acted or self.n.complete(begin, i)

    def _until(self, i: int, begin: int) -> bool:
        """ "not turning it till Monday | harvested two pints": a day up to which something was told."""
        day = self.n.day_ends.get(i)
        return day is not None and day.start == begin and self.words[begin] in SUBORDINATE

    def _held(self, i: int) -> bool:
        """ "I |", "to |", "just |": the word before keeps the verb in its clause."""
        if self._object(i - 1) and past(self.v, self.words[i]):
            return False
        roles = ("subject", "aux", "prep", "det", "copula", "negation", "you")
        let = self.words[i - 1] in ("me", "us") and self.n.word(i - 2).startswith("let")
        return let or self.n.role(i - 1, *roles) or self.words[i - 1] in _BEFORE_A_VERB

    def _object(self, i: int) -> bool:
        """ "no need to water it | saw heaps of babies": what is acted on; a verb after it is another."""
        verb = self.s.ending("verb", i) if self.words[i] == "it" else None
        return verb is not None and verb.value not in _LEAVING

    def _in_series(self, i: int, verb: Mention) -> bool:
        """ "washed and | shredded": a second verb of making ready."""
        linked = self.words[i - 1] in ("and", "then") and i - 2 in self.n.in_verb
        return (linked and verb.value == "prepare") or self.words[i - 1] == "-"

    def _further_down(self, i: int, begin: int) -> bool:
        """ "the peel's gone and | down here in the second tray it's wet": a place in front."""
        if self.n.word(i - 1) not in _AND or not self.n.complete(begin, i):
            return False
        j = i
        while j < i + 4 and (self.n.role(j, "prep", "det") or self.n.word(j) in _HEREABOUTS):
            j += 1
        place = self.n.places.get(j)
        if place is None or j == i or place.after in ("from", "off", "out"):
            return False
        return self.starts(place.end) or self.n.role(place.end, "det", "copula")

    def _fronted(self, i: int) -> bool:
        """Whether a place in front opens a clause: "tray two the cores are nearly gone"."""
        led = self.n.word(i) in ("the", "my")
        if led and self.n.role(i - 1, "copula"):
            return False
        place = self.n.places.get(i)
        if place is None and led:
            aged = self.n.word(i + 1) in ("new", "old")
            place = self.n.places.get(i + 1) or (self.n.places.get(i + 2) if aged else None)
        if place is not None and self.n.word(i - 1) == "that" and i - 2 in self.n.in_verb:
            return self.n.role(place.end, "copula")  # "toss that | third tray is ready"
        if place is None or self.n.word(i - 1) in _NOT_BEFORE_A_PLACE or self.s.ending("instrument", i):
            return False
        if _behind_its_figure(self.n, i):
            return False
        return place.after == "" and not (place.spread and self.n.word(i - 1) == "'re")


def _behind_its_figure(n: ClauseWords, i: int) -> bool:
    """ "86 | top 83 | bottom": a row of figures with their tiers behind them."""
    while n.s.ending("amount", i) is not None and (place := n.places.get(i)) and place.tiers:
        if n.word(place.end) in _ROW_ENDS:
            return True
        amount = n.amounts.get(place.end)
        if amount is None:
            return False
        i = amount.end
    return False


def told_of_measure(n: ClauseWords, i: int) -> bool:
    """ "0.75 l | drained", "3 kg | harvested": a measure by itself is what the verb tells of."""
    amount = n.s.ending("amount", i)
    return amount is not None and amount.unit in _MEASURED


def _parted(n: ClauseWords, i: int) -> bool:
    """ "1 kg harvested, 300 ml | drained": the measure before word `i` begins a clause of its own."""
    amount = n.s.ending("amount", i)
    return amount is not None and n.word(amount.start - 1) in (",", "and", "&")
