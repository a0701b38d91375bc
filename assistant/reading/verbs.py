"""Which verb forms are verbs where they stand: "to water" is one, "two cups of water" is not."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.sketch import Mention, Sketch
from assistant.reading.vocabulary import Vocabulary

_BEGINNINGS = frozenset(("", ".", ",", ";", ":", "-", "–", "->", "\n", "(", ")", "!", "?", "+", "/"))
_ENDINGS = frozenset(("", ".", ",", ";", "\n", "!"))
_LINKS = frozenset(("and", "then", "so", "but", "or", "please", "also", "just", "now", "&"))
_LEADS = frozenset("nobody to let's lets gonna na gotta ta please could should must i'll better".split())


class VerbSieve:
    """Goes through the verb mentions of one note and keeps those that are verbs here."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.things = {i: m for m in sketch.layers.get("thing", ()) for i in range(m.start, m.end)}
        self.amount_ends = {a.end for a in sketch.amounts}
        self.amount_starts = {a.start for a in sketch.amounts}
        self.bins = {b.name.lower().split()[0] for b in sketch.setup}
        self.in_amounts = {i for a in sketch.amounts for i in range(a.start, a.end)}
        self.day_starts = {d.start for d in sketch.days}
        self.day_ends = {d.end for d in sketch.days}
        self.leads = {
            m.end
            for m in sketch.layers.get("mark", ())
            if m.value in ("future", "planned", "hypothetical", "skip")
        }

    def sift(self) -> list[Mention]:
        """The verbs among the mentions, in order."""
        return list(self._kept())

    def _kept(self) -> Iterator[Mention]:
        for m in self.s.layers.get("verb", ()):
            if any(i in self.in_amounts for i in range(m.start, m.end)):
                continue
            thing = self.things.get(m.start)
            if thing is not None and (thing.end - thing.start > m.end - m.start or thing.start < m.start):
                continue
            state = self.s.covering("moisture", m.start)
            if m.value == "prepare" and state is not None and state.end > m.end:
                continue  # "the third tray dried out"
            if self._verb(m, thing):
                yield m

    def _word(self, i: int) -> str:
        return self.words[i] if 0 <= i < len(self.words) else ""

    def _verb(self, m: Mention, thing: Mention | None) -> bool:
        form, before, after = self.words[m.start], self._word(m.start - 1), self._word(m.end)
        if after == "of" and m.value == "drain" and self.words[m.end - 1] == "out":
            return False  # "ran out of rainwater"
        if form.startswith("work") and (after in _ENDINGS or self.v.role(after, "adverb", "filler")):
            return False  # "the lime worked"
        if form == "left" and m.end - m.start == 1:
            told = self.v.role(before, "subject", "aux") or before in ("and", "then")
            return (
                told
                or self.v.role(after, "det", "object")
                or after in ("it", "them", "that", "off", "out", "on", "open", "ajar", "alone")
            )
        if m.value == "have" and after == "been":
            return False  # "the stone has been | removed"
        if m.value == "smell":
            return (
                not self.v.role(before, "det")
                and before not in ("no", "bad", "funny", "earthy", "sour", "good")
            ) or form != "smell"
        if (
            after == "of"
            and before != "no"
            and form not in ("got", "get", "rid", "out")
            and m.end - m.start == 1
        ):
            return False
        if form in self.v.bases:
            return self._bare(m.start, before, m.value, thing is not None)
        if form.endswith("ing"):
            return self._ing(m.start, before)
        if form.endswith("s") and form[:-1] in self.v.bases and form not in ("goes", "gets", "has", "does"):
            return before in ("it", "she", "he", "that", "who", "which") or (
                self.v.role(before, "adverb") and before != "today"
            )
        return not self._participle(m, before)

    def _bare(self, i: int, before: str, value: str, noun: bool) -> bool:
        """A bare form: after a subject, "to", an auxiliary or a negation, or as an order at a beginning."""
        if form_is_past_too(self.words[i]) and not noun and not self.v.role(before, "det", "prep"):
            return True
        if (
            self.v.role(before, "subject", "you", "aux", "negation")
            or before in _LEADS
            or before == "n't"
            or i in self.leads
        ):
            return True
        if (
            self.v.role(before, "adverb")
            and self._word(i - 2)
            and not self.v.role(self._word(i - 2), "det", "copula")
        ):
            return not noun or self.v.role(self._word(i - 2), "subject", "aux")
        if before in _BEGINNINGS or before in _LINKS or i in self.day_ends or self.v.role(before, "opener"):
            plain_order = value in _ORDERS and not noun and (before not in _LINKS or value == "check")
            return plain_order or self._object(i + 1)
        return False

    def _object(self, j: int) -> bool:
        """Whether what stands at `j` may be what an order takes."""
        word = self._word(j)
        if self.v.role(word, "det", "object", "prep") or word in (
            "it",
            "them",
            "em",
            "that",
            "this",
            "both",
            "all",
            "up",
            "out",
            "off",
            "more",
            "again",
        ):
            return True
        return (
            j in self.amount_starts
            or word in self.bins
            or j in self.day_starts
            or any(k in self.things for k in (j, j + 1, j + 2))
            or word in _BEGINNINGS - {","}
        )

    def _ing(self, i: int, before: str) -> bool:
        if before == "more" and self._word(i - 2) == "no":
            return True
        if self.v.role(before, "copula", "aux", "negation", "subject") or before in (
            "been",
            "be",
            "keep",
            "kept",
            "start",
            "started",
            "stop",
            "stopped",
            "no",
            "not",
            "try",
            "just",
            "also",
            "still",
            "without",
            "against",
            "about",
            "on",
            "by",
            "of",
            "na",
        ):
            return True
        return (
            before in _BEGINNINGS
            or before in _LINKS
            or i in self.leads
            or i in self.day_ends
            or self.v.role(before, "opener")
        )

    def _participle(self, m: Mention, before: str) -> bool:
        """ "two handfuls of ripped up egg carton": a past form that only describes the thing behind it."""
        if self._word(m.end) == ")":
            return m.value not in _TOLD_IN_BRACKETS  # "one brick of coir (soaked)"
        if m.value == "prepare" and before == "," and self._behind_a_thing(m):
            return True
        if m.value in _NEVER_ADJECTIVES or (m.start in self.amount_ends and self._word(m.end) in _ENDINGS):
            return False  # "0.75 l drained."
        led = (
            m.start in self.amount_ends
            or before in ("of", "with", "some", "more", "few", "these")
            or self.v.role(before, "det")
            or before in ("old", "fresh", "dry", "wet", "half", "well", "finely", "freshly", "-")
        )
        if not led or (
            before in ("that", "this", "those", "these") and self._word(m.end) in ("the", "a", "it", "in")
        ):
            return False
        j = m.end
        while (
            j < m.end + 3
            and self._word(j).isalpha()
            and not self.v.role(self._word(j), "det", "prep", "subject", "object", "copula")
        ) or self._word(j) in ("up", "down", "out", "-"):
            if j in self.things:
                return True
            j += 1
        if self.v.role(self._word(m.end), "det", "object", "prep") or self._word(m.end) in (
            "it",
            "them",
            "em",
        ):
            return False
        return j in self.things or (
            self.words[m.start].endswith("ed") and (m.start in self.amount_ends or before == "of")
        )

    def _behind_a_thing(self, m: Mention) -> bool:
        """ "cauliflower stems, chopped small, four of them": how the thing is, and no act."""
        thing = self.s.ending("thing", m.start - 1)
        return thing is not None and not self._object(m.end)


_TOLD_IN_BRACKETS = frozenset("takeout kill pick giveaway sell".split())
"""Acts that a word in brackets tells: "one slug (evicted)"."""

_NEVER_ADJECTIVES = frozenset("get have give went take see feed start".split())
_ORDERS = frozenset("check harvest refresh swap buy prepare move".split())
"""Acts that a note in a hurry orders with nothing before and no article behind: "chk temps tues"."""
_SAME = frozenset("put set cut spread let run rid split shed".split())


def form_is_past_too(word: str) -> bool:
    """Whether a bare form is the past as well ("put")."""
    return word in _SAME
