"""How long a question takes over 100,000 entries, once everything is warm. Run by hand:

    python -m tests.bench.answers [entries]

Prints the slowest questions and the median, in milliseconds of processor time, and what warming takes.
The goal is 50 ms.
"""

from __future__ import annotations

import random
import sys
from datetime import date, datetime, timedelta
from statistics import median
from time import perf_counter, process_time

from assistant.answers import Facts, ask
from assistant.reading import Reader
from assistant.records import Amount, Bin, Entry, Price, Record
from lexicon import load

QUESTIONS = """
What did I do last week?
When did I last feed the bottom tray of bin 3?
Where did I put the pumpkin?
Which bin did I turn last?
How much have I put in each bin since New Year?
What's the grand total of scraps kept out of the trash?
How much did I feed in pounds this year?
How many worms have I sold or given away?
How many times did I open bin 4?
How wet was the top tray of bin 2 before I added the cardboard?
Is it drying out?
Is bin 1 doing better than bin 2?
Which tray is the wettest?
What's due today?
When's the next grit?
How many worms have I got?
How long can I leave them?
How much coffee is in there by now?
What haven't I looked at in the last ten days?
Should I feed or wait?
Why did the gnats come back?
How often do I feed bin 1?
Did I feed bin 5 yesterday?
How much dragon fruit have I fed?
What have I made?
"""
KINDS = {
    "feed": 40,
    "bed": 12,
    "moisture": 14,
    "sighting": 10,
    "water": 6,
    "temperature": 6,
    "turn": 3,
    "drain": 2,
    "amend": 2,
    "leftover": 2,
    "harvest": 1,
    "sell": 1,
    "worm_estimate": 1,
}
ITEMS = {
    "feed": ("coffee grounds", "melon rind", "kale", "pumpkin", "banana peel", "lettuce"),
    "bed": ("cardboard", "shredded newspaper", "coconut coir"),
    "sighting": ("fungus gnats", "mites", "cocoons", "juvenile worms"),
    "temperature": ("bed",),
    "amend": ("grit", "eggshell"),
    "harvest": ("castings",),
    "sell": ("worms", "castings"),
    "worm_estimate": ("worms",),
    "leftover": ("pumpkin", "kale"),
    "water": ("water",),
    "drain": ("leachate",),
}
UNITS = ("cup", "lb", "handful", "piece")


def many(count: int, now: date) -> list[Entry]:
    """An invented log of `count` entries over some years, the same each time."""
    dice = random.Random(7)
    kinds = dice.choices(list(KINDS), list(KINDS.values()), k=count)
    return [_entry(i, kind, now - timedelta(days=(count - i) // 60), dice) for i, kind in enumerate(kinds)]


def _entry(number: int, kind: str, day: date, dice: random.Random) -> Entry:
    items = ITEMS.get(kind)
    level = float(dice.randint(1, 5)) if kind in ("moisture", "sighting") else None
    amount = None
    if kind == "temperature":
        amount = Amount.exactly(dice.randint(55, 80), "degF")
    elif kind in ("worm_estimate", "sell"):
        amount = Amount.exactly(dice.randint(10, 900), "piece")
    elif items and level is None and dice.random() < 0.8:
        amount = Amount.exactly(dice.randint(1, 6), dice.choice(UNITS if kind == "feed" else UNITS[:3]))
    record = Record(
        kind,
        "done",
        f"bin {dice.randint(1, 8)}",
        dice.randint(1, 3),
        item=dice.choice(items) if items else None,
        amount=amount,
        level=level,
        price=Price(10.0) if kind == "sell" else None,
        when=day.isoformat(),
    )
    return Entry(f"e{number}", f"n{number // 8}", f"{day}T10:00:00", record)


def main(count: int) -> None:
    """Warm up, then ask every question three times and keep the best."""
    now = datetime(2026, 3, 25, 9, 0)
    entries = many(count, now.date())
    reader, lexicon = Reader(), load()
    facts = Facts(entries, tuple(Bin(f"bin {i}", 3) for i in range(1, 9)), now, lexicon)
    start = perf_counter()
    facts.due  # noqa: B018
    for question in QUESTIONS.split("\n"):
        ask(question, facts, reader)
    print(f"warm after {perf_counter() - start:.1f} s: {count} entries")
    times = []
    for question in filter(None, QUESTIONS.split("\n")):
        runs = []
        for _ in range(3):
            start = process_time()
            ask(question, facts, reader)
            runs.append((process_time() - start) * 1000)
        times.append((min(runs), question))
    for taken, question in sorted(times, reverse=True)[:12]:
        print(f"{taken:7.1f} ms  {question}")
    print(f"{median(taken for taken, _ in times):7.1f} ms  median of {len(times)} questions")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
