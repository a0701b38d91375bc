"""Everything that is due: plans first, then one check after another. A new check is a function in CHECKS."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from assistant.balance.fold import fold, in_time_order
from assistant.balance.state import Balances
from assistant.outlook import condition, pace
from assistant.outlook.plans import plans, promised
from assistant.outlook.view import Check, Due, View
from assistant.records import Entry, SetUp
from lexicon import Lexicon

CHECKS: tuple[Check, ...] = (
    condition.temperature,
    condition.moisture,
    condition.acidity,
    condition.pests,
    condition.slow_food,
    condition.ripe,
    pace.unfed,
    pace.overfed,
    pace.unbedded,
    pace.undrained,
    pace.unseen,
)


def due(
    entries: Iterable[Entry], setup: SetUp, now: date, lexicon: Lexicon, books: Balances | None = None
) -> list[Due]:
    """What asks for the keeper on the day `now`, by day, what has none last.

    `books`, where given, are the balances of the same entries on that day; they are folded anew otherwise.
    """
    ordered = in_time_order(entries)
    books = books or fold(ordered, setup, now, lexicon)
    found = list(plans(ordered, books))
    meant = promised(ordered, books)
    for name, bin_ in books.bins.items():
        if name is None:
            continue
        view = View(books, bin_, now.toordinal(), _ruled_out(ordered, name), meant.get(name, frozenset()))
        found += [one for check in CHECKS for one in check(view)]
    return sorted(dict.fromkeys(found), key=lambda one: (one.day is None, one.day or ""))


def _ruled_out(entries: Iterable[Entry], name: str) -> dict[str, int]:
    """The last day on which each kind was ruled out for a bin: a choice, not something forgotten."""
    days: dict[str, int] = {}
    for entry in entries:
        if entry.record.state == "ruled_out" and entry.record.bin == name:
            day = date.fromisoformat(entry.day).toordinal()
            days[entry.record.kind] = max(day, days.get(entry.record.kind, 0))
    return days
