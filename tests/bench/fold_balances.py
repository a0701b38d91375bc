"""How long folding takes: `python tests/bench/fold_balances.py [records]`. Goal: 10,000 records in 300 ms."""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import lexicon
from assistant.balance import Trade, fold_with, rows, table, to_json, with_entry
from assistant.outlook import due
from assistant.records import Amount, Bin, Entry, Record

SETUP = (Bin("cellar stack", 3), Bin("tote", 1))
FOODS = (
    "banana peel",
    "coffee grounds",
    "melon rind",
    "carrot",
    "bread",
    "tea leaves",
    "kale",
    "apple cores",
)
FIRST = date(2024, 1, 1)


def history(count: int, days: int = 700) -> list[Entry]:
    """A made-up log: seven records a check, two bins, over two years."""
    random.seed(1)
    entries: list[Entry] = []
    while len(entries) < count:
        day = (FIRST + timedelta(days=len(entries) * days // count)).isoformat()
        bin_ = random.choice(SETUP)
        tier = random.randint(1, 3) if bin_.tiers > 1 else None
        unit = random.choice(("cup", "handful", "piece", "lb"))
        check: list[dict[str, Any]] = [
            {"kind": "leftover", "item": random.choice(FOODS), "level": random.choice((None, 0, 0.25, 0.5))},
            {"kind": "moisture", "level": random.randint(1, 5)},
            {"kind": "sighting", "item": random.choice(("worms", "mites", "springtails")), "level": 2},
            {
                "kind": "feed",
                "item": random.choice(FOODS),
                "amount": Amount.exactly(random.randint(1, 4), unit),
            },
            {"kind": "feed", "item": random.choice(FOODS)},
            {"kind": "bed", "item": "shredded cardboard", "amount": Amount.exactly(2, "handful")},
            {"kind": "temperature", "item": "bed", "amount": Amount.exactly(random.randint(60, 80), "degF")},
            {"kind": "harvest", "state": "planned", "item": "castings"},
        ]
        for fields in check[: 8 if random.random() < 0.1 else 7]:
            record = Record(bin=bin_.name, tier=tier, when=day, **fields)
            entries.append(Entry(f"r{len(entries)}", f"n{day}{tier}", f"{day}T10:00:00", record))
    return entries


def timed(what: str, run: Callable[[], Any]) -> Any:
    start, busy = time.perf_counter(), time.process_time()
    result = run()
    passed, worked = (1000 * span for span in (time.perf_counter() - start, time.process_time() - busy))
    print(f"{what:<34}{passed:8.1f} ms, {worked:8.1f} ms of the processor")
    return result


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    words, entries, now = lexicon.load(), history(count), FIRST + timedelta(days=700)
    trade = timed("the trade made ready", lambda: Trade.of(words))
    books = timed(f"fold {count} records", lambda: fold_with(entries, SETUP, now, trade))
    one = Record("feed", bin="tote", item="kale", when=now.isoformat())
    more = Entry("new", "new", f"{now.isoformat()}T11:00:00", one)
    timed("one more record", lambda: with_entry(books, more))
    timed("rows", lambda: rows(books))
    timed("table", lambda: table(books))
    timed("JSON", lambda: to_json(books))
    timed("due, with these balances", lambda: due(entries, SETUP, now, words, books))


if __name__ == "__main__":
    main()
