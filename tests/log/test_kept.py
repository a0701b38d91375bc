"""What the log keeps and gives back, one behaviour a test."""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from filled import NOW, a_bin, a_record, clock, state, texts
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import LogError
from assistant.log import Log, NoteRecords
from assistant.records import Amount, Note, Price, Record


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "deep" / "log"


@pytest.fixture
def log(folder: Path) -> Log:
    with Log.open(folder, clock=clock) as opened:
        yield opened


def test_a_note_comes_back_as_it_was_given(log: Log, folder: Path) -> None:
    text = "fed \x00 \x1b[31m \u00bd cup\r\n\u202e \udcff 3 cups\n"
    note = log.new_note(text, "2026-11-25T09:30:00-05:00", "walk.vtt", "reader 3", [(0, 0.0), (12, 4.5)])
    full = Record(
        "feed", "planned", "cellar stack", 1, 2, "back left", "melon rind", Amount(1, 2, 3.5, "cup"), 0.5,
        Price(4.5, "USD"), "2026-11-25", "fed", 0, 3, ("guessed the amount", "guessed the day"),
    )  # fmt: skip
    kept = log.keep(note, [full, Record("smell", item="none", level=0.0)], at=[1.5, None])
    with Log.open(folder, clock=clock) as again:
        assert again.note(note.id) == note
        assert again.notes() == [note]
        assert again.entries() == again.entries_of(note.id) == kept
        assert [entry.record for entry in kept] == [full, Record("smell", item="none", level=0.0)]
        assert [(entry.at, entry.version, entry.said_on) for entry in kept] == [
            (1.5, 1, note.said_on),
            (None, 1, note.said_on),
        ]
        assert state(again) == state(log)


@given(
    st.builds(
        Record,
        kind=st.sampled_from(["feed", "remark", "moisture"]),
        state=st.sampled_from(["done", "planned", "expected", "ruled_out"]),
        bin=st.none() | st.text(),
        tier=st.none() | st.integers(0, 99),
        item=st.none() | st.text(),
        level=st.none() | st.floats(0, 5).map(lambda level: round(level, 3)),
        when=st.none() | st.dates().map(str),
        text=st.text(),
        unsure=st.lists(st.text(), max_size=2).map(tuple),
    )
)
def test_any_record_comes_back(tmp_path_factory: pytest.TempPathFactory, record: Record) -> None:
    folder = tmp_path_factory.mktemp("log")
    with Log.open(folder) as log:
        log.keep(log.new_note("", NOW), [record])
    with Log.open(folder) as log:
        assert [entry.record for entry in log.entries()] == [Record.from_json(record.to_json())]


def test_ids_may_be_brought_along_but_not_twice(log: Log) -> None:
    note = Note("n1", "2026-11-25", "fed")
    assert [entry.id for entry in log.keep(note, [a_record("a"), a_record("b")], ids=["e1", "e2"])] == [
        "e1",
        "e2",
    ]
    with pytest.raises(LogError, match="'n1' is kept already"):
        log.keep(note, [])
    with pytest.raises(LogError, match="a record 'e1' already"):
        log.keep(replace(note, id="n2"), [a_record("c")], ids=["e1"])
    with pytest.raises(LogError, match="same id"):
        log.keep(replace(note, id="n2"), [a_record("c"), a_record("d")], ids=["e3", "e3"])
    log.undo()
    assert [entry.id for entry in log.keep(note, [a_record("a")], ids=["e1"])] == ["e1"]
    assert texts(log) == ["a"]


def test_an_amendment_counts_and_the_versions_stay(log: Log, folder: Path) -> None:
    (entry,) = log.keep(note := log.new_note("two handfuls", NOW), [a_record("two handfuls")])
    says = log.new_note("no, three", NOW + timedelta(minutes=1))
    three = replace(entry.record, amount=Amount.exactly(3, "handful"))
    amended = log.amend(entry.id, three, note=says)
    assert amended == replace(entry, record=three, version=2)
    bare = log.amend(entry.id, Record("bed"))
    assert bare.record == Record("bed") and bare.version == 3
    log.drop([entry.id])
    for opened in (log, Log.open(folder, clock=clock)):
        assert opened.versions(entry.id) == [(entry, note), (amended, says), (bare, note)]
        assert opened.entries() == [] and opened.entries_of(note.id) == []
        assert opened.notes() == [note, says]
        with pytest.raises(LogError, match=r"no record .* in the log any more"):
            opened.entry(entry.id)


def test_what_is_not_there_cannot_be_touched(log: Log) -> None:
    (entry,) = log.keep(log.new_note("fed", NOW), [a_record("fed")])
    log.drop([entry.id])
    for act in (
        lambda: log.amend(entry.id, a_record("x")),
        lambda: log.drop([entry.id]),
        lambda: log.drop(["nothing"]),
        lambda: log.change(amended={}, dropped=[entry.id], added=[], note=log.new_note("", NOW)),
        lambda: log.entry("nothing"),
        lambda: log.versions("nothing"),
        lambda: log.note("nothing"),
    ):
        before = state(log)
        with pytest.raises(LogError, match="there is no") as error:
            act()
        assert "\n" not in str(error.value)
        assert state(log) == before


def test_a_change_is_one_operation(log: Log) -> None:
    note = log.new_note("fed the top, a cup", NOW)
    one, two = log.keep(note, [a_record("one"), a_record("two")])
    says = log.new_note("that was the middle, and scratch the cup", NOW)
    moved, added = log.change(
        amended={one.id: replace(one.record, tier=2)}, dropped=[two.id], added=[a_record("three")], note=says
    )
    assert (moved.id, moved.record.tier, moved.note, moved.version) == (one.id, 2, note.id, 2)
    assert (added.note, added.record.text) == (says.id, "three")
    assert log.entries() == [moved, added]
    assert log.undo() == "took back 1 record amended, 1 record dropped, 1 record added"
    assert log.entries() == [one, two] and log.notes() == [note]
    assert log.redo() == "put back 1 record amended, 1 record dropped, 1 record added"
    assert log.entries() == [moved, added] and log.notes() == [note, says]


def test_undo_and_redo_say_what(log: Log) -> None:
    assert log.undo() is None and log.redo() is None
    log.set_bins((a_bin("cellar stack"),))
    log.set_setting("units", "metric")
    (entry, _) = log.keep(log.new_note("fed", NOW), [a_record("a"), a_record("b")])
    log.drop([entry.id])
    log.keep(log.new_note("hello", NOW), [])
    said = [log.undo() for _ in range(6)]
    assert said == [
        "took back the note of 2026-11-25 (0 records)",
        "took back 1 record dropped",
        "took back the note of 2026-11-25 (2 records)",
        "took back the setting 'units'",
        "took back the bins",
        None,
    ]
    assert log.bins() == () and log.setting("units") is None and log.notes() == []
    assert [log.redo() for _ in range(6)] == [s and s.replace("took", "put") for s in (*said[4::-1], None)]
    log.undo()
    log.set_setting("units", "US")
    assert log.redo() is None


def test_undo_passes_over_what_the_program_keeps_for_itself(log: Log, folder: Path) -> None:
    log.keep(log.new_note("fed", NOW), [a_record("fed")])
    log.set_setting("cautions shown", ["c1"], quiet=True)
    assert log.undo() == "took back the note of 2026-11-25 (1 record)"
    log.set_setting("cautions shown", ["c1", "c2"], quiet=True)
    assert log.redo() == "put back the note of 2026-11-25 (1 record)"
    with Log.open(folder, clock=clock) as again:
        assert again.setting("cautions shown") == ["c1", "c2"]
        assert again.undo() == "took back the note of 2026-11-25 (1 record)" and again.undo() is None


def test_bins_and_settings(log: Log, folder: Path) -> None:
    bins = (a_bin("cellar stack"), a_bin("shed tub"))
    log.set_bins(bins)
    for value in ({"scoop": {"ml": 250, "of": ["a", None]}}, [1, 2.5], "metric", False, None):
        log.set_setting("measures", value)
        assert log.setting("measures") == value
    log.set_setting("measures", {"scoop": [1]})
    log.setting("measures")["scoop"].append(2)
    with Log.open(folder, clock=clock) as again:
        assert again.bins() == bins
        assert again.setting("measures") == log.setting("measures") == {"scoop": [1]}
        assert again.setting("other") is None


@pytest.mark.parametrize("value", [math.inf, math.nan, {1, 2}, b"x", object()])
def test_a_setting_that_is_no_json_is_refused(log: Log, value: object) -> None:
    with pytest.raises(LogError, match="cannot be kept"):
        log.set_setting("x", value)
    assert log.setting("x") is None and log.undo() is None


def test_a_file_is_imported_as_one(log: Log, folder: Path) -> None:
    notes = [log.new_note(f"day {day}", f"2026-11-0{day}") for day in range(1, 4)]
    batch = [NoteRecords(note, [a_record(note.text)], ids=[f"e{note.text}"]) for note in notes]
    kept = log.keep_all(batch, source=("d1", "walk.vtt"))
    assert log.entries() == kept and log.notes() == notes
    assert log.has_source("d1") and not log.has_source("d2")
    log.remember_source("d2", "empty.vtt")
    assert Log.open(folder, clock=clock).has_source("d2")
    assert log.undo() == "took back 3 notes (3 records)"
    assert not log.has_source("d1") and log.has_source("d2") and log.entries() == []
    with pytest.raises(LogError, match="same id"):
        log.keep_all([NoteRecords(notes[0]), NoteRecords(notes[0])])
    assert log.notes() == []


def test_entries_by_what_they_are(log: Log) -> None:
    log.keep(
        log.new_note("a", NOW),
        [
            a_record("0", bin="tub", tier=1, when="2026-11-01T08:00"),
            a_record("1", bin="tub", tier=2, when="2026-11-02", item="melon rind"),
            Record("bed", text="2", bin="stack", when="2026-11-30", item="coir"),
            Record("feed", "planned", text="3", item="melon rind"),
            Record("moisture", "ruled_out", text="4", level=3, when="2026-12-01"),
        ],
    )
    ask = log.entries
    for found, expected in (
        (ask(kind="feed"), "0 1 3"),
        (ask(kind={"bed", "moisture", "ph"}), "2 4"),
        (ask(kind=[]), ""),
        (ask(bin="tub"), "0 1"),
        (ask(bin="tub", tier=2), "1"),
        (ask(bin="nowhere"), ""),
        (ask(item="melon rind"), "1 3"),
        (ask(item="melon rind", state={"planned"}), "3"),
        (ask(state="ruled_out"), "4"),
        (ask(state=("planned", "ruled_out"), kind="feed"), "3"),
        (ask(first="2026-11-01", last="2026-11-01"), "0"),
        (ask(first="2026-11-02"), "1 2 4"),
        (ask(last="2026-11-30"), "0 1 2"),
        (ask(first="2026-11-02", last="2026-11-30", kind="feed", bin="tub"), "1"),
        (ask(first="2027-01-01"), ""),
        (ask(first="2026-12-01", last="2026-11-01"), ""),
    ):
        assert [entry.record.text for entry in found] == expected.split()


def test_the_indexes_follow_an_amendment(log: Log) -> None:
    (entry,) = log.keep(log.new_note("a", NOW), [a_record("x", bin="tub", item="kale", when="2026-11-01")])
    log.amend(entry.id, Record("bed", bin="stack", item="coir", when="2026-11-09", text="x"))
    assert log.entries(bin="tub") == log.entries(item="kale") == log.entries(kind="feed") == []
    assert log.entries(first="2026-11-01", last="2026-11-01") == []
    for found in (log.entries(bin="stack", item="coir", kind="bed"), log.entries(first="2026-11-09")):
        assert texts(log) == [one.record.text for one in found] == ["x"]
    log.undo()
    assert len(log.entries(bin="tub", item="kale", kind="feed", last="2026-11-01")) == 1


def test_the_order_is_that_of_the_saying(log: Log) -> None:
    for said in (
        "2026-11-25T09:00",
        "2026-11-24",
        "2026-11-25T08:00",
        "2026-11-24T00:00",
        "2026-11-25T09:00",
    ):
        log.keep(log.new_note(said, said), [a_record(f"{said} {letter}") for letter in "ba"])
    (first, *_) = log.entries()
    log.amend(first.id, replace(first.record, tier=3))
    assert [words[:-2] for words in texts(log)[::2]] == [
        "2026-11-24",
        "2026-11-24T00:00",
        "2026-11-25T08:00",
        "2026-11-25T09:00",
        "2026-11-25T09:00",
    ]
    assert [words[-1] for words in texts(log)] == ["b", "a"] * 5
    assert [note.text for note in log.notes()] == [words[:-2] for words in texts(log)[::2]]


@pytest.mark.parametrize(
    "said",
    [
        # the hour that the end of summer time repeats, New York, 2026-11-01
        ("2026-11-01T01:50:00-04:00", "2026-11-01T01:10:00-05:00"),
        # the hour that its beginning leaves out, 2026-03-08
        ("2026-03-08T01:59:00-05:00", "2026-03-08T03:01:00-04:00"),
        # a flight west between two notes
        ("2026-11-25T14:00:00-05:00", "2026-11-25T12:30:00-08:00"),
    ],
)
def test_clocks_that_are_changed_keep_the_order_and_the_dates(log: Log, said: tuple[str, str]) -> None:
    # dates: US Energy Policy Act of 2005, section 110 (second Sunday of March, first of November)
    for when in said:
        log.keep(log.new_note(when, datetime.fromisoformat(when)), [a_record(when)])
    assert texts(log) == list(said)
    assert [note.said_on for note in log.notes()] == list(said)


@pytest.fixture
def new_york(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "EST5EDT,M3.2.0,M11.1.0")  # POSIX.1, the rule itself: needs no time zone data
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("new_york")
def test_local_times_in_the_hour_that_comes_twice_keep_their_order(folder: Path) -> None:
    moments = [
        datetime(2026, 11, 1, 1, 50),
        datetime(2026, 11, 1, 1, 10, fold=1),  # as datetime.now() gives it
        datetime(2026, 11, 1, 2, 5),
    ]
    with Log.open(folder, clock=lambda: moments[0]) as log:
        for _ in range(3):
            note = log.new_note("fed", moments[0])
            log.keep(note, [a_record(note.said_on)])
            moments = [*moments[1:], *moments[:1]]
        assert texts(log) == ["2026-11-01T01:50:00", "2026-11-01T01:10:00", "2026-11-01T02:05:00"]


@pytest.mark.usefixtures("new_york")
def test_local_times_and_times_with_an_offset_stand_in_one_order(folder: Path) -> None:
    said = ["2026-11-24", "2026-11-24T22:00", "2026-11-25T13:30:00+10:00", "2026-11-24T23:00", "2026-11-25"]
    with Log.open(folder, clock=clock) as log:
        for when in reversed(said):
            log.keep(log.new_note(when, when), [a_record(when)])
        assert texts(log) == said == [note.said_on for note in log.notes()]


def test_a_date_that_is_none_is_kept_as_it_stands(log: Log) -> None:
    for said in ("someday", "2026-11-25"):
        log.keep(log.new_note(said, said), [a_record(said)])
    assert texts(log) == ["2026-11-25", "someday"]


def test_a_clock_set_back_by_a_year_is_told_and_both_notes_are_kept(folder: Path) -> None:
    now = NOW
    with Log.open(folder, clock=lambda: now) as log:
        log.keep(log.new_note("one", now), [a_record("one")])
        now = NOW - timedelta(hours=12)
        log.keep(log.new_note("two", now), [a_record("two")])
        assert log.warnings == []
        now = NOW - timedelta(days=365)
        log.keep(log.new_note("three", now), [a_record("three")])
        assert log.warnings == [
            "the clock says 2025-11-25, but the last change was on 2026-11-24: both are kept"
        ]
        log.keep(log.new_note("four", now), [a_record("four")])
        assert len(log.warnings) == 1
        assert log.undo() == "took back the note of 2025-11-25 (1 record)"
        assert texts(log) == ["three", "two", "one"]


def test_a_closed_log_takes_nothing(folder: Path) -> None:
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("one", NOW), [a_record("one")])
    assert log.closed
    with pytest.raises(LogError, match="closed: open it again"):
        log.keep(log.new_note("two", NOW), [])
    assert texts(log) == ["one"]


def test_one_or_none_for_each_record(log: Log) -> None:
    with pytest.raises(ValueError, match="shorter"):
        log.keep(log.new_note("", NOW), [a_record("a"), a_record("b")], at=[1.0])
    assert log.notes() == []


def test_segments_are_closed_at_their_size_and_read_as_one(folder: Path) -> None:
    with Log.open(folder, clock=clock, segment_bytes=1_500) as log:
        for number in range(20):
            log.keep(log.new_note("x" * (10 if number != 7 else 4_000), NOW), [a_record(str(number))])
        kept = state(log)
    sizes = [path.stat().st_size for path in sorted(folder.glob("*.jsonl"))]
    assert len(sizes) > 5
    assert [size for size in sizes if size > 1_500] == [max(sizes)]
    with Log.open(folder, clock=clock) as log:
        assert state(log) == kept
