"""Days that come again: "every Tuesday and Saturday", "every other day", "tuesdays", "daily"."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from assistant.reading import calendar as cal
from assistant.reading.calendar import WEEKDAYS
from assistant.reading.dayterms import PARTS, skip_part
from assistant.reading.meant import Meant, single
from assistant.reading.offsets import length
from assistant.reading.periods import GRAINS
from assistant.reading.tokens import at


def recurring(atoms: Sequence[str], i: int, today: date) -> Meant | None:
    """ "every Tuesday and Saturday", "every other day", "each week", "tuesdays", "daily"."""
    word = atoms[i]
    if word in ("daily", "weekly", "monthly", "fortnightly"):
        return Meant(i + 1, recurring=True)
    if word not in ("every", "each"):
        number = WEEKDAYS.get(word.removesuffix("s"), -1)
        return Meant(_listed(atoms, i + 1), coming=single(cal.next_weekday(today, number)), recurring=True)
    j = i + 2 if at(atoms, i + 1) in ("other", "second", "single", "third") else i + 1
    number = WEEKDAYS.get(at(atoms, j), -1)
    if number >= 0:
        return Meant(_listed(atoms, j + 1), coming=single(cal.next_weekday(today, number)), recurring=True)
    if at(atoms, j) in PARTS or at(atoms, j) in ("day", "night", *GRAINS, "fortnight"):
        return Meant(j + 1, recurring=True)
    span = length(atoms, j) if word == "every" else None
    return Meant(span.end, recurring=True) if span and span.unit != "second" else None


def _listed(atoms: Sequence[str], i: int) -> int:
    """Past further weekdays: "and Saturday", ", thursdays"."""
    while at(atoms, i) in ("and", ",", "&") and at(atoms, i + 1).removesuffix("s") in WEEKDAYS:
        i += 2
    return skip_part(atoms, i)
