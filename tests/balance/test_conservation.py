"""Nothing is made and nothing is lost by moving, restacking, taking out, harvesting or looking."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import lexicon as data
from assistant.balance import Balances, Trade, fold_with, rows, to_json, with_entry
from assistant.balance.contents import standing
from assistant.balance.spread import NONE, Cases
from assistant.records import Amount, Bin, Entry, Record

SETUP = (Bin("cellar stack", 3), Bin("tote", 1))
FIRST = date(2026, 1, 1)

items = st.sampled_from(["coffee grounds", "carrot", None])
beddings = st.sampled_from(["shredded cardboard", "coconut coir", "leaves"])
amounts = st.none() | st.builds(
    lambda a, b, c, unit: Amount(*sorted((a, b, c)), unit),
    *[st.floats(0.1, 20)] * 3,
    st.sampled_from(["cup", "handful", "lb", "piece", "armload", "inch"]),
)
tiers = st.sampled_from([None, 1, 1, 2])
shares = st.sampled_from([None, 0.0, 0.25, 0.5, 0.75, 1.0])


@cache
def trade() -> Trade:
    return Trade.of(data.load())


def kind(name: str, **fields: Any) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({"kind": st.just(name), "tier": tiers, **fields})


happenings = st.one_of(
    kind("feed", item=items, amount=amounts),
    kind("bed", item=beddings, amount=amounts),
    kind("move", item=items, amount=amounts, to_tier=tiers),
    kind("remove", item=items, amount=amounts),
    kind("harvest", item=st.just("castings"), amount=amounts, to_tier=tiers),
    kind("restack", item=st.just("tier"), to_tier=tiers),
    kind("refresh"),
    kind("leftover", item=items, level=shares),
    kind(
        "temperature",
        item=st.just("bed"),
        amount=st.builds(lambda t: Amount(t, t, t, "degC"), st.floats(-5, 45)),
    ),
)
bins = st.sampled_from(["cellar stack", "cellar stack", "tote"])
histories = st.lists(st.tuples(st.integers(0, 20), bins, happenings), min_size=4, max_size=30)
MANY = settings(max_examples=150, deadline=None)


def entries(history: list[tuple[int, str, dict[str, Any]]]) -> list[Entry]:
    """One note for each happening, so many days after the one before."""
    day, made = FIRST, []
    for at, (later, bin_, fields) in enumerate(history):
        day += timedelta(days=later)
        record = Record(**{"bin": bin_, "when": day.isoformat(), **fields})
        made.append(Entry(f"r{at}", f"n{at}", f"{day.isoformat()}T09:00:00", record))
    return made


def shares_by_record(books: Balances) -> dict[str, Cases]:
    """How much of each record's portion lies anywhere, in trays or taken out."""
    found: dict[str, Cases] = defaultdict(lambda: NONE)
    for bin_ in books.bins.values():
        for place in bin_.places.values():
            for portion in [*standing(books, bin_, place), *place.worked]:
                found[portion.of.record] = found[portion.of.record].plus(portion.here)
        for gone in bin_.gone:
            found[gone.portion.of.record] = found[gone.portion.of.record].plus(gone.portion.here)
    return found


@MANY
@given(histories, st.integers(0, 400))
def test_every_portion_is_somewhere_and_only_once(history: list[Any], wait: int) -> None:
    log = entries(history)
    now = date.fromisoformat(log[-1].record.when) if log and log[-1].record.when else FIRST
    books = fold_with(log, SETUP, now + timedelta(days=wait), trade())
    put_in = {entry.id for entry in log if entry.record.kind in ("feed", "bed")}
    found = shares_by_record(books)
    assert set(found) == put_in
    for share in found.values():
        assert list(share) == pytest.approx([1, 1, 1], abs=1e-9)
    for bin_ in books.bins.values():
        for place in bin_.places.values():
            for portion in place.portions():
                assert min(portion.left) >= -1e-12 and min(portion.worked) >= -1e-12


@MANY
@given(histories)
def test_castings_out_of_a_tray_come_in_somewhere(history: list[Any]) -> None:
    books = fold_with(entries(history), SETUP, date(2030, 1, 1), trade())
    flows = [
        flow for bin_ in books.bins.values() for place in bin_.places.values() for flow in place.castings
    ]
    flows += books.stocks.get("castings", [])
    signs: dict[str, int] = defaultdict(int)
    for flow in flows:
        signs[flow.record] += flow.sign if flow.amount else 0
    assert set(signs.values()) <= {0}


@MANY
@given(histories)
def test_step_by_step_is_the_same_as_all_at_once(history: list[Any]) -> None:
    log = [entry for entry in entries(history) if entry.record.kind != "restack" or entry.record.tier]
    log = [entry for entry in log if entry.record.kind != "restack" or entry.record.to_tier]
    now = date(2027, 12, 31)
    books = fold_with([], SETUP, now, trade())
    for entry in log:
        books = with_entry(books, entry)
    whole = fold_with(log, SETUP, now, trade())
    assert rows(books) == rows(whole)
    assert to_json(books) == to_json(whole)


@MANY
@given(histories)
def test_ranges_are_in_order(history: list[Any]) -> None:
    for row in rows(fold_with(entries(history), SETUP, date(2027, 12, 31), trade())):
        for heap in (row.food, row.bedding):
            assert heap.kg is None or heap.kg.low <= heap.kg.best <= heap.kg.high
            for amount in (*heap.put_in, *heap.left):
                assert amount.low <= amount.best * (1 + 1e-9) and amount.best <= amount.high * (1 + 1e-9)
        made = row.makeup
        for spread in (made.dry, made.water, made.carbon, made.nitrogen, made.castings):
            assert spread.low <= spread.best + 1e-9 and spread.best <= spread.high + 1e-9
