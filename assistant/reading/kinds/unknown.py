"""Things that the lexicon has not got, where the verb says what they are: made ready, or taken off a bin."""

from __future__ import annotations

from collections.abc import Container

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.covers import OFF, ON
from assistant.reading.kinds.denials import denied
from assistant.reading.sketch import Mention

_LENGTH = 3  # words of a name
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
    if start == verb.end or end == start:
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
    counted = {a.start for a in c.amounts}
    while end < c.clause.end and end not in counted and c.finder.plain(end) and c.words[end] not in until:
        end += 1
    return start, end


def _draft(c: Context, kind: str, begin: int, start: int, end: int) -> Draft:
    name = " ".join(c.words[start:end])
    return Draft(kind, begin, end, c.clause, item=name, doubts=(f"'{name}' is not in the lexicon",))
