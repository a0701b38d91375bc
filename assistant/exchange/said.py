"""The day a file's note was said on: its first line, its name, or when it was saved."""

from __future__ import annotations

import re
from datetime import date

from assistant.exchange.days import Day, day_of_name, find_day
from assistant.exchange.incoming import Page

_OPENING = re.compile(
    r"^\W*(?:(?:so|okay|ok|right|hi|hello)\W+){0,3}(?:(?:today is|today's|it's|it is|this is)\s+)?$",
    re.IGNORECASE,
)


def file_day(page: Page) -> tuple[str, tuple[str, ...]]:
    """The day in the file's name (ISO), else its modification time with a doubt."""
    named = day_of_name(page.stem, page.today)
    if named is not None and named.said_on:
        return dated(named, page)
    saved = min(page.saved, page.now.replace(tzinfo=None)).replace(microsecond=0)
    return saved.isoformat(), (f"no date in the file; taken as {saved:%Y-%m-%d}, when it was saved",)


def opening_day(line: str, page: Page) -> Day | None:
    """The day, year and all, that a line of talk opens with ("okay so today is March 5 2026 and")."""
    day = find_day(line[:200], page.today)
    if day is not None and day.year_said and day.said_on and _OPENING.match(line[: day.start]):
        return day
    return None


def dated(day: Day, page: Page) -> tuple[str, tuple[str, ...]]:
    """A found day (one with `said_on`) and its doubts, with a word where it lies ahead of the clock."""
    said_on = day.said_on or ""
    ahead = date.fromisoformat(said_on[:10]) > page.today
    return said_on, day.doubts + ((f"{said_on[:10]} lies after today",) if ahead else ())


def said_on(page: Page, heading: str, words: str) -> tuple[str, tuple[str, ...]]:
    """The day of a recording, with doubts: from its heading, what its words open with, else the file."""
    above = find_day(heading[:200], page.today)
    day = above if above is not None and above.year_said and above.said_on else opening_day(words, page)
    return dated(day, page) if day is not None else file_day(page)
