"""Timed transcripts in plain text (input 32). The forms are common practice, no source."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from assistant.exchange.inward import read_file
from assistant.records import Bin

Put = Callable[[str, str | bytes], Path]


@pytest.mark.parametrize(
    ("lines", "text", "seconds"),
    [
        ("[0:00] so the top\n[0:05] is wet", "so the top is wet", [0, 5]),
        ("[0:03.5] one\n[0:04,250] two\n[1:02:03.007] three", "one two three", [3.5, 4.25, 3723.007]),
        ("[99:59] one\n[100:00] two\n[12:00:00] three", "one two three", [5999, 6000, 43200]),
        ("[5:00] late\n[0:10] early\n[2:00] middle", "late early middle", [300, 10, 120]),
        ("(0:01) one\n(0:02) two", "one two", [1, 2]),
        ("0:00 one\n0:15 - two\n1:02:03 three", "one two three", [0, 15, 3723]),
        ("0:01\none\n0:09\ntwo\nand more", "one two and more", [1, 9]),
        ("[0:01 - 0:04] one\n[0:04 --> 0:09] two", "one two", [1, 4]),
        ("[0:01] one [0:05] two [0:09] three", "one two three", [1, 5, 9]),
        ("[0:01] [Music]\n[0:05] (music) one\n[0:07] two (laughs) three [ __ ]", "one two three", [5, 7]),
        ("[0:01] [Music]\n[0:05] about (two cups) of [coffee]\n", "about (two cups) of [coffee]", [5]),
        ("[0:01] ♪ la la ♪\n[0:05] >> one", "one", [5]),
        ("[0:01] Ana: a\n[0:05] Bo Li: b\n[0:09] Ana: c\n[0:11] Bo Li: d", "a b c d", [1, 5, 9, 11]),
        ("Ana [0:01]: one\nAna [0:05]: two", "one two", [1, 5]),
        ("Speaker 1  0:05\none\nSpeaker 2  1:05\ntwo", "one two", [5, 65]),
        ("[0:02] -2 C outside\n[0:05] - two cups", "-2 C outside two cups", [2, 5]),
        ("Cellar walk\n\n[0:00] fed it\n[0:05] twice", "Cellar walk fed it twice", [0, 0, 5]),
    ],
)
def test_forms(put: Put, now: datetime, lines: str, text: str, seconds: list[float]) -> None:
    [note] = read_file(put("2026-03-05.txt", lines), now)
    assert (note.text, [second for _, second in note.marks]) == (text, seconds)
    assert note.said_on == "2026-03-05" and note.records is None


def test_marks_stand_where_the_words_begin(put: Put, now: datetime) -> None:
    [note] = read_file(put("a.txt", "[0:00] so   the top\n[0:05]\n[0:07] is  wet\n  and cold\n"), now)
    assert [note.text[place:] for place, _ in note.marks] == ["so the top is wet and cold", "is wet and cold"]


@pytest.mark.parametrize(
    "lines",
    ["7:40 fed the top\n18:05 misted", "fed at 7:40\n[see 0:05]", "7:40 am fed\n7:50 am wet", "fed (0:05)"],
)
def test_clock_times_in_notes_are_no_recording(put: Put, now: datetime, lines: str) -> None:
    [note] = read_file(put("a.txt", lines), now)
    assert (note.text, note.marks) == (lines, ())


def test_a_label_that_may_be_a_bin_is_kept(put: Put, now: datetime) -> None:
    lines = "[0:01] Cellar: two cups\n[0:05] Garage: one\n[0:07] Cellar: misted\n[0:09] Garage: dry"
    path = put("a.txt", lines)
    [blind] = read_file(path, now)
    [knowing] = read_file(path, now, (Bin("cellar"), Bin("shed", also=("Garage",))))
    assert knowing.text == "Cellar: two cups Garage: one Cellar: misted Garage: dry"
    assert blind.text == "two cups one misted dry"  # they look like names, and that is said
    assert "left out as names of speakers: Cellar, Garage" in blind.doubts


@pytest.mark.parametrize("lines", ["[0:01] Moisture: good\n[0:05]", "[0:01] top tray: a\n[0:05] top tray: "])
def test_a_label_that_is_no_name_is_kept(put: Put, now: datetime, lines: str) -> None:
    assert ":" in read_file(put("a.txt", lines), now)[0].text


@pytest.mark.parametrize(
    ("name", "first", "said_on"),
    [
        ("walk 2026-03-05.txt", "", "2026-03-05"),
        ("walk_20260305_183000.txt", "", "2026-03-05"),
        ("March 5 2026 walk.txt", "", "2026-03-05"),
        ("5-March-2026.txt", "", "2026-03-05"),
        ("walk.txt", "2026-03-05\n", "2026-03-05"),
        ("walk.txt", "March 5 2026\n", "2026-03-05"),
        ("walk.txt", "Cellar walk, Thursday 5 March 2026\n", "2026-03-05"),
        ("walk.txt", "[0:00] okay so today is March 5, 2026 and\n", "2026-03-05"),
        ("2026-03-01.txt", "2026-03-05\n", "2026-03-05"),
        ("walk.txt", "[0:00] the bin I started on March 5, 2021\n", "2026-03-04T09:30:00"),
        ("walk 12.txt", "", "2026-03-04T09:30:00"),
    ],
)
def test_the_day(put: Put, now: datetime, name: str, first: str, said_on: str) -> None:
    [note] = read_file(put(name, first + "[0:01] one\n[0:02] two\n"), now)
    assert note.said_on == said_on
    assert bool(note.doubts) is (said_on == "2026-03-04T09:30:00")  # only the time of saving is doubted


def test_a_file_saved_after_now_is_taken_as_of_now(put: Put, now: datetime) -> None:
    path = put("walk.txt", "[0:01] one")
    os.utime(path, (now.timestamp() + 9e6, now.timestamp() + 9e6))
    assert read_file(path, now)[0].said_on == now.isoformat()


def test_a_line_is_named_by_its_place_in_the_file(put: Put, now: datetime) -> None:
    text = "2026-03-01: [0:03] one\n[5:75] two\n\n2026-03-05\n[0:03] one\n[5:75] two"
    notes = read_file(put("a.txt", text), now)
    assert [n.doubts[0][:7] for n in notes] == ["line 2:", "line 6:"]


def test_a_time_that_is_none_is_named(put: Put, now: datetime) -> None:
    [note] = read_file(put("2026-03-05.txt", "[0:03] one\n[5:75] two\n[0:09] three"), now)
    assert note.text == "one [5:75] two three" and note.doubts == ("line 2: '[5:75] two' is not a time",)
