"""Plain notes (.txt, .md): a date line opens a new note; a part with times is read as a timed transcript.

Captions saved under a plain ending are known by their own marks and read as what they are.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date

from assistant.errors import FileError
from assistant.exchange import subrip, timed, webvtt
from assistant.exchange.clean import one_line
from assistant.exchange.cues import Cue, as_note
from assistant.exchange.days import LONGEST, date_line
from assistant.exchange.incoming import Incoming, Page
from assistant.exchange.said import dated, file_day

_CUE_TIME = re.compile(r"^\s*\d+:\d{2}(?::\d{2})?[,.]\d{1,3}\s*-->", re.MULTILINE)
_NEITHER_DIGIT_NOR_MONTH = re.compile(r"^[^\d]*$")


@dataclass(slots=True)
class Part:
    """The lines below one date line; `day` is None above the first. `number` is that of its first line."""

    day: str | None
    doubts: list[str]
    number: int
    lines: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """The lines as they stood, without empty ones above and below."""
        return "\n".join(self.lines).strip("\n")


def read(page: Page) -> list[Incoming]:
    """A note for each part with words in it. FileError where there is none."""
    if page.text.startswith("WEBVTT"):
        return webvtt.read(page)
    if _CUE_TIME.search(page.text[:2000]):
        return subrip.read(page)
    notes = [note for part in parts_of(page) for note in _notes_of(part, page)]
    if not notes:
        raise FileError(f"{one_line(page.name)}: nothing to record in this file")
    return notes


def parts_of(page: Page) -> list[Part]:
    """The file cut at its date lines."""
    near: date = page.today
    parts = [Part(None, [], 1)]
    for number, line in enumerate(page.text.split("\n"), 1):
        opened = None if _NEITHER_DIGIT_NOR_MONTH.match(line[:LONGEST]) else date_line(line, near)
        if opened is None:
            parts[-1].lines.append(line)
            continue
        day, rest = opened
        if day.said_on is None:  # a date line in shape, but no such day: its words are kept as words
            parts[-1].lines.append(line)
            parts[-1].doubts += [f"line {number}: {doubt}" for doubt in day.doubts]
            continue
        said_on, doubts = dated(day, page)
        near = date.fromisoformat(said_on[:10])
        first = number if rest else number + 1
        parts.append(Part(said_on, [f"line {number}: {doubt}" for doubt in doubts], first))
        if rest:
            parts[-1].lines.append(rest)
    return parts


def _notes_of(part: Part, page: Page) -> list[Incoming]:
    if not part.text.strip():
        return []
    if timed.is_timed(part.lines):
        heading, cues, doubts = timed.cues_of(part.lines, part.number)
        if heading:  # it may name the bin
            cues.insert(0, Cue(cues[0].start, None, (heading,)))
        return as_note(cues, page, heading=heading, day=part.day, doubts=(*part.doubts, *doubts))
    day, doubts_of_day = (part.day, ()) if part.day else file_day(page)
    return [Incoming(part.text, day, page.name, doubts=(*part.doubts, *doubts_of_day))]
