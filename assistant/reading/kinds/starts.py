"""A new bin set up, and the name that it is given."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import spend
from assistant.reading.sketch import Mention

_POINTING = frozenset(("that", "one", "it"))
_CALLING = frozenset(("call", "calling", "called", "named", "name"))
_CALLED = frozenset("it this that one the her him".split())
_NEW = frozenset(("new", "brand", "up"))
_NUMBERS = frozenset("one two three four five six".split())


def start(c: Context) -> Iterator[Draft]:
    """A starting verb with a word for a bin, or with a bin that the set-up has not got."""
    known = {b.name for b in c.sketch.setup}
    for v in c.here("verb"):
        if act_of(c, v) != "start" or denied(c, v.start):
            continue
        name, end = _new_bin(c, v)
        fresh = c.clause.bin is not None and c.clause.bin not in known
        if name is None and not (fresh and _POINTING & set(c.words[v.start : v.end + 4])):
            continue
        spend(c, v)
        name = _called(c, end) or name
        if name and name not in known:
            _goes_on(c, name)
        yield Draft("start", v.start, max(end, v.end), c.clause, where=((name, None),) if name else None)
        return


def _called(c: Context, begin: int) -> str | None:
    """ "... so call this one the cooler": the name given to the new bin."""
    for i in range(begin, min(begin + 25, len(c.words) - 2)):
        if c.words[i] not in _CALLING:
            continue
        j = i + 1
        while c.word(j) in _CALLED:
            j += 1
        k = j
        while c.finder.plain(k) and k < j + 3:
            k += 1
        return " ".join(c.words[j:k]) or None
    return None


def _goes_on(c: Context, name: str) -> None:
    """What is told next is told of the new bin, until another place is named."""
    c.clause.where = ((name, None),)
    for clause in c.sketch.clauses[c.index + 1 :]:
        if clause.places:
            break
        clause.where = ((name, None),)


def _new_bin(c: Context, v: Mention) -> tuple[str | None, int]:
    """The bin that is started: words up to a word for a bin, less the article."""
    for m in c.here("binnoun"):
        if not 0 <= m.start - v.end <= 5:
            continue
        begin = v.end
        while begin < m.start and _before_the_name(c, begin):
            begin += 1
        numbered = c.word(m.end).isdigit() or c.word(m.end) in _NUMBERS
        end = m.end + numbered
        words = c.words[begin:end]
        if any(c.vocabulary.role(w, "copula", "aux", "subject", "prep") for w in words):
            continue
        known = next((p.bin for p in c.clause.places if p.start <= m.start < p.end and p.bin), None)
        return known or " ".join(words), end
    return None, v.end


def _before_the_name(c: Context, i: int) -> bool:
    """ "started up a brand new | tote": words that belong to no name."""
    return c.vocabulary.role(c.words[i], "det", "adverb", "prep") or c.words[i] in _NEW
