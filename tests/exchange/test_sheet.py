"""Spreadsheets in and out (inputs 35, 38).

Sources: RFC 4180 through Python's csv module; OWASP, "CSV Injection"; the record contract, section 2.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange import cells, sheet
from assistant.exchange.inward import preview, read_file
from assistant.exchange.outward import write_file
from assistant.records import Amount, Entry, Price, Record

Put = Callable[[str, str | bytes], Path]
FORMULA = re.compile(r"^\s*[=+\-@＝＋－＠]|^[\t\r\n]")  # OWASP, with white space ahead
NUMBER = re.compile(r"^-?\d+(\.\d+)?$")


def test_a_row_that_speaks_the_contracts_spellings_is_a_record(put: Put, now: datetime) -> None:
    text = "date,kind,item,amount,unit,bin,tier\n2026-03-05,feed,melon rind,2,cup,cellar stack,1\n"
    [note] = read_file(put("a.csv", text), now)
    words = "cellar stack, tray 1: feed 2 cup melon rind"
    assert note.records == (
        Record("feed", bin="cellar stack", tier=1, item="melon rind", amount=Amount(2, 2, 2, "cup"),
               when="2026-03-05", text=words, end=len(words)),
    )  # fmt: skip
    assert (note.text, note.said_on, note.ids) == (words, "2026-03-05", ("",))


@pytest.mark.parametrize(
    ("text", "notes"),
    [
        ("Date,Notes\n2026-03-05,fed the top\n", [("fed the top", "2026-03-05")]),
        ("Date;Qty (lb);Food\n5.3.2026;1,5;melon\n", [("fed 1.5 lb melon", "2026-03-05")]),
        ("sep=;\nDate;Note\n2026-03-05;a, b\n", [("a, b", "2026-03-05")]),
        ("Date\tWorm bin\tTray\tTemp (F)\tpH\n2026-03-05\tcellar\ttop\t68\t6.8\n",
         [("cellar, top: temperature 68 F. pH 6.8", "2026-03-05")]),
        ("Date,Action,Food,Amount\n2026-03-05,Fed,melon,2 cups\n", [("Fed 2 cups melon", "2026-03-05")]),
        ("Date,kind,item,amount,unit\n2026-03-05,feed,melon,2,cups\n", [("feed 2 cups melon", "2026-03-05")]),
        ("Date,Weather,Note\n2026-03-05,sunny,fed\n", [("Weather sunny. fed", "2026-03-05")]),
        ("My worm log\n\nDate,Note\n2026-03-05,fed\n", [("fed", "2026-03-05")]),
        ("Date,Time,Note\n2026-03-05,6:30 pm,fed\n", [("fed", "2026-03-05T18:30:00")]),
        ("Date,Note\n2026-03-05,fed\n,misted\n", [("fed", "2026-03-05"), ("misted", "2026-03-05")]),
        ("Date,Note\n3/5/2026,a\n13/5/2026,b\n", [("a", "2026-05-03"), ("b", "2026-05-13")]),
        ("Date,Note\n3/5/2026,a\n3/13/2026,b\n", [("a", "2026-03-05"), ("b", "2026-03-13")]),
        ("Date,Note\n3/5/2026,a\n", [("a", "2026-03-05")]),
        ("note\nfed\n", [("fed", "2026-03-04T09:30:00")]),
        ('Date,Note\n2026-03-05,"he said ""two, no"""\n', [('he said "two, no"', "2026-03-05")]),
        ('Date,Note\n2026-03-05,"one\ntwo"\n', [("one\ntwo", "2026-03-05")]),
        ('Date,Note\n2026-03-05,=HYPERLINK("x")\n', [('=HYPERLINK("x")', "2026-03-05")]),
        ("Date,Note\n2026-03-05,a 5\" layer\n", [('a 5" layer', "2026-03-05")]),
    ],
)  # fmt: skip
def test_a_row_is_put_in_words(put: Put, now: datetime, text: str, notes: list[tuple[str, str]]) -> None:
    read = read_file(put("a.csv", text), now)
    assert [(n.text, n.said_on) for n in read] == notes
    assert all(n.records is None for n in read)


def test_what_cannot_be_read_is_named_and_the_rest_kept(put: Put, now: datetime) -> None:
    rows = [
        "date,note",
        "2026-03-05,one",
        '2026-03-05,"two"x',
        "soon,three",
        "2026-03-06,four,five",
        "2026-03-07",
    ]
    text = "\n".join([*rows, '2026-03-08,"six', ""])
    notes = read_file(put("a.csv", text), now)
    assert [n.text for n in notes] == ["one", "five. four"]
    assert sorted(notes[0].doubts) == [
        "line 3: its quotes do not close where they should; the row is left out",
        "line 4: 'soon' is not a day; the row is left out",
        "line 5: 1 more cell than headings, kept as words",
        "line 7: its quotes do not close where they should; the row is left out",
    ]


def test_a_cell_of_a_megabyte(put: Put, now: datetime) -> None:
    before = csv.field_size_limit()
    [note] = read_file(put("a.csv", 'date,note\n2026-03-05,"' + "fed " * 300_000 + '"\n'), now)
    assert len(note.text) == 1_200_000
    assert csv.field_size_limit() == before


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("foo,bar\n1,2\n", "no heading is known in 'foo,bar'"),
        ("date,note\n", "no row"),
        ("date,note\nsoon,x\n", "no row that can be read; line 2: 'soon' is not a day"),
        ("date,note\n" + '"a"x\n' * 200, "more than 100 rows cannot be read, the first in line 2"),
    ],
)
def test_a_sheet_that_cannot_be_read(put: Put, now: datetime, text: str, told: str) -> None:
    with pytest.raises(FileError, match=told):
        read_file(put("a.csv", text), now)


def test_preview_tells_how_each_column_is_understood(put: Put) -> None:
    seen = preview(put("a.csv", "When done;Date;Tray;Qty (lb);Weather\nx;2026-03-05;2;1,5;sunny\n"))
    assert (seen.delimiter, seen.rows) == (";", 1)
    assert [(c.field, c.unit) for c in seen.columns] == [
        (None, None), ("said_on", None), ("tier", None), ("amount", "lb"), (None, None)
    ]  # fmt: skip
    assert seen.told()[3] == "'Qty (lb)' is read as amount, in lb"
    assert seen.told()[4] == "'Weather' is kept as words in the note"


def test_columns_are_those_of_the_contract(tmp_path: Path, now: datetime) -> None:
    record = Record(
        "sell", item="castings", amount=Amount(4, 5, 6, "lb"), price=Price(12.5), text="sold", end=4
    )
    write_file(tmp_path / "a.csv", [Entry("e1", "n1", "2026-03-05T18:00:00", record)], {}, (), (), now=now)
    with (tmp_path / "a.csv").open(encoding="utf-8", newline="") as file:
        [row] = csv.DictReader(file)
    data = record.to_json()
    for name in data.keys() - {"amount", "price", "unsure"}:  # record contract, section 2
        assert row[name] == ("" if data[name] is None else str(data[name]))
    assert (row["id"], row["said_on"]) == ("e1", "2026-03-05T18:00:00")
    assert [row[name] for name in ("low", "amount", "high", "unit", "price", "currency")] == [
        "4", "5", "6", "lb", "12.5", "USD"
    ]  # fmt: skip


NASTY = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    " =1",
    "＝1",
    "'=1",
    "''=1",
    '=HYPERLINK("x","y")',
]


@pytest.mark.parametrize("words", NASTY)
def test_no_cell_can_be_taken_for_a_formula(tmp_path: Path, now: datetime, words: str) -> None:
    record = Record("remark", bin=words, spot=words, item=words, text=words, end=len(words), unsure=(words,))
    cold = Record("temperature", item="air", amount=Amount(-2, -2, -2, "degC"))
    entries = [Entry(words, words, "2026-03-05", record), Entry("2", "n", "2026-03-05", cold)]
    write_file(tmp_path / "a.csv", entries, {}, (), (), now=now)
    with (tmp_path / "a.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert not [cell for row in rows for cell in row if FORMULA.match(cell) and not NUMBER.match(cell)]
    assert rows[2][rows[0].index("amount")] == "-2"  # a figure stays one that can be summed


@given(st.text())
def test_guarding_is_undone_on_the_way_back(cell: str) -> None:
    assert cells.unguarded(cells.guarded(cell)) == cell
    assert not FORMULA.match(cells.guarded(cell))


@settings(max_examples=100, deadline=None)
@given(st.lists(st.lists(st.text(), min_size=2, max_size=4).filter(lambda row: any(c.strip() for c in row))))
def test_rows_are_read_as_the_csv_module_wrote_them(rows: list[list[str]]) -> None:
    """RFC 4180: what Python's csv module writes, our reader reads, and the other way round."""
    plain = [[cell.replace("\r", "\n") for cell in row] for row in rows]
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows(plain)
    read, doubts = cells.rows_of(out.getvalue(), ",")
    assert [row for _, row in read] == [
        [cells.unguarded(cell) for cell in row] for row in plain
    ] and not doubts
    assert list(csv.reader(io.StringIO(cells.written(plain), newline=""))) == plain


TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\r"), min_size=1, max_size=12)
FIGURES = st.floats(0, 1e6).map(lambda x: round(x, 4))


@st.composite
def records(draw: st.DrawFn) -> Record:
    text = draw(TEXTS)
    low, best, high = sorted(draw(st.tuples(FIGURES, FIGURES, FIGURES)))
    return Record(
        kind=draw(st.sampled_from(["feed", "sighting", "sell", "moisture"])),
        state=draw(st.sampled_from(["done", "planned", "expected", "ruled_out"])),
        bin=draw(st.none() | TEXTS.filter(str.strip)),
        tier=draw(st.none() | st.integers(1, 9)),
        item=draw(st.none() | TEXTS.filter(str.strip)),
        amount=draw(st.none() | st.just(Amount(low, best, high, "cup"))),
        level=draw(st.none() | st.sampled_from([0.0, 0.25, 3.0])),
        price=draw(st.none() | FIGURES.map(Price)),
        when=draw(st.none() | st.dates().map(str)),
        text=text,
        end=len(text),
    )


@settings(max_examples=60, deadline=None)
@given(st.lists(records(), min_size=1, max_size=5))
def test_what_is_written_reads_back_the_same(found: list[Record]) -> None:
    from assistant.exchange.incoming import Page
    from assistant.exchange.outgoing import Outgoing

    day = datetime(2026, 3, 6)
    entries = [Entry(f"e{n}", f"n{n}", "2026-03-05", record) for n, record in enumerate(found)]
    kept = [
        entry for entry in entries if entry.record.text.strip()
    ]  # a cell of nothing but spaces is an empty cell
    text = sheet.write(Outgoing(kept, {}, (), (), day)).replace("\r\n", "\n")
    back = sheet.read(Page("a.csv", text, day, day)) if kept else []
    assert [
        (i, json.dumps(r.to_json())) for n in back for i, r in zip(n.ids, n.records or (), strict=True)
    ] == [(entry.id, json.dumps(entry.record.to_json())) for entry in kept]
