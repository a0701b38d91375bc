"""Totals, counts and days against SQLite (sqlite3 of the standard library) over the same entries as CSV.

Units against pint, which carries the definitions of NIST Handbook 44 and SP 811."""

from __future__ import annotations

import csv
import io
import sqlite3
from datetime import date, datetime, timedelta
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scenario import NOW

from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import last
from assistant.answers.sums import convert, total
from assistant.answers.totals import count, whole
from assistant.records import Amount, Bin, Entry, Record
from lexicon import load

BINS = ("tower", "tote", None)
ITEMS = ("kale", "melon rind", "coffee grounds")
START = date(2026, 1, 1)
COLUMNS = ("id", "note", "kind", "bin", "tier", "item", "amount", "unit", "day")

rows = st.lists(
    st.tuples(
        st.sampled_from(("feed", "turn", "water")),
        st.sampled_from(BINS),
        st.sampled_from((None, 1, 2)),
        st.sampled_from(ITEMS),
        st.one_of(st.none(), st.integers(0, 9)),
        st.sampled_from(("cup", "lb")),
        st.integers(0, 80),
    ),
    max_size=30,
)


def made(data: list[tuple[object, ...]]) -> list[Entry]:
    entries = []
    for i, (kind, bin_, tier, item, amount, unit, days) in enumerate(data):
        day = (START + timedelta(days=int(str(days)))).isoformat()
        size = None if amount is None else Amount.exactly(float(str(amount)), str(unit))
        place: dict[str, Any] = {"bin": bin_, "tier": tier}
        record = Record(str(kind), item=str(item), amount=size, when=day, **place)
        entries.append(Entry(f"e{i}", f"n{day}", f"{day}T08:00:00", record))
    return entries


def exported(entries: list[Entry]) -> sqlite3.Connection:
    """The entries as CSV, read back into a table of SQLite."""
    text = io.StringIO()
    out = csv.writer(text)
    for e in entries:
        r = e.record
        size, unit = (r.amount.best, r.amount.unit) if r.amount else ("", "")
        out.writerow([e.id, e.note, r.kind, r.bin or "", r.tier or "", r.item, size, unit, r.when])
    text.seek(0)
    db = sqlite3.connect(":memory:")
    db.execute(f"create table log ({', '.join(COLUMNS)})")
    marks = ", ".join("?" * len(COLUMNS))
    db.executemany(f"insert into log values ({marks})", csv.reader(text))
    return db


@given(
    rows,
    st.sampled_from(BINS),
    st.sampled_from((None, 1, 2)),
    st.sampled_from(("feed", "turn")),
    st.integers(0, 80),
)
@settings(max_examples=60, deadline=None)
def test_against_sqlite(
    data: list[tuple[object, ...]], bin_: str | None, tier: int | None, kind: str, days: int
) -> None:
    entries = made(data)
    facts = Facts(entries, (Bin("tower", 2), Bin("tote")), NOW, load())
    first = START + timedelta(days=days)
    query = Query("total", kinds=(kind,), bin=bin_, tiers=(tier,) if tier else (), first=first)
    where = "kind = ? and day >= ?" + (" and bin = ?" if bin_ else "") + (" and tier = ?" if tier else "")
    given_ = [kind, first.isoformat(), *([bin_] if bin_ else []), *([str(tier)] if tier else [])]
    db = exported(entries)
    with_amount = where + " and amount <> ''"
    sums = dict(db.execute(f"select unit, sum(amount) from log where {with_amount} group by unit", given_))
    assert {a.unit: a.best for a in total(facts.choose(query), facts).parts} == pytest.approx(sums)
    (latest,) = db.execute(f"select max(day) from log where {where}", given_).fetchone()
    assert last(query, facts).value == latest
    times = "select count(*) from (select distinct day, note, kind, bin, tier from log where "
    (often,) = db.execute(f"{times}{where})", given_).fetchone()
    assert (count(query, facts).value or 0) == often
    (missing,) = db.execute(f"select count(*) from log where {where} and amount = ''", given_).fetchone()
    assert len(total(facts.choose(query), facts).uncounted) == missing


@pytest.mark.parametrize(
    ("value", "unit", "into", "theirs", "to"),
    [
        (3, "quart", "cup", "quart", "cup"),
        (5, "lb", "kg", "pound", "kilogram"),
        (12, "oz", "lb", "ounce", "pound"),
        (2, "gallon", "litre", "gallon", "liter"),
        (7, "tbsp", "fl_oz", "tablespoon", "fluid_ounce"),
        (9, "inch", "cm", "inch", "centimeter"),
        (1, "ton", "tonne", "short_ton", "metric_ton"),
        (1, "yard", "litre", "yard**3", "liter"),
    ],
)
def test_units_against_pint(value: float, unit: str, into: str, theirs: str, to: str) -> None:
    facts = Facts([], (), NOW, load())
    brought = convert(Amount.exactly(value, unit), into, facts)
    assert brought is not None
    assert brought.spread.best == pytest.approx(pint.UnitRegistry().Quantity(value, theirs).to(to).magnitude)


def test_mass_and_volume_only_by_density() -> None:
    facts = Facts([], (), NOW, load())
    assert convert(Amount.exactly(1, "cup"), "lb", facts, "coffee grounds", "food") is not None
    assert convert(Amount.exactly(1, "lb"), "degC", facts) is None
    assert convert(Amount.exactly(1, "bag"), "lb", facts, "kale", "food") is None, (
        "a bag may be nearly anything"
    )


def test_moisture_of_a_mix(asked) -> None:  # type: ignore[no-untyped-def]
    """Derived from CWMI-moist: 10 kg at 87 % with cardboard at 8 % (MST) to 70 % takes 2.742 kg."""
    answer = asked("How much cardboard to bring 10 kg at 87 percent to 70 percent?")
    assert answer.value == pytest.approx(2.742, abs=0.001)
    assert answer.unit == "kg"
    assert "CWMI-moist" in answer.sources


def test_ranges_add_up() -> None:
    record = Record("feed", bin="tote", amount=Amount(1, 2, 4, "cup"), when="2026-03-01")
    entries = [Entry(f"e{i}", "n", "2026-03-01T08:00:00", record) for i in range(3)]
    facts = Facts(entries, (), datetime(2026, 3, 2), load())
    found = whole(Query("total", "amount", ("feed",)), facts)
    assert (found.low, found.value, found.high) == (3, 6, 12)
