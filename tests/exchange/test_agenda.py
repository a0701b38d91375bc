"""What is due as a calendar (input 42).

Sources: RFC 5545 (sections named at each check); the icalendar library as outside reader.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.exchange import agenda
from assistant.exchange.clean import shown
from assistant.exchange.outgoing import Outgoing
from assistant.exchange.outward import write_file

NOW = datetime(2026, 3, 6, 12, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Due:
    what: str
    bin: str | None = None
    tier: int | None = None
    day: str | None = None
    why: str = ""


def calendar(*due: Due) -> str:
    return agenda.write(Outgoing((), {}, (), due, NOW))


def test_what_is_due_reads_back_the_same(tmp_path: Path) -> None:
    due = [
        Due(
            "feed, then cover; wait",
            "cellar stack",
            2,
            "2026-03-09",
            'fed on Monday,\n"two" cups; \\ all gone 🪱',
        ),
        Due("look for cocoons", None, None, None, ""),
        Due("mist", "shed", None, "2026-03-10T18:00", "dry"),
    ]
    write_file(tmp_path / "a.ics", (), {}, (), due, now=NOW)
    read = icalendar.Calendar.from_ical((tmp_path / "a.ics").read_bytes())
    assert (str(read["VERSION"]), read.name) == ("2.0", "VCALENDAR")  # 3.7.4
    first, second, third = read.subcomponents
    assert (first.name, second.name, third.name) == ("VEVENT", "VTODO", "VEVENT")
    assert str(first["SUMMARY"]) == "feed, then cover; wait (cellar stack, tier 2)"
    assert str(first["DESCRIPTION"]) == due[0].why
    assert (first["DTSTART"].dt, first["DTEND"].dt) == (
        date(2026, 3, 9),
        date(2026, 3, 10),
    )  # 3.6.1: end exclusive
    assert third["DTSTART"].dt == date(2026, 3, 10)
    assert "DUE" not in second and "DTSTART" not in second
    assert {c["DTSTAMP"].dt for c in read.subcomponents} == {NOW}  # 3.8.7.2: in UTC
    assert not [error for c in read.walk() for error in c.errors]


def test_the_signs_of_the_format_are_escaped_in_words() -> None:
    """RFC 5545, 3.3.11: backslash, semicolon, comma and line end in a TEXT."""
    lines = calendar(Due("a, b; c\\d", "shed", 1, "2026-03-09", "one\r\ntwo")).split("\r\n")
    assert r"SUMMARY:a\, b\; c\\d (shed\, tier 1)" in lines and r"DESCRIPTION:one\ntwo" in lines


def test_the_same_thing_due_keeps_its_uid_and_no_two_share_one() -> None:
    """RFC 5545, 3.8.4.7."""
    feed, mist = Due("feed", "shed", 1, "2026-03-09"), Due("mist", "shed", 1, "2026-03-09")

    def uids(*due: Due) -> list[str]:
        return [str(c["UID"]) for c in icalendar.Calendar.from_ical(calendar(*due)).subcomponents]

    assert uids(feed, mist) == [*uids(feed), *uids(mist)]
    assert len(set(uids(feed, feed, mist))) == 3


@pytest.mark.parametrize(
    "text", ["é" * 200, "🪱" * 100, "a" * 72 + "🪱", "a" * 73 + "🪱", "a" * 74 + "é", "a,;\\\n" * 50]
)
def test_no_line_is_longer_than_75_octets_nor_cut_in_a_character(text: str) -> None:
    """RFC 5545, 3.1: a line is at most 75 octets, and is folded by CRLF and one space."""
    data = calendar(Due(text, day="2026-03-09", why=text)).encode("utf-8")
    lines = data.split(b"\r\n")
    assert lines[-1] == b"" and b"\n" not in data.replace(b"\r\n", b"")
    for line in lines:
        assert len(line) <= 75
        line.decode("utf-8")  # raises where a character was cut
    [event] = icalendar.Calendar.from_ical(data).subcomponents
    assert (str(event["SUMMARY"]), str(event["DESCRIPTION"])) == (text, text)


@settings(max_examples=80, deadline=None)
@given(st.text(min_size=1), st.text(min_size=1), st.none() | st.dates(date(1900, 1, 1)).map(str))
def test_any_words_survive(what: str, why: str, day: str | None) -> None:
    """Controls cannot stand in a TEXT (3.3.11), so that the words are those that are safe to show."""
    data = calendar(Due(what, day=day, why=why)).encode("utf-8", "replace")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    [component] = icalendar.Calendar.from_ical(data).subcomponents
    assert component.name == ("VEVENT" if day else "VTODO")
    assert str(component["SUMMARY"]) == shown(what) and str(component["DESCRIPTION"]) == shown(why)


def test_a_day_that_is_none_becomes_a_to_do() -> None:
    assert "BEGIN:VTODO" in calendar(Due("feed", day="soon"))
