"""Clauses that belong together: those that say nothing by themselves, days that belong to the next."""

from __future__ import annotations

from collections.abc import Callable

from assistant.reading.clausewords import SUBORDINATE, ClauseWords
from assistant.reading.sketch import Clause, inside

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
_LOOKING_AHEAD = frozenset(("expected", "planned", "future", "later"))
_TO_COME = frozenset("'ll will should ought wo".split())
_DAY_LEADS = frozenset(("by", "in", "since", "until"))
_BACK = frozenset(("that", "it", "so", "this"))
_PLANNED = frozenset(("planned", "future"))
_READINGS = frozenset(("degF", "degC", "degree", "pH", "percent", None))
_AFTER_MEASURE = frozenset(("and", ",", "plus", "or", "so"))
_HITHER = frozenset(("here", "there", "back"))
_SOFTLY = frozenset(("'d", "would", "do", "'ll"))
_SUPPOSING = frozenset(("say", "guess", "reckon", "think", "suppose", "imagine", "believe"))
_NO_ACT = frozenset(("see", "get", "have", "smell"))


def joined(words: ClauseWords, clauses: list[Clause], starts: Callable[[int], bool]) -> list[Clause]:
    """The clauses with those that say nothing by themselves ("I bet", "Thursday") put to the next one.

    `starts` tells whether a subject with its verb begins at a word.
    """
    out: list[Clause] = []
    for clause in clauses:
        last = out[-1] if out and out[-1].end == clause.start else None
        if last is not None and (_opinion(words, last, clause) or _measures(words, last, clause)):
            last.end = clause.end
            continue
        if last is not None and _waits(words, last):
            clause.start = last.start
            out.pop()
        elif last is not None and starts(clause.start) and _lends(words, last, clause):
            day = words.day_ends[last.end]
            last.end, clause.start = day.start, day.start
        elif last is not None and (lent := _lent_place(words, last, clause)):
            last.end = clause.start = lent
        out.append(clause)
    return out


def _opinion(words: ClauseWords, last: Clause, clause: Clause) -> bool:
    """ "gone by Wednesday | I bet", "half gone | I'd say, the cobs": what is thought of the clause before."""
    if words.words[clause.start] not in ("i", "we"):
        return False
    said = [w for w in words.words[clause.start + 1 : clause.end] if w not in _SOFTLY]
    if said and said[0] in _SUPPOSING and _says(words, last):
        tail = words.s.within("thing", clause.start, clause.end)
        return len(said) == 1 or (said[1:2] == [","] and len(said) <= 4 and bool(tail))
    if clause.end - clause.start > 3:
        return False
    if {m.value for m in words.s.within("mark", clause.start, clause.end)} != {"expected"}:
        return False
    return bool(_TO_COME & set(words.words[last.start : last.end])) and _says(words, last)


def _measures(words: ClauseWords, last: Clause, clause: Clause) -> bool:
    """ "some broccoli stems | I'd guess a pound", "call it two cups": how much of it that was."""
    amounts = inside(words.s.amounts, clause.start, clause.end)
    if not amounts or amounts[0].unit in _READINGS or amounts[0].currency:
        return False
    first, things = amounts[0], words.s.within("thing", last.start, last.end)
    if words.word(first.end) not in _AFTER_MEASURE and first.end < clause.end:
        return False
    led = words.words[clause.start : first.start]
    if len(led) > 6 or not {"guess", "call", "say", "reckon"} & set(led):
        return False
    if any(words.s.within(layer, clause.start, first.start) for layer in ("thing", "verb", "moisture")):
        return False
    return bool(things) and not inside(words.s.amounts, things[-1].end, last.end)


def _says(words: ClauseWords, clause: Clause) -> bool:
    """Whether something stands in a clause that a record could speak of."""
    a, b = clause.start, clause.end
    return any(words.s.within(layer, a, b) for layer in _CONTENT) or bool(inside(words.s.amounts, a, b))


def _waits(words: ClauseWords, clause: Clause) -> bool:
    """Whether a clause has a mark, a day or a bare place, and nothing that they could be said of."""
    a, b = clause.start, clause.end
    marks = {m.value for m in words.s.within("mark", a, b)}
    if _says(words, clause) or marks - _LOOKING_AHEAD:
        return False
    if "do" in words.words[a:b] and not _BACK.isdisjoint(words.words[a:b]):
        return False  # "will do that tomorrow": of what was told before
    if words.words[a] in SUBORDINATE or words.word(b) in ("because", "since"):
        return False
    if (marks or inside(words.s.days, a, b)) and b - a <= 9:
        return True
    if b - a == 1 and a in words.rooms:
        return True  # "outside | it's eight"
    places = inside(words.s.places, a, b)
    if not places or words.word(b) not in ("i", "we", "it", "there", "they"):
        return False
    placed = {i for p in places for i in range(p.start, p.end)}
    others = [i for i in range(a, b) if i not in placed]
    return b - a <= 3 or (b - a <= 8 and all(words.role(i, "prep", "det", "and", "conj") for i in others))


def _lent_place(words: ClauseWords, last: Clause, clause: Clause) -> int | None:
    """ "poured it on and down in the base | there was a cup": where the place of the next clause begins."""
    place = next((p for p in reversed(words.s.places) if p.end == last.end), None)
    if place is None or not words.role(clause.start, "pronoun", "subject") or words.word(last.end) == ",":
        return None
    i = place.start
    while i - 1 > last.start and (words.role(i - 1, "prep", "det") or words.word(i - 1) in _HITHER):
        i -= 1
    led = i < place.start and words.word(i - 1) in ("and", "but", "then", "so")
    return i - 1 if led and i - 1 > last.start else None


def _lends(words: ClauseWords, last: Clause, clause: Clause) -> bool:
    """Whether a day belongs to the next clause: "the greens are gone Thursday | I froze two bags"."""
    day = words.day_ends.get(last.end)
    if day is None or day.start <= last.start or words.words[day.start] in _DAY_LEADS:
        return False
    if words.words[clause.start] not in ("i", "we"):
        return False
    k = day.start - 1
    while words.role(k, "adverb"):
        k -= 1
    if words.word(k) == "and":
        return True
    marks = words.s.within("mark", last.start, last.end)
    behind = {m.value for m in marks if words.word(m.start - 1) != "not"}  # "not going to water it"
    if behind & (_PLANNED | {"expected"}):
        return False
    if any(m.value in _PLANNED for m in words.s.within("mark", clause.start, clause.end)):
        return True
    acted = any(m.value not in _NO_ACT for m in words.s.within("verb", last.start, day.start))
    return not acted and bool(words.s.within("verb", clause.start, clause.end))
