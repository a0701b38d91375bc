"""A question in, an answer out: read it, make the query, look up its function, put the answer together."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from assistant.answers import (
    advice,
    compare,
    explaining,
    levels,
    meta,
    mixing,
    recall,
    stocks,
    totals,
    trends,
    unseen,
    upcoming,
    yesno,
)
from assistant.answers.answer import Answer, Found
from assistant.answers.facts import Facts
from assistant.answers.follow import follow, leaning
from assistant.answers.phrases import Heard
from assistant.answers.query import Query
from assistant.answers.understand import understand

if TYPE_CHECKING:
    from assistant.reading import Reader

LONGEST = 2_000
"""Characters of a question that are read; what follows is not a question."""

Want = Callable[[Query, Facts], Found]

LISTS: dict[str, Want] = {
    "due": upcoming.dues,
    "unseen": unseen.unseen,
    "items": recall.items,
    "places": recall.places,
    "lastnote": meta.last_note,
    "changes": meta.changes,
    "nothing": meta.nothing,
}
"""What a list is of -> its function; any other is of records."""


def _list(query: Query, facts: Facts) -> Found:
    return LISTS.get(query.asks, recall.listing)(query, facts)


def _last(query: Query, facts: Facts) -> Found:
    return (recall.source if query.asks == "source" else recall.last)(query, facts)


def _count(query: Query, facts: Facts) -> Found:
    return (meta.bins if query.asks == "bins" else totals.count)(query, facts)


WANTS: dict[str, Want] = {
    "list": _list,
    "count": _count,
    "total": totals.whole,
    "last": _last,
    "first": recall.first,
    "next": upcoming.upcoming,
    "level": levels.level,
    "trend": trends.trend,
    "compare": compare.compare,
    "yes_no": yesno.yes_no,
    "rate": totals.rate,
    "stock": stocks.stock,
    "estimate": stocks.estimate,
    "advise": advice.advise,
    "explain": explaining.explain,
    "mix": mixing.mix,
    "convert": mixing.convert,
}


def ask(question: str, facts: Facts, reader: Reader, before: Query | None = None) -> Answer:
    """The answer to a question. `before` is the query of the one before, for "and the tub?". Never fails."""
    sketch = reader.sketch(question[:LONGEST], facts.bins, facts.now)
    heard = Heard(sketch)
    query = follow(heard, facts, before) if before else None
    if query is None:
        query = understand(sketch, facts, before.bin if before else None)
        query = leaning(query, heard, facts, before) if before else query
    return WANTS[query.want](query, facts).of(question, query)
