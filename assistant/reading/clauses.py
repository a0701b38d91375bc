"""Cutting a note into clauses. Dictated talk has no full stops, so words decide where a clause begins."""

from __future__ import annotations

from functools import cached_property

from assistant.reading.sketch import Clause, Mention, Sketch, inside
from assistant.reading.vocabulary import Vocabulary

_HARD = frozenset([".", "!", "?", ";", "\n", "->", "→", "—", "...", "…", "•", "*", "!!", "??", "?!"])
_DASHES = frozenset(["–", "--"])
_SUBJECTS = frozenset("i we he she they you y'all yall".split())
_POINTERS = frozenset("it that this those these there here".split())
_JOINS = frozenset(
    "but because cause 'cause cos coz while when which who until till til if unless though although whenever".split()
)
_OPENERS = frozenset(
    "hopefully okay ok alright then anyway anyways well oh yeah yep meanwhile hey nope".split()
)
_HEDGES = frozenset(
    "just also only still then really already finally even actually probably not never n't always both all to ta na".split()
)
_CONNECTORS = frozenset("and so then now oh um uh uhm er erm well plus also".split())
_SCALES = ("leftover", "moisture", "smell", "progress", "thing", "abundance")
_CONTENT = (
    "verb",
    "thing",
    "moisture",
    "leftover",
    "progress",
    "smell",
    "abundance",
    "gatherings",
    "light",
    "worms",
)
_HOLDS = frozenset(
    "it that which who to got get gets been there n't ll 'll just also only still then na".split()
)
_NO = frozenset(("no", "not", "nothing", "none", "zero"))
SUBORDINATE = frozenset("when until till til if unless whenever before after".split())


class Cutter:
    """Decides for every word of one note whether a clause begins there."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.verbs = _starts(sketch.layers.get("verb", ()))
        self.things = _starts(sketch.layers.get("thing", ()))
        self.tools = _starts(sketch.layers.get("instrument", ()))
        self.rooms = _starts(sketch.layers.get("room", ()))
        self.marks = _starts(sketch.layers.get("mark", ()))
        self.days = {d.start: d for d in sketch.days}
        self.day_ends = {d.end: d for d in sketch.days}
        self.places = {p.start: p for p in sketch.places}
        self.amounts = {a.start: a for a in sketch.amounts}
        self.covered = {
            i for layer in (sketch.amounts, sketch.days) for m in layer for i in range(m.start + 1, m.end)
        }

    def cut(self) -> list[Clause]:
        """The clauses of the note, in order, without the punctuation that ends them."""
        clauses: list[Clause] = []
        begin = 0
        for i in range(1, len(self.words)):
            if self._begins(i, begin):
                self._close(clauses, begin, i)
                begin = i
        self._close(clauses, begin, len(self.words))
        return self._joined(clauses)

    def _joined(self, clauses: list[Clause]) -> list[Clause]:
        """A clause that says nothing by itself ("I bet", "hopefully by July", "Thursday") goes with the next one."""
        out: list[Clause] = []
        for clause in clauses:
            last = out[-1] if out else None
            if (
                last is not None
                and last.end == clause.start
                and self._empty(last)
                and not self._empty(clause, alone=True)
            ):
                clause.start = last.start
                out.pop()
            elif last is not None and last.end == clause.start and self._lends(last, clause):
                day = self.day_ends[last.end]
                last.end, clause.start = day.start, day.start
            out.append(clause)
        return out

    def _empty(self, clause: Clause, alone: bool = False) -> bool:
        """Whether a clause has a mark of stance, a day or a bare place, and nothing that they could be said of."""
        a, b = clause.start, clause.end
        if any(self.s.within(layer, a, b) for layer in _CONTENT) or bool(inside(self.s.amounts, a, b)):
            return False
        if alone:
            return False
        marks = [m.value for m in self.s.within("mark", a, b)]
        if any(m not in ("expected", "planned", "future", "later") for m in marks):
            return False
        if self.words[a] in SUBORDINATE or self._word(b) in ("because", "since"):
            return False
        places = inside(self.s.places, a, b)
        days = inside(self.s.days, a, b)
        return (
            (bool(marks or days)
            and b - a <= 9)
            or (bool(places) and b - a <= 3 and self._word(b) in ("i", "we", "it"))
        )

    def _lends(self, last: Clause, clause: Clause) -> bool:
        """Whether a day that ends a clause belongs to the next: "the greens are gone Thursday | I froze two bags"."""
        day = self.day_ends.get(last.end)
        if day is None or day.start <= last.start or not self._starts(clause.start):
            return False
        if self.words[clause.start] not in ("i", "we") or self.words[day.start] in (
            "on",
            "by",
            "in",
            "since",
            "until",
        ):
            return False
        ahead = {m.value for m in self.s.within("mark", clause.start, clause.end)} & {"planned", "future"}
        behind = {m.value for m in self.s.within("mark", last.start, last.end)} & {
            "planned",
            "future",
            "expected",
        }
        if ahead and not behind:
            return True
        acted = [
            m
            for m in self.s.within("verb", last.start, day.start)
            if m.value not in ("see", "get", "have", "smell")
        ]
        return not acted and not behind and bool(self.s.within("verb", clause.start, clause.end))

    def _close(self, clauses: list[Clause], start: int, end: int) -> None:
        while start < end and (self.words[start] in _HARD or self.words[start] in (",", ":")):
            start += 1
        while end > start and (self.words[end - 1] in _HARD | _DASHES or self.words[end - 1] in (",", ":")):
            end -= 1
        if end > start:
            clauses.append(Clause(start, end))

    def _word(self, i: int) -> str:
        return self.words[i] if 0 <= i < len(self.words) else ""

    def _begins(self, i: int, begin: int) -> bool:
        if i in self.covered:
            return False
        word, before = self.words[i], self.words[i - 1]
        if before in _HARD or (before in _DASHES and i - 2 not in self.amounts) or word in _HARD:
            return not self._fraction(i)
        if before == ",":
            return self._opens(self._head(i), begin) or i in self.places or self._ahead(i)
        if before in _CONNECTORS or self._linked(i):
            return False
        return self._opens(self._head(i), begin)

    def _ahead(self, i: int) -> bool:
        """After a comma: "will empty that", "plan: harvest", "need more bags"."""
        mark = self.marks.get(i)
        return self.v.role(self._word(i), "aux") or (
            mark is not None and mark.value in ("planned", "expected", "future", "skip")
        )

    def _opens(self, i: int, begin: int) -> bool:
        return (
            self._starts(i)
            or self._named(i, begin)
            or self._finite(i, begin)
            or self._fronted(i)
            or self._subject(i)
            or self._figure(i)
            or self._denial(i)
        )

    def _fraction(self, i: int) -> bool:
        return self.words[i - 1] == "." and i - 2 >= 0 and i in self.covered

    def _head(self, i: int) -> int:
        """Past "and", "so", "then", "um": where the clause's own first word would be."""
        j = i
        while self._word(j) in _CONNECTORS and j < i + 3:
            if self.words[j] == "so" and self._word(j + 1) in (
                "much",
                "many",
                "dry",
                "wet",
                "far",
                "good",
                "bad",
                "soggy",
            ):
                break
            j += 1
        if j > i and j in self.days and self._starts(self.days[j].end):
            return self.days[j].end
        return j

    def _linked(self, i: int) -> bool:
        """Whether the word before holds `i` fast: "I just |", "to |"."""
        word = self._word(i)
        if self.words[i - 1] in _JOINS - {"but"} or self.words[i - 1] in SUBORDINATE:
            return True
        return (
            self.words[i - 1] in _HEDGES
            and not self.v.role(word, "subject")
            and word not in _CONNECTORS | _NO | _JOINS
        )

    def _starts(self, i: int) -> bool:
        """Whether a subject with its verb, a conjunction or an opener stands at `i`."""
        word, after = self._word(i), self._word(i + 1)
        if word in _SUBJECTS:
            return True
        if word in _POINTERS:
            return self._pointer(i, after)
        if word in _JOINS:
            return True
        if word in _OPENERS:
            return after != "and" or word != "then"
        mark = self.marks.get(i)
        if mark is not None and mark.value == "other":
            return i - 1 not in self.verbs_covered and not self.v.role(self._word(i - 1), "prep")
        if mark is not None and mark.value in ("drop", "replace", "question"):
            return True
        if word in ("looks", "seems", "feels") and (i in self.day_ends or self._ended(i)):
            return True
        if mark is not None and mark.value == "skip":
            return not self.v.role(self._word(i - 1), "subject", "copula", "aux", "adverb")
        if mark is not None and mark.value == "people":
            return True
        if (
            mark is not None
            and mark.value == "teaching"
            and word not in ("your", "yours", "usually", "always", "normally", "generally", "you")
        ):
            return True
        if self.v.role(word, "aux"):
            return False
        return (
            mark is not None
            and mark.value in ("planned", "expected")
            and mark.end - mark.start > 1
            and word
            not in (
                "have",
                "has",
                "got",
                "need",
                "needs",
                "ought",
                "should",
                "want",
                "wants",
                "plan",
                "to",
                "supposed",
            )
        )

    def _pointer(self, i: int, after: str) -> bool:
        before = self._word(i - 1)
        if self._word(i) == "it" and before in (
            "of",
            "in",
            "on",
            "over",
            "through",
            "with",
            "at",
            "to",
            "for",
            "into",
        ):
            return False
        if self._word(i) == "that" and self.v.role(after, "verb") and not self.v.role(after, "copula"):
            return False
        if self.v.role(after, "copula", "aux"):
            return before not in ("in", "of", "with", "like") or after not in ("'s",)
        if after in ("one", "guy", "guys", "thing", "things", "stuff", "bin", "bed", "ones"):
            return self.v.role(self._word(i + 2), "copula", "aux") or self._word(i + 2) in (
                "got",
                "gets",
                "needs",
                "just",
            )
        if self._word(i) in ("it", "that", "this", "there"):
            return after in (
                "looks",
                "smells",
                "smelled",
                "seems",
                "feels",
                "needs",
                "got",
                "gets",
                "went",
                "still",
                "just",
                "already",
                "came",
                "took",
                "says",
                "said",
                "stinks",
                "goes",
            )
        return False

    def _finite(self, i: int, begin: int) -> bool:
        """Whether a verb at `i` opens a clause of its own, its subject left out."""
        verb = self.verbs.get(i)
        if verb is None or i in self.things or verb.value == "have":
            return False
        before = self.words[i - 1]
        if (
            i - 1 < begin
            or self.v.role(before, "subject", "aux", "prep", "det", "copula", "negation", "you")
            or before in _HOLDS
        ):
            return False
        if before in ("and", "then") and verb.value == "prepare" and i - 2 in self.verbs_covered:
            return False
        if verb.value in ("count", "weigh") and self.s.ending("thing", i) is not None:
            return False
        acted = bool(self.s.within("verb", begin, i))
        if not acted and self.s.ending("thing", i) is not None:
            return False
        if self.s.ending("place", i) is not None or (i in self.day_ends and self.day_ends[i].start <= begin):
            return False
        return acted or self._complete(begin, i)

    def _named(self, i: int, begin: int) -> bool:
        """Somebody by name who did something: "| Rosa gave them a case of strawberries"."""
        verb = self.verbs.get(i + 1)
        if (
            verb is None
            or verb.value not in ("give", "feed", "take", "takeout", "water", "sell", "buy")
            or not self._complete(begin, i)
        ):
            return False
        if self.words[i + 1] in self.v.bases or self.words[i + 1].endswith(("ing", "s")):
            return False
        known = any(self.s.covering(layer, i) for layer in list(self.s.layers))
        places = self.s.covering("place", i) is not None
        days = self.s.covering("day", i) is not None
        return (
            not (known or places or days or i in self.amount_covered)
            and self.words[i].isalpha()
            and not any(self.words[i] in r for r in self.v.roles.values())
        )

    def _complete(self, begin: int, i: int) -> bool:
        """Whether the words so far already say something: a reading or a figure."""
        for layer in ("moisture", "leftover", "progress", "smell", "abundance"):
            if self.s.within(layer, begin, i):
                return True
        return bool(inside(self.s.amounts, begin, i))

    def _fronted(self, i: int) -> bool:
        """Whether a place in front opens a clause: "tray two the cores are nearly gone"."""
        led = self._word(i) in ("the", "my")
        place = self.places.get(i) or (
            self.places.get(i + 1) or (self._word(i + 1) in ("new", "old") and self.places.get(i + 2))
            if led
            else None
        )
        if led and self.v.role(self._word(i - 1), "copula"):
            return False
        if not place or self._word(i - 1) in (
            "was",
            "is",
            "were",
            "the",
            "my",
            "that",
            "this",
            "new",
            "old",
            "another",
            "other",
        ):
            return False
        if place.spread and self._word(i - 1) == "'re":
            return False
        return place.after == ""

    def _figure(self, i: int) -> bool:
        """Whether an instrument with its figure begins here: "bed temp in the upper tray nineteen"."""
        tool = self.tools.get(i)
        if (
            tool is None
            or self.v.role(self._word(i - 1), "prep", "det", "copula", "negation")
            or self._attributive(i)
        ):
            return False
        return any(tool.end <= a < tool.end + 6 for a in self.amounts) and not self.v.role(
            self._word(tool.end), "copula"
        )

    def _subject(self, i: int) -> bool:
        """Whether a known noun with its copula or its reading begins here: "lettuce all gone", "rind's half gone"."""
        before = self._word(i - 1)
        if self.v.role(before, "prep", "det", "copula", "negation") or before in (
            "of",
            "or",
            "half",
            "all",
            "most",
            "much",
            "many",
        ):
            return False
        if before == "and" and not self.v.role(self._word(i), "det"):
            return False
        if i - 1 in self.verbs_covered or i - 1 in self.amount_covered:
            return False
        if i in self.things and self.s.ending("thing", i) is not None:
            return False
        j = i
        while self.v.role(self._word(j), "det") and j < i + 2:
            j += 1
        noun = self.things.get(j) or self.tools.get(j) or self.rooms.get(j)
        if noun is None:
            return False
        if self._ends_subordinate(i):
            return True
        after = noun.end
        if self.v.role(self._word(after), "prep") and self.words[after] not in ("in", "on", "to"):
            k = next(
                (
                    k
                    for k in range(after + 1, min(after + 5, len(self.words)))
                    if self.v.role(self.words[k], "copula")
                ),
                after,
            )
            after = k if not any(self.s.starting("verb", x) for x in range(after, k)) else after
        if j == i and self._attributive(i):
            return False
        if self.v.role(self._word(after), "copula") or self._word(after) in (
            "has",
            "had",
            "have",
            "need",
            "needs",
            "still",
            "came",
            "was",
            "went",
            "got",
        ):
            return True
        return self.s.starting("leftover", after) is not None

    def _ends_subordinate(self, i: int) -> bool:
        """ "till it dries out | maggots in the okra": a noun straight after the verb and particle of a side clause."""
        before = self._word(i - 1)
        if before not in ("out", "up", "off", "down"):
            return False
        return any(w in SUBORDINATE for w in self.words[max(0, i - 6) : i - 2])

    def _attributive(self, i: int) -> bool:
        """Whether the word before is an adjective of the noun at `i`, so that its phrase began earlier."""
        before = self._word(i - 1)
        return (
            bool(before)
            and before.isalpha()
            and not self.v.role(before, "adverb", "filler", "opener", "object", "verb", "conj")
            and not self._ended(i)
        )

    def _ended(self, i: int) -> bool:
        return i in self.day_ends or any(self.s.ending(layer, i) for layer in _SCALES)

    def _denial(self, i: int) -> bool:
        """ "no mites no smell", "not feeding": a denial opens a clause unless a verb carries it."""
        if self._word(i) not in _NO:
            return False
        before = self._word(i - 1)
        if self.words[i] == "none" and (m := self.s.ending("thing", i)) and m.value[0].topic == "organism":
            return False
        if before in ("nearly", "almost", "to", "about", "practically", "there", "but"):
            return False
        if before in ("out", "off", "up", "down", "on", "in", "over"):
            return True
        return (
            not self.v.role(before, "copula", "aux", "verb", "subject", "prep")
            and i - 1 not in self.verbs_covered
        )

    @cached_property
    def verbs_covered(self) -> set[int]:
        """Every word that belongs to a verb."""
        return _covered(self.s.layers.get("verb", ()))

    @cached_property
    def amount_covered(self) -> set[int]:
        """Every word that belongs to an amount."""
        return {i for a in self.s.amounts for i in range(a.start, a.end)}


def _starts(mentions: list[Mention] | tuple[Mention, ...]) -> dict[int, Mention]:
    return {m.start: m for m in mentions}


def _covered(mentions: list[Mention] | tuple[Mention, ...]) -> set[int]:
    return {i for m in mentions for i in range(m.start, m.end)}
