"""Things shown first and then put in: "I've got these beet skins | I'll poke them down into the corners"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.items import readable
from assistant.reading.kinds.before import POINTING
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import PUT_IN, draft_of
from assistant.reading.kinds.governing import act_of
from assistant.reading.sketch import Clause, Item, Mention

_PUTTING = frozenset("add mixin dig pour scoop went".split())
_SHOWING = frozenset("have get bring".split())
_HERE = (["here", "'s"], ["here", "are"], ["here", "is"], ["this", "is"], ["these", "are"])
_OURS = frozenset(("i", "we"))
_POINTING = POINTING | {"they", "this", "all"}
_THERE_ALREADY = frozenset("still left remains leftover from".split())
_REACH = 2  # clauses


def shown(c: Context) -> Iterator[Draft]:
    """What was only shown in the clause or two before, put in by this one."""
    verb = next((v for v in c.here("verb") if act_of(c, v) in _PUTTING), None)
    if verb is None or denied(c, verb.start) or not _pointed(c, verb) or _own_thing(c, verb):
        return
    for k in range(c.index - 1, max(-1, c.index - 1 - _REACH), -1):
        items = _only_shown(c, c.sketch.clauses[k])
        if items:
            for item in items:
                yield _draft(c, item)
            return


def _pointed(c: Context, verb: Mention) -> bool:
    """ "tuck them in", "in they go", "all of that is going in"."""
    near = c.words[max(c.clause.start, verb.start - 5) : verb.start] if verb.value == "went" else ()
    return not _POINTING.isdisjoint(near) or c.has(POINTING, verb.end, verb.end + 2)


def _own_thing(c: Context, verb: Mention) -> bool:
    """Whether the verb takes something named in its own clause."""
    return any(not set(i.topics).isdisjoint(PUT_IN) and i.amount is not None for i in c.items)


def _only_shown(c: Context, clause: Clause) -> list[Item]:
    """The things that a clause before shows and says nothing more of."""
    told = [d for d in c.drafts if d.clause is clause]
    if clause.stance != "done" or any(d.kind not in PUT_IN.values() for d in told):
        return []
    verbs = {v.value for v in c.sketch.within("verb", clause.start, clause.end)}
    words = c.words[clause.start : clause.end]
    here = any(words[i : i + 2] in _HERE for i in range(3))
    if not verbs <= _SHOWING or not (here or (verbs and not _OURS.isdisjoint(words[:4]))):
        return []
    if not _THERE_ALREADY.isdisjoint(words) or denied(c, clause.end, clause.start):
        return []
    items = c.finder.of(clause, readable(c.sketch.amounts, clause), False)
    new = (i for i in items if not any(d.start < i.end and i.start < d.end for d in told))
    return [i for i in new if i.topic in ("food", "bedding", "amendment")]


def _draft(c: Context, item: Item) -> Draft:
    draft = draft_of(c, PUT_IN[item.topic], item)
    draft.state = "done"
    return draft
