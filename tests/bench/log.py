"""How long the log takes, beside stock TinyDB with its JSONStorage, on the same documents in the same run.

    python -m tests.bench.log [RECORDS…]      (1,000 and 100,000 unless told; the last takes a minute or two)

Run it in the folder of the project.
"""

from __future__ import annotations

import gc
import json
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from tinydb import TinyDB, where

from assistant.log import Log
from assistant.records import Amount, Record

RECORDS_A_NOTE = 10
ITEMS = ("melon rind", "shredded cardboard", "worms", "coffee grounds", "kale")
KINDS = ("feed", "bed", "sighting", "moisture", "water")


def records(note: int) -> list[Record]:
    """Ten records of one note, three notes a day."""
    when = (date(2015, 1, 1) + timedelta(days=note // 3)).isoformat()
    text = "two cups of melon rind on the left"
    return [
        Record(
            KINDS[(note + place) % len(KINDS)],
            bin=f"bin {note % 4}",
            tier=place % 3 + 1,
            item=ITEMS[(note + place) % len(ITEMS)],
            amount=Amount(1.5, 2, 2.5, "cup"),
            when=when,
            text=text,
            start=place * len(text),
            end=(place + 1) * len(text),
        )
        for place in range(RECORDS_A_NOTE)
    ]


def keep(log: Log, number: int) -> None:
    """Acknowledge one note of ten records."""
    made = records(number)
    log.keep(log.new_note(" ".join(record.text for record in made), f"{made[0].when}T10:00"), made)


def times(work: Callable[[int], Any], count: int) -> list[float]:
    """Milliseconds of each of `count` calls, sorted."""
    taken = []
    for number in range(count):
        start = time.perf_counter()
        work(number)
        taken.append((time.perf_counter() - start) * 1000)
    return sorted(taken)


def acknowledged(log: Log, first: int, folder: Path) -> tuple[list[float], list[float], float]:
    """Milliseconds of 300 notes kept, of as many bare fsyncs of as much between them, and the median of the
    processor's own for a note; all but the last sorted."""
    ours, bare, busy = [], [], []
    said = b"x" * 3_600  # about what one note of ten records adds to the journal
    with (folder / "bare").open("ab", buffering=0) as beside:
        for number in range(first, first + 300):
            start = time.process_time()
            ours += times(lambda _, number=number: keep(log, number), 1)  # type: ignore[misc]
            busy.append((time.process_time() - start) * 1000)
            bare += times(lambda _: (beside.write(said), os.fsync(beside.fileno())), 1)
    return sorted(ours), sorted(bare), statistics.median(busy)


def row(name: str, ours: list[float], stock: list[float]) -> None:
    """One line of the table: medians, our 99th percentile, and how many times stock takes."""
    mine, other = statistics.median(ours), statistics.median(stock)
    worst = ours[min(len(ours) - 1, len(ours) * 99 // 100)]
    print(f"  {name:<34}{mine:>10.3f} ms (p99 {worst:8.3f}){other:>12.3f} ms{other / mine:>10.1f}x")


def filled(notes: int, folder: Path) -> Path:
    """A log of so many notes in the folder; the same documents in a file of stock TinyDB, which it gives."""
    with Log.open(folder / "log") as log:
        for number in range(notes):
            keep(log, number)
        documents = [dict(document) for document in log.table]
    stock_file = folder / "stock.json"
    stock_file.write_text(json.dumps({"_default": {str(n): one for n, one in enumerate(documents, 1)}}))
    return stock_file


def measure(count: int, folder: Path) -> float:
    """Fill both with `count` records and time what a keeper waits for; the processor's time for a note."""
    notes = count // RECORDS_A_NOTE
    stock_file = filled(notes, folder)
    gc.collect()

    print(f"{count:,} records")
    many = 3 if count > 10_000 else 20
    opened: list[Any] = []

    def reopen(open_: Callable[[], Any]) -> None:
        opened.clear()
        opened.append(open_())

    ours_open = times(lambda _: reopen(lambda: Log.open(folder / "log")), many)
    log: Log = opened.pop()
    ours_keep, bare, busy = acknowledged(log, notes, folder)
    day = (date(2015, 1, 1) + timedelta(days=notes // 6)).isoformat()
    log.entries(kind="feed")  # builds the indexes, once
    ours_find = times(lambda _: log.entries(bin="bin 2", kind="feed", first=day, last=day), 300)
    query = (where("bin") == "bin 2") & (where("kind") == "feed") & (where("when") == day)
    log.table.search(query)  # makes the documents, once

    def scan(_: int) -> None:
        log.table.clear_cache()
        log.table.search(query)

    ours_scan = times(scan, many)
    log.close()
    gc.collect()

    stock_open = times(lambda _: reopen(lambda: len(TinyDB(stock_file))), many)
    stock = TinyDB(stock_file)
    stock_find = times(lambda _: (stock.clear_cache(), stock.search(query)), many)
    stock_keep = times(
        lambda number: stock.insert_multiple(one.to_json() for one in records(notes + number)), many
    )
    stock.close()
    print(f"  {'':<34}{'log':>13}{'stock':>31}{'stock/log':>13}")
    row("one note of ten, acknowledged", ours_keep, stock_keep)
    p99 = len(bare) * 99 // 100
    print(
        f"  {'beyond a bare fsync':<34}{statistics.median(ours_keep) - statistics.median(bare):>10.3f} ms "
        f"(p99 {ours_keep[p99] - bare[p99]:8.3f}), {busy:.3f} ms of the processor"
    )
    row("opening", ours_open, stock_open)
    row("a look-up by bin, kind and day", ours_find, stock_find)
    row("the same as a TinyDB query", ours_scan, stock_find)
    return busy


def main(sizes: list[int]) -> None:
    """Measure each size in a folder of its own."""
    busy = []
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            busy.append(measure(size, Path(folder)))
    print(f"one note costs the processor {busy[-1] / busy[0]:.2f} times as much in the last as in the first")


if __name__ == "__main__":
    main([int(size.replace(",", "")) for size in sys.argv[1:]] or [1_000, 100_000])
