"""Things that the lexicon has not got, put in by their frame: "crumbled a stale scone over it"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.denials import state_at
from assistant.reading.kinds.governing import act_of, of_another
from assistant.reading.sketch import Mention

_PUTTING = frozenset("add feed mixin give".split())
_SETTING = frozenset("put set lay laid place placed stick stuck stand stood slide slid slip slipped".split())
"""Words of putting that are said of tools and furniture as often as of food."""
_NO_NAME = frozenset("stuff thing things one ones lot time".split())
_PAST = frozenset("in on down them it em 'em my lot the worms just also".split())
_NEW = frozenset(("a", "an", "some", "another"))
_KNOWN_ONE = frozenset(("the", "that", "this", "those", "my", "our"))
_LEAVINGS = frozenset("leftover last rest remaining remains old stale".split())
_AFTER = frozenset("in into under on onto over to across down for and with , too as along near by at".split())
_LONGEST = 3  # words of a name
_NO_FOOD = ("instrument", "room", "place", "tiernoun", "binnoun", "worms", "light", "spot", "thing", "tier")


def strange(c: Context) -> Iterator[Draft]:
    """The unknown thing behind a verb of putting in: taken for a food, with a doubt."""
    for verb in c.here("verb"):
        if act_of(c, verb) not in _PUTTING or verb.start in c.clause.used or of_another(c, verb):
            continue
        if c.words[verb.start] in _SETTING or (act_of(c, verb) == "give" and c.word(verb.end) == "it"):
            continue
        draft = _behind(c, verb)
        if draft is not None:
            yield draft


def _behind(c: Context, verb: Mention) -> Draft | None:
    """ "gave them | a scone", "dropped in | two samosas", "tucked | the leftover biryani" under the paper."""
    i = verb.end
    while i < c.clause.end and c.words[i] in _PAST and not (c.words[i] == "the" and c.word(i + 1) != "worms"):
        i += 1
    span = next((a for a in c.unused() if a.start == i and a.unit is None and not a.currency), None)
    start = _past_article(c, i, span)
    if start is None:
        return None
    start = _past_condition(c, start)
    end = start
    while end < c.clause.end and c.finder.plain(end):
        end += 1
    if not _may_be_food(c, start, end):
        return None
    name = " ".join(c.words[start:end])
    draft = Draft("feed", verb.start, end, c.clause, state_at(c, verb.start), name)
    draft.doubts = (f"'{name}' is not in the lexicon",)
    if draft.state == "done":
        draft.amount = quantity(span or _one(c, i, end))
    return draft


def _past_article(c: Context, i: int, span: AmountSpan | None) -> int | None:
    """Where the words behind an article or a count begin; None where nothing new is told of."""
    if span is not None:
        return span.end
    if c.word(i) in _NEW:
        return i + 1
    known = c.word(i) in _KNOWN_ONE and c.word(i + 1) in _LEAVINGS
    return i + 1 if known else None


def _past_condition(c: Context, i: int) -> int:
    """Past words for the state of a food, which are no part of its name: "stale", "leftover"."""
    while i < c.clause.end and (c.words[i] in c.vocabulary.conditions or c.words[i] == "of"):
        i += 1
    return i


def _may_be_food(c: Context, start: int, end: int) -> bool:
    """Whether the words are a name of their own, and nothing that a note may put down beside a bin."""
    if not 0 < end - start <= _LONGEST or len(c.words[end - 1]) < 3 or c.words[end - 1] in _NO_NAME:
        return False
    if c.words[end - 1] in c.vocabulary.vague or c.words[end - 1] in c.vocabulary.measured:
        return False
    if end < c.clause.end and c.words[end] not in _AFTER and not c.vocabulary.role(c.words[end], "adverb"):
        return False
    covered = (c.sketch.covering(layer, i) for layer in _NO_FOOD for i in range(start, end))
    return not any(m is not None for m in covered)


def _one(c: Context, i: int, end: int) -> AmountSpan | None:
    """ "a scone": one piece."""
    single = c.word(i) in ("a", "an") and not c.words[end - 1].endswith("s")
    return AmountSpan(i, i + 1, 1, 1, 1, None) if single else None
