"""A look to be taken. A look taken gives nothing by itself: what was seen does."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import spend
from assistant.reading.sketch import Mention

_LOOKING = frozenset(("check", "count", "weigh", "measureact"))
_SEE_IF = frozenset(("if", "how", "whether", "what"))
_LOOKED_AT = frozenset(
    "moisture temperature temp ph drawstring lid weight level drain tap trap traps sump mold smell".split()
)


def check(c: Context) -> Iterator[Draft]:
    """A look that is planned, at a thing or at a part of the bin."""
    if c.clause.stance != "planned":
        return
    for v in c.here("verb"):
        if v.value not in _LOOKING and not (v.value == "see" and c.word(v.end) in _SEE_IF):
            continue
        item = next((i for i in c.free() if i.start >= v.end), None)
        if item:
            c.taken.add(item.start)
        spend(c, v)
        name, end = (item.name, item.end) if item else (_looked_at(c, v), v.end)
        yield Draft("check", v.start, end, c.clause, item=name)
        return


def _looked_at(c: Context, v: Mention) -> str | None:
    """ "check the lid": the part or reading that is to be looked at."""
    word = next((w for w in c.words[v.end : c.clause.end] if w in _LOOKED_AT), None)
    return "temperature" if word == "temp" else word
