"""Records as JSON lines (input 36). Source: the record contract, sections 2 and 6; RFC 8259."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange import jsonl
from assistant.exchange.incoming import Page
from assistant.exchange.inward import read_file
from assistant.exchange.outgoing import Outgoing
from assistant.exchange.outward import write_file
from assistant.records import Amount, Bin, Entry, Note, Price, Record

Put = Callable[[str, str | bytes], Path]
SETUP = '{"setup": [{"name": "cellar stack", "tiers": 3}]}'
DAY = datetime(2026, 3, 6)


def line(**fields: Any) -> str:
    """A record as the contract has it, all fields there, with its id and the day of its note."""
    full = {"id": "r1", "said_on": "2026-03-05"} | Record("feed", item="melon").to_json() | fields
    return json.dumps({key: value for key, value in full.items() if value is not ...})


def test_the_contracts_own_form_is_read(put: Put, now: datetime) -> None:
    text = "\n".join(
        [SETUP, line(text="two cups of melon", start=10, end=27, bin="cellar stack"),
         line(id="r2", kind="turn", item=None, text="fluffed", start=0, end=7),
         line(id="r3", said_on="2026-03-06T08:00:00", text="melon", start=5, end=10)]
    )  # fmt: skip
    first, second = read_file(put("a.jsonl", text), now)
    assert (first.said_on, first.ids, first.setup) == ("2026-03-05", ("r1", "r2"), (Bin("cellar stack", 3),))
    assert first.text == "fluffed   two cups of melon"  # the words stand where the records say they stood
    assert (second.said_on, second.ids, second.text) == ("2026-03-06T08:00:00", ("r3",), "     melon")
    assert first.doubts == ()


def test_words_that_do_not_fit_one_note_make_two(put: Put, now: datetime) -> None:
    text = "\n".join([SETUP, line(text="melon", start=0, end=5), line(id="r2", text="bread", start=0, end=5)])
    assert [(n.text, n.ids) for n in read_file(put("a.jsonl", text), now)] == [
        ("melon", ("r1",)),
        ("bread", ("r2",)),
    ]


def test_words_said_to_stand_far_off_take_no_room(put: Put, now: datetime) -> None:
    far = line(text="melon", start=10**15, end=10**15 + 5)
    [note] = read_file(
        put("a.jsonl", "\n".join([SETUP, line(text="bread", end=5), far.replace("r1", "r2")])), now
    )
    assert note.text == "bread\nmelon"
    assert [(r.start, r.end) for r in note.records or ()] == [(0, 5), (6, 11)]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ([SETUP, line(), '{"kind": "feed"'], "line 3: not a line of JSON"),
        ([SETUP, line(), "", "not json", line(id="r2")], "line 4: not a line of JSON"),
        ([SETUP, "[1]"], "line 2: not a record"),
        ([SETUP, line(kind=...)], "line 2: it has no 'kind'"),
        ([SETUP, line(kind="dance")], "line 2: 'dance' is not a kind"),
        ([SETUP, line(state="maybe")], "line 2: 'maybe' is not a state"),
        ([SETUP, line(tier="two")], "line 2: 'tier' is not a count"),
        ([SETUP, line(tier=-1)], "line 2: 'tier' is not a count"),
        ([SETUP, line(item=7)], "line 2: 'item' is not text"),
        ([SETUP, line(when="Tuesday")], "line 2: 'when' is not a date"),
        ([SETUP, line(said_on="31 February")], "line 2: 'said_on' is not a date"),
        ([SETUP, line(amount={"best": "lots", "unit": "cup"})], "line 2: "),
        (
            [SETUP, line(amount={"low": 3, "best": 2, "high": 4, "unit": "cup"})],
            "line 2: its amount is not in order",
        ),
        ([SETUP, line(amount=[1])], "line 2: its amount"),
        ([SETUP, line().replace('"level": null', '"level": 1e999')], "line 2: a figure in it is not finite"),
        ([SETUP, line().replace('"level": null', '"level": NaN')], "line 2: not a line of JSON"),
        ([SETUP, line().replace('"melon"', '"\\ud800"')], "line 2: not a line of JSON"),
        ([SETUP, "[" * 100_000], "line 2: not a line of JSON"),
        ([SETUP, line(), line(item="bread")], "line 3: the id r1 is also that of line 2"),
        (['{"setup": [], "format": 2}', line()], r"line 1: written by a later version \(format 2, here 1\)"),
        (['{"setup": [], "version": 7}', line()], "line 1: written by a later version"),
        (['{"setup": [{"tiers": 2}]}', line()], "line 1: the set-up cannot be taken: a bin needs a name"),
        (['{"setup": "cellar"}', line()], "line 1: the set-up is not a list of bins"),
        (['{"bins": []}', line()], "line 1: neither a set-up nor a record"),
        (['{"setup": [], "notes": [{"id": "n"}]}'], "line 1: the notes in it"),
        (['{"setup": []}'], "nothing to record"),
    ],
)
def test_a_broken_line_is_named_and_nothing_is_taken(
    put: Put, now: datetime, lines: list[str], told: str
) -> None:
    with pytest.raises(FileError, match=told) as caught:
        read_file(put("a.jsonl", "\n".join(lines)), now)
    assert len(str(caught.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("lines", "doubt"),
    [
        (
            [SETUP, line(colour="red"), line(id="r2", colour="blue")],
            "line 2: 'colour' is not known and is left out",
        ),
        (['{"setup": [], "made": "x"}', line()], "line 1: 'made' is not known and is left out"),
        (['{"setup": [{"name": "a bin", "lid": 1}]}', line()], "line 1: 'lid' is not known and is left out"),
        ([SETUP, line(), line()], "line 3: the same as line 2, taken once"),
        ([SETUP, line(id=...)], "line 2: no 'id'; it gets a new one"),
        ([SETUP, line(said_on=...)], "line 2: no 'said_on'; taken as 2026-03-04"),
        ([SETUP, line(said_on=..., when="2026-02-01")], "line 2: no 'said_on'; taken as 2026-02-01"),
        (
            [SETUP, line(said_on=..., when="2026-05-01", state="planned")],
            "line 2: no 'said_on'; taken as 2026-03-04",
        ),
        ([line()], "no set-up in the first line"),
    ],
)
def test_what_is_odd_is_told_and_the_records_kept(
    put: Put, now: datetime, lines: list[str], doubt: str
) -> None:
    notes = read_file(put("a.jsonl", "\n".join(lines)), now)
    assert notes[0].doubts == (doubt,)
    assert [r.item for n in notes for r in n.records or ()] == ["melon"] * (1 if "r2" not in lines[-1] else 2)


def test_missing_fields_are_null(put: Put, now: datetime) -> None:
    [note] = read_file(put("a.jsonl", SETUP + '\n{"kind": "turn", "id": "1", "said_on": "2026-03-05"}'), now)
    assert note.records == (Record("turn"),)


def test_a_set_up_alone(put: Put, now: datetime) -> None:
    [note] = read_file(put("a.jsonl", SETUP), now)
    assert (note.setup, note.text, note.records) == ((Bin("cellar stack", 3),), "", ())


def test_the_lines_are_those_of_the_contract(tmp_path: Path, now: datetime) -> None:
    record = Record(
        "feed", item="melon", amount=Amount(2, 3, 4, "cup"), price=Price(2.5), text="melon", end=5
    )
    setup = (Bin("cellar stack", 3, ("the stack",)),)
    entries = [Entry("r1", "n1", "2026-03-05T18:30:00", record)]
    write_file(tmp_path / "a.jsonl", entries, {}, setup, (), now=now)
    first, *others = (tmp_path / "a.jsonl").read_text(encoding="utf-8").splitlines()
    assert json.loads(first) == {"setup": [{"name": "cellar stack", "tiers": 3, "also": ["the stack"]}]}
    [data] = map(json.loads, others)
    assert {key: data[key] for key in record.to_json()} == record.to_json()
    assert (data["id"], data["said_on"]) == ("r1", "2026-03-05")


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
ENDS = TEXTS.map(lambda t: t + "\u2028\x85\x0b\x1c\n\r\x1b'\"\\end")
SECONDS = st.integers(0, 10_000).map(lambda t: t / 10)


@settings(max_examples=80, deadline=None)
@given(
    st.dictionaries(st.text("abc", min_size=1), st.tuples(ENDS, st.lists(SECONDS, max_size=2)), max_size=4)
)
def test_what_is_written_reads_back_the_same(texts: dict[str, tuple[str, list[float]]]) -> None:
    """Notes with any characters in them, with records and without, byte for byte."""
    notes = {
        key: Note(
            key, "2026-03-05T18:30:00", text, "walk.srt", marks=tuple((i, s) for i, s in enumerate(seconds))
        )
        for key, (text, seconds) in texts.items()
    }
    entries = [
        Entry(
            f"r{key}",
            key,
            note.said_on,
            Record("remark", bin="a\tb", text=note.text, end=len(note.text)),
            1.5,
        )
        for key, note in notes.items()
        if len(key) % 2
    ]
    setup = (Bin("cellar", 2, ("x",), ((1, ("top one",)),), ("Eisenia fetida",), "2025-04-12"),)
    text = jsonl.write(Outgoing(entries, notes, setup, (), DAY))
    assert len(text.splitlines()) == 1 + len(entries)  # no character in a note ends a line for any reader
    back = jsonl.read(Page("a.jsonl", text, DAY, DAY))
    assert [n.setup for n in back] == [setup] * len(back)
    if notes:
        assert [(n.text, n.said_on, n.source, n.marks) for n in back] == [
            (n.text, n.said_on, n.source, n.marks) for n in notes.values()
        ]
        assert [(i, r) for n in back for i, r in zip(n.ids, n.records or (), strict=True)] == [
            (entry.id, entry.record) for entry in entries
        ]
