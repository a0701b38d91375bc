"""Talk that records nothing: side clauses, questions, what others do, what one should do (contract 5.5)."""

from __future__ import annotations

from assistant.reading.amountwords import TIME
from assistant.reading.clausewords import SUBORDINATE
from assistant.reading.habits import Habits
from assistant.reading.sketch import Clause, Mention, Sketch, inside
from assistant.reading.verbforms import PASTS
from assistant.reading.vocabulary import Vocabulary

_ASKING = frozenset(
    "why how what where who does do did can could should is are has have will would am".split()
)
_ASKED_OF = frozenset("it they that this there anyone anybody".split())
_DONE_TO = frozenset(("it", "that", "this"))
_SENSING = frozenset(("see", "smell", "tell", "hear", "notice"))
_FINDING = _SENSING | {"find", "feel", "spot", "count"}
_SOFTENING = frozenset("say guess think call reckon expect bet give like love estimate".split())
_SEEN = ("leftover", "progress", "moisture")
_LOOKED = frozenset(("see", "check", "find", "know", "out"))
_UNTIL = frozenset(("before", "after", "till", "until"))
_HIS = frozenset(("his", "hers", "theirs"))
_YOUR = frozenset(("your", "yours", "you're"))
_YOU = _YOUR | {"you"}
_DID = frozenset(("had", "did", "got", "gave", "fed", "put"))
_OURS = frozenset(("them", "it", "mine", "ours"))
_TAKING = frozenset("take takeout get buy pickup collect".split())
_MADE_HERE = frozenset(("castings", "leachate", "worms"))
_CARE = frozenset(("feed", "water", "add"))


class Talk:
    """Tells for the clauses of one note why they are talk."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.habits = Habits(vocabulary, sketch)

    def why(self, clause: Clause, before: Clause | None, first: int, others: int) -> str:
        """Why a clause is talk, "" where it is not.

        `first` is its first word that says something; `others`: for how many clauses yet somebody else, just
        named, may be meant by "he" and "they".
        """
        marks = self.s.within("mark", clause.start, clause.end)
        if self._subordinate(clause, first):
            return "subordinate"
        if self._question(clause, marks, first):
            return "question"
        if self._hypothetical(clause, before, marks):
            return "hypothetical"
        if self.habits.told(clause, first):
            return "habit"
        acted = self.s.starting("verb", first) is not None  # "gave a friend a hundred worms"
        if self._anothers(clause):
            return "other"
        if any(m.value == "other" and m.start - first <= 1 - acted for m in marks):
            return "" if self._helper(clause) else "other"
        return self._of_others(clause, marks, first, others)

    def _word(self, clause: Clause, i: int) -> str:
        return self.words[i] if i < clause.end else ""

    def _subordinate(self, clause: Clause, first: int) -> bool:
        """ "when it dries out", "until that is gone"; "after that" only says when."""
        lead = self.words[max(0, clause.start - 2) : clause.start]
        if lead[-1:] == ["where"] or (lead[-1:] == ["since"] and lead[0] in TIME):  # "three weeks since I"
            return True
        word, after = self.words[first], self._word(clause, first + 1)
        return word in SUBORDINATE and not (word in _UNTIL and after in ("", "that"))

    def _question(self, clause: Clause, marks: list[Mention], first: int) -> bool:
        """ "should I feed them", "the rinds gone?"."""
        after = self._word(clause, first + 1)
        if self.words[first] in _ASKING and (self.v.role(after, "subject", "you") or after in _ASKED_OF):
            return self.words[first] != "did" or after not in _DONE_TO or self._verb_after(clause, first + 2)
        return self._asked(clause) or any(m.value == "question" for m in marks)

    def _verb_after(self, clause: Clause, i: int) -> bool:
        """Whether a bare verb follows: "did it smell", not "did it this morning"."""
        return any(word in self.v.bases for word in self.words[i : min(i + 3, clause.end)])

    def _asked(self, clause: Clause) -> bool:
        """Whether a question mark ends the clause; "damp?" is a reading, said with doubt."""
        if self.words[clause.end : clause.end + 1] != ["?"]:
            return False
        if self._figured(clause):
            return False
        short = clause.end - clause.start <= 4
        return not (short and self.s.within("moisture", clause.start, clause.end))

    def _figured(self, clause: Clause) -> bool:
        """ "pH 7.4, too high?": a figure is told, and only what it means is asked."""
        words = self.words[clause.start : clause.end]
        comma = clause.start + words.index(",") if "," in words else clause.start
        return any(a.unit for a in inside(self.s.amounts, clause.start, comma))

    def _hypothetical(self, clause: Clause, before: Clause | None, marks: list[Mention]) -> bool:
        """What would be, or hangs on a condition: "if it's still wet | I'll give it the leaves"."""
        aside = [m for m in marks if m.value == "hypothetical" and not (self._looked(m) or self._able(m))]
        if aside or self._would(clause):
            return True
        conditional = (
            before is not None
            and before.because in ("subordinate", "hypothetical")
            and self.words[before.start] in ("if", "unless")
        )
        return conditional and any(m.value == "future" for m in marks)

    def _looked(self, mark: Mention) -> bool:
        """ "I'll see if they have hatched": what a look is to tell hangs on no condition."""
        return mark.start > 0 and self.words[mark.start - 1] in _LOOKED

    def _able(self, mark: Mention) -> bool:
        """ "I could only find a few", "I could see mites": what was seen, and no mere thought."""
        i = mark.end
        while self.v.role(self.words[i] if i < len(self.words) else "", "adverb", "negation"):
            i += 1
        return self.words[mark.start] == "could" and bool(_FINDING & set(self.words[i : i + 1]))

    def _would(self, clause: Clause) -> bool:
        """ "I'd add coir": would, not had; "I'd say" and the like only soften what is said."""
        i = next((i for i in range(clause.start, clause.end - 1) if self.words[i] == "'d"), None)
        if i is None:
            return False
        i += 1
        while i < clause.end - 1 and self.v.role(self.words[i], "adverb"):
            i += 1
        word = self.words[i]
        return word not in _SOFTENING | PASTS and (word in self.v.bases or word == "be")

    def _anothers(self, clause: Clause) -> bool:
        """ "Mum's bin got kale", "Dave gave his a cup": a bin of somebody who is not of the set-up."""
        for i in range(clause.start + 1, clause.end - 1):
            if self.words[i] in _HIS and self.s.ending("verb", i) is not None:
                return self.s.starting("thing", i + 1) is None
            if (
                self.words[i] == "'s"
                and self.s.starting("binnoun", i + 1) is not None
                and self._somebody(i - 1)
            ):
                return True
        return False

    def _somebody(self, i: int) -> bool:
        """Whether a word is for a person, or unknown and so likely a name."""
        mark = self.s.covering("mark", i)
        if self.s.covering("place", i) is not None:
            return False
        if mark is not None:
            return mark.value in ("taker", "other")
        known = any(self.s.covering(layer, i) is not None for layer in (*self.s.layers, "day", "amount"))
        return not known and not any(self.words[i] in role for role in self.v.roles.values())

    def _of_others(self, clause: Clause, marks: list[Mention], first: int, others: int) -> str:
        """What you do, what people do, what is always so: told to teach, not of this bin."""
        word = self.words[first]
        if self.v.role(word, "you") or word in _YOUR:
            opening = self.words[clause.start : clause.end][:5]
            return "" if (_SENSING | {"find"}) & set(opening) else "teaching"
        if any(m.value == "teaching" and self._rules(clause, m) for m in marks):
            return "teaching"
        people = next((m for m in marks if m.value == "people" and m.start == first), None)
        if people is not None and not (self.words[first].startswith("every") and self._did(clause)):
            return "teaching"
        if word in ("he", "she") and others > 1:
            return "other"
        return "teaching" if word == "they" and others > 2 else ""

    def _rules(self, clause: Clause, mark: Mention) -> bool:
        """Whether "always" or "they like" governs the clause: it stands early, or no figure is told."""
        if self.words[mark.start] in _YOU or self._told(clause, mark):
            return False
        return mark.start - clause.start <= 4 or not inside(self.s.amounts, clause.start, clause.end)

    def _told(self, clause: Clause, mark: Mention) -> bool:
        """ "the pits are still sitting there like always": what is seen has been told before the mark."""
        return any(self.s.within(layer, clause.start, mark.start) for layer in _SEEN)

    def _did(self, clause: Clause) -> bool:
        """ "Everyone had one squirt": people who did something here, once."""
        return bool(_DID & set(self.words[clause.start : clause.end]))

    def _helper(self, clause: Clause) -> bool:
        """ "My neighbour fed them Tuesday": somebody else did it, to our bin."""
        cared = any(
            m.value in _CARE and not self.words[m.start].endswith(("s", "ing"))
            for m in self.s.within("verb", clause.start, clause.end)
        )
        return (cared and bool(_OURS & set(self.words[clause.start : clause.end]))) or self._takes(clause)

    def _takes(self, clause: Clause) -> bool:
        """ "My sister took two pounds of worms": what the bin made, by weight, goes to somebody."""
        took = any(m.value in _TAKING for m in self.s.within("verb", clause.start, clause.end))
        things = self.s.within("thing", clause.start, clause.end)
        made = any(self.v.topic(t) in _MADE_HERE for m in things for t in m.value)
        return took and made and bool(inside(self.s.amounts, clause.start, clause.end))
