"""The table of entries answers as a stock TinyDB does that holds the same documents."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from filled import NOW, clock, fill
from simdisk import SimDisk
from tinydb import Query, TinyDB, where
from tinydb.queries import QueryInstance
from tinydb.storages import MemoryStorage

from assistant.errors import LogError
from assistant.log import Log
from assistant.records import Amount, Record

Q = Query()
QUERIES: list[QueryInstance] = [
    where("kind") == "feed",
    where("bin") != "tub",
    where("bin") == None,  # noqa: E711
    (where("kind") == "feed") & (where("tier") >= 2),
    (where("kind") == "bed") | ~(where("item") == "kale"),
    where("kind").one_of(["bed", "moisture"]),
    (where("level") != None) & (where("level") > 1),  # noqa: E711
    Q.amount.unit == "cup",
    Q.amount.best <= 2,
    Q.amount.exists(),
    Q.nowhere.exists(),
    Q.text.matches("a.*"),
    Q.text.search("B", flags=re.IGNORECASE),
    Q.item.test(lambda item, letter: bool(item) and item[0] == letter, "k"),
    Q.unsure.any(["guess"]),
    Q.unsure.all(["guess", "day"]),
    Q.unsure == [],
    Q.fragment({"kind": "feed", "tier": 1}),
    (where("amount") != None) & Q.amount.fragment({"unit": "cup"}),  # noqa: E711
    Q.version > 1,
    Q["when"].test(lambda when: when is not None and when >= "2026-11-10"),
    Q.said_on.search("2026"),
    Q.item.map(lambda item: (item or "").upper()) == "KALE",
    Q.noop(),
]


def a_random_record(rng: random.Random) -> Record:
    return Record(
        rng.choice(["feed", "bed", "moisture"]),
        rng.choice(["done", "planned"]),
        rng.choice(["tub", "stack", None]),
        rng.choice([1, 2, 3, 1, 2]),
        item=rng.choice(["kale", "coir", None]),
        amount=rng.choice([None, Amount.exactly(2, "cup"), Amount(1, 2, 3, "lb")]),
        level=rng.choice([None, 0.0, 2.5]),
        when=rng.choice([None, f"2026-11-{rng.randrange(1, 30):02}"]),
        text=rng.choice(["a", "ab", "ba", "b"]),
        unsure=rng.choice([(), ("guess",), ("guess", "day")]),
    )


def history(rng: random.Random, steps: int, see: Callable[[Log, TinyDB], None]) -> None:
    """A random life of a log; a stock TinyDB is told of every change by its own calls."""
    log = Log.open(Path("log"), clock=clock, disk=SimDisk(rng))
    stock = TinyDB(storage=MemoryStorage)
    for step in range(steps):
        live = [document["id"] for document in stock.all()]
        does = rng.choice(["keep", "keep", "amend", "amend", "drop", "undo"])
        if does == "undo":
            log.undo()
            stock.truncate()
            stock.insert_multiple(_document(log, entry.id) for entry in log.entries())
        elif does == "keep" or not live:
            records = [a_random_record(rng) for _ in range(rng.randrange(3))]
            for entry in log.keep(log.new_note(str(step), NOW), records):
                stock.insert(_document(log, entry.id))
        elif does == "amend":
            id = rng.choice(live)
            log.amend(id, a_random_record(rng))
            stock.update(_document(log, id), where("id") == id)
        else:
            ids = rng.sample(live, min(2, len(live)))
            log.drop(ids)
            stock.remove(where("id").one_of(ids))
        see(log, stock)


def _document(log: Log, id: str) -> dict[str, Any]:
    """What the contract says of an entry, put together without the table."""
    entry = log.entry(id)
    about = {"id": id, "note": entry.note, "said_on": entry.said_on, "at": entry.at, "version": entry.version}
    return {**about, **entry.record.to_json()}


def by_id(documents: list[Any]) -> list[Any]:
    return sorted(documents, key=lambda document: document["id"])


def look_once(rng: random.Random) -> Callable[[Log, TinyDB], None]:
    """Now and then hold the two against each other."""
    return lambda log, stock: alike(log, stock) if rng.random() < 0.15 else None


def alike(log: Log, stock: TinyDB) -> None:
    table = log.table
    assert by_id(table.all()) == by_id(stock.all())
    assert len(table) == len(stock)
    for query in QUERIES:
        assert by_id(table.search(query)) == by_id(stock.search(query)), query
        assert table.count(query) == stock.count(query)
        assert table.contains(query) == stock.contains(query)
        found = table.get(query)
        assert (found is None) == (stock.get(query) is None) and (found is None or query(found))
    for document in table:
        assert document.doc_id == document["id"]
        assert table.get(doc_id=document.doc_id) == document
        assert table.contains(doc_id=document.doc_id)


@pytest.mark.parametrize("part", range(3))
def test_stock_queries_give_the_same(part: int) -> None:
    for seed in range(part * 500, part * 500 + 500):
        rng = random.Random(seed)
        history(rng, 8, look_once(rng))


def test_the_table_is_read_only(tmp_path: Path) -> None:
    fill(tmp_path / "log")
    with Log.open(tmp_path / "log", clock=clock) as log:
        before = log.table.all()
        for write in (
            lambda: log.table.insert({"kind": "feed"}),
            lambda: log.table.insert_multiple([{"kind": "feed"}]),
            lambda: log.table.update({"kind": "bed"}),
            lambda: log.table.update_multiple([({"kind": "bed"}, where("kind") == "feed")]),
            lambda: log.table.upsert({"kind": "bed"}, where("kind") == "feed"),
            lambda: log.table.remove(where("kind") == "feed"),
            log.table.truncate,
        ):
            with pytest.raises(LogError, match="read only: write through the log"):
                write()
        assert log.table.all() == before
        assert log.table.name == "entries"


def test_a_cached_query_sees_what_is_new(tmp_path: Path) -> None:
    kept = fill(tmp_path / "log")
    query = where("kind") == "feed"
    with Log.open(tmp_path / "log", clock=clock) as log, Log.open(tmp_path / "log", clock=clock) as other:
        assert len(log.table.search(query)) == len(other.table.search(query)) == 8
        other.drop([entry.id for entry in kept["note 1: two cups"]])
        assert len(log.table.search(query)) == len(other.table.search(query)) == 6
