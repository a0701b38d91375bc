"""What a clause says of something told before it: "laid them on top", "another two handfuls"."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import PUT_IN, draft_of
from assistant.reading.kinds.figures import MASSES, VOLUMES
from assistant.reading.kinds.governing import act_of, kind_of
from assistant.reading.sketch import Clause, Mention

POINTING = frozenset("it them those that him her em 'em these".split())

_OWN_OBJECT = frozenset("it them that those this em".split())


def clause_before(c: Context) -> Clause | None:
    """The clause before this one, None where this is the note's first."""
    return c.sketch.clauses[c.index - 1] if c.index else None


def lately(c: Context, draft: Draft, clauses: int) -> bool:
    """Whether a draft was told in this clause or one of the few before it."""
    return draft.clause.start >= c.sketch.clauses[max(0, c.index - clauses)].start


def fronted(c: Context, verb: Mention) -> Draft | None:
    """ "that grain | I put in Thursday": the thing ends the clause before, and nothing was said of it yet."""
    before = clause_before(c)
    if before is None or c.items or not c.vocabulary.role(c.word(verb.start - 1), "subject"):
        return None
    if c.clause.start > before.end or before.stance != "done" or c.word(verb.end) in _OWN_OBJECT:
        return None
    if not any(m.end == before.end for m in c.sketch.within("thing", before.start, before.end)):
        return None
    if any(d.clause is before and d.end == before.end for d in c.drafts):
        return None
    item = c.finder.of(before, [], False)[-1]
    kind, _ = kind_of(c, act_of(c, verb), item)
    if kind is None:
        return None
    draft = draft_of(c, kind, item)
    draft.end, draft.state = verb.end, "done"
    span = next((a for a in c.unused() if draft.amount is None and a.unit in MASSES | VOLUMES), None)
    if span is not None:  # "the pellets | I gave them Monday, a whole bucket"
        c.use(span)
        draft.amount, draft.end = quantity(span), span.end
    return draft


def put_in_after_all(c: Context, verb: Mention) -> bool:
    """ "ripped up two sacks and laid them on top": the draft of what was made ready becomes a putting in."""
    last = c.drafts[-1] if c.drafts else None
    if (
        last is None
        or last.kind not in ("prepare", "remove")
        or not lately(c, last, 1 + (last.kind == "prepare"))
    ):
        return False
    if not c.has(POINTING, verb.end, verb.end + 2) or denied(c, verb.start):
        return False
    things = c.sketch.within("thing", last.start, last.end + 1)
    topics = {c.vocabulary.topic(t) for m in things for t in m.value}
    kind = next((PUT_IN[t] for t in ("bedding", "food", "amendment") if t in topics), "bed")
    if last.kind == "remove" and topics.isdisjoint(("bedding", "amendment")):
        return False
    last.kind = kind
    return True
