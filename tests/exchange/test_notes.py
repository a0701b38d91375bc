"""Plain notes: a date line opens a note. Dates by ISO 8601 and as people write them (common practice)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange.days import date_line, find_day
from assistant.exchange.inward import read_file

Put = Callable[[str, str | bytes], Path]
NEAR = date(2026, 3, 6)


@pytest.mark.parametrize(
    ("line", "said_on"),
    [
        ("2026-03-05", "2026-03-05"),
        ("# 2026-03-05", "2026-03-05"),
        ("## Thursday, March 5, 2026", "2026-03-05"),
        ("**Thu 5 Mar 2026**", "2026-03-05"),
        ("5 March 2026", "2026-03-05"),
        ("5th of March, 2026", "2026-03-05"),
        ("March 5th 2026:", "2026-03-05"),
        ("Mar. 5, 2026", "2026-03-05"),
        ("SEPT 1 2025", "2025-09-01"),
        ("3/5/2026", "2026-03-05"),
        ("3/15/26", "2026-03-15"),
        ("15/3/2026", "2026-03-15"),
        ("5.3.2026", "2026-03-05"),
        ("2026/3/5", "2026-03-05"),
        ("20260305", "2026-03-05"),
        ("2026-03-05 (Thursday)", "2026-03-05"),
        ("Date: 2026-03-05", "2026-03-05"),
        ("--- 2026-03-05 ---", "2026-03-05"),
        ("2026-03-05 18:30", "2026-03-05T18:30:00"),
        ("2026-03-05T18:30:15", "2026-03-05T18:30:15"),
        ("March 5, 2026 at 6:30 pm", "2026-03-05T18:30:00"),
        ("March 5, 2026, 7 a.m.", "2026-03-05T07:00:00"),
        ("5 March 2026 - 12:05 am", "2026-03-05T00:05:00"),
        ("5 March", "2026-03-05"),
        ("Dec 30", "2025-12-30"),
    ],
)
def test_a_date_line(line: str, said_on: str) -> None:
    found = date_line(line, NEAR)
    assert found is not None and (found[0].said_on, found[1]) == (said_on, "")


@pytest.mark.parametrize(
    ("line", "rest"),
    [
        ("2026-03-05: fed the top", "fed the top"),
        ("March 5, 2026 - fed the top", "fed the top"),
        ("## 2026-03-05 cellar stack", "cellar stack"),
        ("# Cellar stack, 5 March 2026", "Cellar stack"),
    ],
)
def test_a_date_line_that_says_more(line: str, rest: str) -> None:
    found = date_line(line, NEAR)
    assert found is not None and (found[0].said_on, found[1]) == ("2026-03-05", rest)


@pytest.mark.parametrize(
    "line",
    ["fed on 2026-03-05", "2026-03-05 was the last time", "may 5 worms live", "5 march worms", "12 cups",
     "7:40", "1/2", "1/2 cup", "3/5", "May", "turned in the 2 mar", "March 5 - fed it", "", "#", "2026",
     "half of 1/2/2026 batch", "# fed 5 may be more", "x" * 100_000],
)  # fmt: skip
def test_no_date_line(line: str) -> None:
    assert date_line(line, NEAR) is None


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_any_day_is_read_as_the_calendar_has_it(day: date) -> None:
    """Python's own formatting of dates is the check."""
    forms = ["%Y-%m-%d", "%d %B %Y", "%B %d, %Y", "%A, %b %d %Y", "## %A %d %B %Y", "%d.%m.%Y"]
    for form in forms + (["%Y%m%d"] if day.year < 2100 else []):  # eight digits could be any number
        found = date_line(day.strftime(form), NEAR)
        assert found is not None and found[0].said_on == day.isoformat() and found[0].doubts == (), form
    if day.day > 12:
        assert (american := find_day(day.strftime("%m/%d/%Y"), NEAR)) and american.said_on == day.isoformat()


@pytest.mark.parametrize(
    ("line", "doubt"),
    [
        ("Monday, March 5, 2026", "is a Thursday"),
        ("3/5/2026", "read as month, day, year"),
        ("5 March", "has no year; taken as 2026-03-05"),
        ("31 February 2026", "not a day of the calendar"),
        ("the 32nd of March 2026", "not a day of the calendar"),
        ("2026-13-05", "not a day of the calendar"),
        ("9999-01-01", "not a day of the calendar"),
        ("0001-01-01", "not a day of the calendar"),
    ],
)
def test_a_doubtful_day_is_told(line: str, doubt: str) -> None:
    day = find_day(line, NEAR)
    assert day is not None and len(day.doubts) == 1 and doubt in day.doubts[0]


def test_a_file_of_notes(put: Put, now: datetime) -> None:
    text = """bought two bags of leaves

# Thursday, March 5, 2026
fed the top tray
two cups

2026-03-06 7:40
misted

31 February 2026
still misted
2026-04-01
later
"""
    notes = read_file(put("log.md", text), now)
    assert [(n.text, n.said_on) for n in notes] == [
        ("bought two bags of leaves", "2026-03-04T09:30:00"),  # the file's day: when it was saved
        ("fed the top tray\ntwo cups", "2026-03-05"),
        ("misted\n\n31 February 2026\nstill misted", "2026-03-06T07:40:00"),
        ("later", "2026-04-01"),
    ]
    assert [n.doubts for n in notes] == [
        ("no date in the file; taken as 2026-03-04, when it was saved",),
        (),
        ("line 10: '31 February 2026' is not a day of the calendar",),
        ("line 12: 2026-04-01 lies after today",),
    ]
    assert all(n.records is None and n.source == "log.md" for n in notes)


def test_days_without_a_year_follow_the_days_around_them(put: Put, now: datetime) -> None:
    notes = read_file(put("log.txt", "December 28, 2024\na\nDecember 31\nb\nJanuary 2\nc\n"), now)
    assert [n.said_on for n in notes] == ["2024-12-28", "2024-12-31", "2025-01-02"]


def test_a_part_with_times_is_a_recording(put: Put, now: datetime) -> None:
    notes = read_file(put("log.txt", "2026-03-01\nfed\n2026-03-05\n[0:00] misted\n[0:05] twice\n"), now)
    assert [(n.text, n.said_on, n.marks) for n in notes] == [
        ("fed", "2026-03-01", ()),
        ("misted twice", "2026-03-05", ((0, 0.0), (7, 5.0))),
    ]


def test_the_words_are_kept_as_they_stand(put: Put, now: datetime) -> None:
    words = "  ½ cup\t3 café\0 \x1b[31m\u202e- * # not a heading 🪱"
    [note] = read_file(put("2026-03-05.txt", words + "\n"), now)
    assert note.text == words


def test_dates_with_nothing_below_them(put: Put, now: datetime) -> None:
    with pytest.raises(FileError, match="nothing to record"):
        read_file(put("a.txt", "2026-03-05\n\n2026-03-06\n"), now)
