"""Things named first and put in after: "I've got a cup of peels here and some oats, so that all goes in"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.items import readable
from assistant.reading.kinds.away import thrown_away
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import PUT_IN, draft_of
from assistant.reading.kinds.governing import act_of
from assistant.reading.sketch import Clause, Item, Mention

_ACTS = frozenset("add give feed mixin mix pour scoop went cover dig bed".split())
_GIVEN_TO = frozenset(("give", "feed", "water"))
_THE_WORMS = frozenset(("them", "em", "'em", "it"))
_POINTING = frozenset("it them em 'em that those this these".split())
_FILLING = frozenset("all of just both also 's 're is are then now".split())
_SHOWN = frozenset("have get see other prepare take bring buy pickup need".split())
_PUT_IN_TOPICS = frozenset(("food", "bedding", "amendment", "unknown"))
_NEW = frozenset("a an some this these my got have more few couple of".split())
_OLD = frozenset("the that those like than blame".split())
_REACH = 4
"""How many clauses back a thing may have been named."""


def named_before(c: Context) -> Iterator[Draft]:
    """Drafts for what the few clauses before only named, and this one puts in."""
    verb = next((v for v in c.here("verb") if act_of(c, v) in _ACTS and _points(c, v)), None)
    if verb is None or denied(c, verb.start) or thrown_away(c, verb.end) or c.unused():
        return
    if any(not _PUT_IN_TOPICS.isdisjoint(i.topics) for i in c.items):
        return
    told = False
    for clause in reversed(c.sketch.clauses[max(0, c.index - _REACH) : c.index]):
        named = _only_named(c, clause)
        for item in named:
            kind = next(PUT_IN[t] for t in item.topics if t in PUT_IN)
            draft = draft_of(c, kind, item)
            draft.clause = c.clause
            yield draft
        if (told and not named) or any(
            d.clause is clause and d.kind not in PUT_IN.values() for d in c.drafts
        ):
            return
        told = told or bool(named)


def _points(c: Context, verb: Mention) -> bool:
    """Whether the verb takes what was named before: "spread that", "they all go in"; "feed them" does not."""
    i = verb.end
    while c.word(i) in _FILLING:
        i += 1
    given = verb.value in _GIVEN_TO
    if given and c.word(i) in _THE_WORMS:
        i += 1
    if i < c.clause.end and c.word(i) in _POINTING:
        return not (given and c.word(i) in _THE_WORMS)
    if verb.value != "went" or c.words[verb.start] == "gone":
        return False
    j = verb.start - 1
    while j > c.clause.start and (c.word(j) in _FILLING or c.vocabulary.role(c.word(j), "aux", "adverb")):
        j -= 1
    return c.word(j) in _POINTING | {"they", "all"}


def _only_named(c: Context, clause: Clause) -> list[Item]:
    """The things of a clause that only shows them, and that no record speaks of."""
    acts = {v.value for v in c.sketch.within("verb", clause.start, clause.end)}
    if clause.stance != "done" or acts - _SHOWN:
        return []
    told = [d for d in c.drafts if d.clause is clause]
    return [
        item
        for item in c.finder.of(clause, readable(c.sketch.amounts, clause), False)
        if item.topic in ("food", "bedding", "amendment")
        and _shown(c, item)
        and not any(d.start < item.end and item.start < d.end for d in told)
    ]


def _shown(c: Context, item: Item) -> bool:
    """Whether a thing is new to the talk: "some oats", "this melon"; not "the melon", "like tobacco"."""
    if item.amount is not None:
        return True
    before = set(c.words[max(0, item.start - 3) : item.start])
    return bool(_NEW & before) and not _OLD & before
