"""An invented log for the tests: three bins over one winter, a record a line.

A line is `day | kind state? | place | item | figure | more`; a blank place is no bin. See `entries`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from assistant.records import Amount, Bin, Entry, Price, Record

NOW = datetime(2026, 3, 25, 9, 0)  # a Wednesday
SETUP = (
    Bin("tower", 3, ("the stack",), species=("Eisenia fetida",), started="2025-09-06"),
    Bin("tote", 1, species=("Eisenia fetida",)),
    Bin("Euro bin", 1, species=("Dendrobaena veneta",)),
)

LOG = """
2025-09-06 | start            | tower    |                    |              |
2025-09-06 | worms_added      | tower    | red wigglers       | 1 lb         |
2025-10-04 | restack          | tower    | tier               |              | tier=None to=3
2025-11-15 | feed             | tower 1  | pumpkin            | 2 lb         | spot=back left corner
2025-11-15 | buy              |          | coconut coir       | 2 piece      | price=14
2025-12-06 | worm_estimate    | tower    | worms              | 800 piece    |
2025-12-20 | worms_removed    | tower    | indian blues       | 40 piece     |
2025-12-20 | worms_added      | Euro bin | indian blues       | 40 piece     |
2026-01-03 | feed             | tower 1  | coffee grounds     | 2 cup        |
2026-01-03 | feed             | tote     | melon rind         | 3 lb         |
2026-01-10 | sighting         | tote     | fungus gnats       | level 2      |
2026-01-10 | bed              | tote     | shredded cardboard | 3 handful    |
2026-01-17 | sighting         | tower 1  | fungus gnats       | level 1      |
2026-01-17 | sighting         | Euro bin | cocoons            | level 3      |
2026-01-24 | feed             | tower 2  | kale               | 1.5 lb       |
2026-01-24 | feed             | tote     | lettuce            |              |
2026-01-31 | moisture         | tower 2  |                    | level 4      |
2026-01-31 | bed              | tower 2  | cardboard          | 4 handful    |
2026-02-07 | moisture         | tower 2  |                    | level 3      |
2026-02-07 | turn             | tote     |                    |              |
2026-02-07 | drain            | tower    | leachate           | 1.5 pint     |
2026-02-14 | sell             |          | worms              | 30 piece     | price=8
2026-02-14 | give             |          | worms              | 20 piece     |
2026-02-14 | harvest          | tower 3  | castings           | 6 cup        |
2026-02-21 | temperature      | tote     | bed                | 66 degF      |
2026-02-21 | temperature      |          | air                | 61 degF      |
2026-02-21 | feed ruled_out   | Euro bin |                    |              |
2026-02-28 | moisture         | tote     |                    | level 4      |
2026-02-28 | leftover expected| tower 1  | avocado            | level 0      | when=2026-03-10
2026-02-28 | feed             | tower 1  | avocado            | 2 piece      |
2026-03-07 | moisture         | tote     |                    | level 3      |
2026-03-07 | turn             | tower 2  |                    |              |
2026-03-07 | sell             |          | castings           | 4 bag        | price=40
2026-03-12 | leftover         | tower 1  | avocado            | level 0.5    |
2026-03-14 | moisture         | tote     |                    | level 2      |
2026-03-14 | drain            | tower    | leachate           | 1 pint       |
2026-03-14 | give planned     |          | worms              | 100 piece    | when=2026-04-02
2026-03-16 | feed             | tower 3  | coffee grounds     | 1 cup        |
2026-03-16 | feed             | tower 3  | banana peel        | 3 piece      |
2026-03-18 | water            | tote     | water              | 2 cup        |
2026-03-18 | smell            | tote     | earthy             |              |
2026-03-21 | feed             | tote     | coffee grounds     | 1 cup        |
2026-03-21 | check planned    | tote     | moisture           |              | when=2026-03-25
2026-03-23 | feed             | tower 1  | spinach            |              |
2026-03-23 | amend planned    | tower    | grit               |              | when=2026-04-06
"""


def entries(log: str = LOG) -> list[Entry]:
    """The entries of a log; ids are e1, e2, ... by line, notes n<day>."""
    return [_entry(i, line) for i, line in enumerate(log.strip().split("\n"), 1)]


def _entry(number: int, line: str) -> Entry:
    day, kind, place, item, figure, more = (cell.strip() for cell in line.split("|"))
    slots: dict[str, Any] = dict(pair.split("=", 1) for pair in _pairs(more))
    kind, _, state = kind.partition(" ")
    bin_, tier = _place(place)
    level = float(figure.split()[1]) if figure.startswith("level") else None
    amount = None
    if figure and level is None:
        value, unit = figure.split()
        amount = Amount.exactly(float(value), unit)
    state = state or "done"
    record = Record(
        kind,
        state,  # type: ignore[arg-type]
        bin_,
        None if "tier" in slots else tier,
        int(slots["to"]) if "to" in slots else None,
        slots.get("spot"),
        item or None,
        amount,
        level,
        Price(float(slots["price"])) if "price" in slots else None,
        slots.get("when", day if state in ("done", "ruled_out") else None),
        f"{kind} {item}",
    )
    return Entry(f"e{number}", f"n{day}", f"{day}T10:00:00", record)


def _pairs(more: str) -> list[str]:
    """ "spot=back left corner" is one slot; "tier=None to=3" two."""
    return [more] if more.startswith("spot") else more.split()


def _place(place: str) -> tuple[str | None, int | None]:
    head, _, last = place.rpartition(" ")
    return (head, int(last)) if last.isdigit() else (place or None, None)
