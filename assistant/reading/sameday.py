"""One day for acts told in one breath: "yesterday I took out the bread, added shell and turned it"."""

from __future__ import annotations

from assistant.reading.days import DaySpan
from assistant.reading.sketch import Clause, Sketch
from assistant.reading.verbforms import past
from assistant.reading.vocabulary import Vocabulary

_ENDS = frozenset((".", "!", "?", ";", "\n", "\n\n"))
_LINKING = frozenset(("and", "then", "&", "+", ","))


def same_day(sketch: Sketch, vocabulary: Vocabulary, clause: Clause, before: Clause | None) -> list[DaySpan]:
    """The day of the clause before, where this one goes on with another act of the same sentence."""
    if before is None or before.stance != "done" or len(before.days) != 1 or before.beside:
        return []
    day, i = before.days[0], clause.start
    if day.past is None or day.recurring or _ENDS & set(sketch.words[before.end : clause.start]):
        return []
    while i < clause.end and sketch.words[i] in _LINKING:
        i += 1
    acted = sketch.starting("verb", i) is not None and past(vocabulary, sketch.words[i])
    return before.days if acted else []
