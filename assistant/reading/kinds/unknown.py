"""Things that the lexicon has not got, where the verb says what they are: made ready, or taken off a bin."""

from __future__ import annotations

from collections.abc import Container

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.covers import OFF, ON
from assistant.reading.kinds.denials import denied
from assistant.reading.sketch import Mention

_SIZES = frozenset("small smaller fine finer finely roughly well".split())
_LENGTH = 3  # words of a name
_TO_LOOK = ("take", "took", "taking", "lift")
"""What is taken out only to look at it, or is a person's time: too often no part of the bin."""
_OF_THE_BIN = ("tiernoun", "binnoun", "instrument", "mark", "verb")
_NOT_BOUGHT = frozenset("time attention lunch groceries shopping house car".split())


def made_ready(c: Context, verb: Mention) -> Draft | None:
    """ "tomorrow I gotta rip up some boxes": what is made ready, known to the lexicon or not."""
    if denied(c, verb.start) or any(i.start >= verb.end and c.word(i.start - 1) != "for" for i in c.items):
        return None
    if not _told_for_itself(c, verb):
        return None
    begin = verb.end + (c.word(verb.end) in ("up", "down"))
    span = next((a for a in c.unused() if a.start == begin and not a.currency), None)
    begin = span.end if span else begin
    start, end = _phrase(c, begin, ("more", "old"), ())
    end = min(end, start + _LENGTH)
    if start == verb.end or end == start or c.words[start] in _SIZES:
        return None
    draft = _draft(c, "prepare", verb.start, start, end)
    draft.amount = quantity(span)
    return draft


def _told_for_itself(c: Context, verb: Mention) -> bool:
    """ "I ripped up", "Monday shredded": not "the shredded"."""
    before = c.word(verb.start - 1)
    if verb.start == c.clause.start or any(d.end == verb.start for d in c.clause.days):
        return True
    return c.vocabulary.role(before, "subject", "aux", "adverb") or before in ("to", "ta", "na", "will")


def bought(c: Context, verb: Mention) -> Draft | None:
    """ "bought a new thermometer": what is bought, known to the lexicon or not."""
    if denied(c, verb.start):
        return None
    span = next((a for a in c.unused() if a.start == verb.end and not a.currency), None)
    start, end = _phrase(c, span.end if span else verb.end, ("more", "new", "another", "proper", "some"), ())
    if end == start or c.word(start) in _NOT_BOUGHT:
        return None
    draft = _draft(c, "buy", verb.start, start, min(end, start + _LENGTH))
    draft.amount = quantity(span)
    return draft


def removed(c: Context, verb: Mention) -> Draft | None:
    """ "picked the stickers out", "the marble has been removed": what is taken out, known or not."""
    elsewhere = c.words[verb.end - 1] == "off"  # "skimmed off the aquarium"
    if denied(c, verb.start) or elsewhere or c.words[verb.start].startswith(_TO_LOOK):
        return None
    span = next((a for a in c.unused() if a.start == verb.end and a.unit is None), None)
    begin = span.end if span else verb.end
    start, end = _phrase(c, begin, ("old", "last", "other"), ("out", "off"))
    if end == start:
        start, end = _subject(c, verb)
    if not start > c.clause.start or end - start > _LENGTH or end == start:
        return None
    if span is None and not c.vocabulary.role(c.word(start - 1), "det"):
        return None
    if any(c.sketch.within(layer, start, end) for layer in _OF_THE_BIN):
        return None
    draft = _draft(c, "remove", min(verb.start, start), start, end)
    told = span or next((a for a in c.unused() if a.unit and end <= a.start <= end + 2), None)
    if told is not None:
        c.use(told)
    draft.amount, draft.end = quantity(told), max(end, verb.end, told.end if told else 0)
    return draft


def _subject(c: Context, verb: Mention) -> tuple[int, int]:
    """ "the marble | has been removed": where the words before a passive start and end."""
    end = verb.start
    while end > c.clause.start and c.vocabulary.role(c.words[end - 1], "copula", "aux", "adverb"):
        end -= 1
    if end == verb.start:
        return end, end
    for start in range(c.clause.start, end):
        if c.vocabulary.role(c.words[start], "det"):
            first, last = _phrase(c, start, (), ())
            return (first, last) if last == end else (end, end)
    return end, end


def covered(c: Context, verb: Mention) -> Draft | None:
    """ "laid an old door across": what is put over a bin is a cover, known or not."""
    if denied(c, verb.start):
        return None
    start, end = _phrase(c, verb.end, ("old",), ("over", "across"))
    if start == verb.end or end == start or end - start > _LENGTH or c.word(end) not in ("over", "across"):
        return None
    draft = _draft(c, "cover", verb.start, start, end)
    draft.end, draft.level = end + 1, ON
    return draft


def uncovered(c: Context, verb: Mention) -> Draft | None:
    """ "took the sack off": what is taken off a bin is a cover, known or not."""
    start, end = _phrase(c, verb.end, (), ("off", "tray"))
    if start == verb.end or end == start or c.word(end) != "off":
        return None
    if c.word(end + 1) not in ("", ".", "and", "again", "today"):
        return None
    draft = _draft(c, "cover", verb.start, start, end)
    draft.end, draft.level = end + 1, OFF
    return draft


def _phrase(c: Context, begin: int, skipped: Container[str], until: Container[str]) -> tuple[int, int]:
    """Where the plain words of a noun phrase start and end, behind articles and words to be skipped."""
    start = begin
    while start < c.clause.end and (c.vocabulary.role(c.words[start], "det") or c.words[start] in skipped):
        start += 1
    end = start
    counted = {a.start for a in c.amounts} | {d.start for d in c.clause.days}
    while end < c.clause.end and end not in counted and c.finder.plain(end) and c.words[end] not in until:
        end += 1
    return start, end


def _draft(c: Context, kind: str, begin: int, start: int, end: int) -> Draft:
    name = " ".join(c.words[start:end])
    return Draft(kind, begin, end, c.clause, item=name, doubts=(f"'{name}' is not in the lexicon",))
