"""SubRip captions (.srt).

Source: the SubRip layout as the Matroska subtitle specification gives it (section "SRT Subtitles"): a number,
a line `HH:MM:SS,mmm --> HH:MM:SS,mmm`, the text, an empty line. Numbers may be missing and are not needed.
"""

from __future__ import annotations

import re

from assistant.errors import FileError
from assistant.exchange.clean import one_line
from assistant.exchange.cues import Cue, as_note, clock_seconds, merged_doubt, unreadable_time, unrolled
from assistant.exchange.incoming import Incoming, Page

_TIME = r"(?:(\d+):)?(\d{1,4}):(\d{1,2})(?:[,.](\d{1,3}))?"
_TIMING = re.compile(rf"^\s*{_TIME}\s*-->\s*{_TIME}(?:\s.*)?$")
_MEANT = re.compile(r"^\s*\d+[:.,]\d[^>]{0,80}-->|-->\s*\d+:\d")
_TAGS = re.compile(r"</?[a-zA-Z][^<>\n]*>|\{\\[^{}\n]*\}|\{/?[a-zA-Z]\}")


def read(page: Page) -> list[Incoming]:
    """The captions as one note. FileError names the line whose time cannot be read."""
    cues, merged = unrolled(cues_of(page.text, page.name))
    notes = as_note(cues, page, doubts=merged_doubt(merged))
    if not notes:
        raise FileError(f"{one_line(page.name)}: no words in these captions")
    return notes


def cues_of(text: str, name: str) -> list[Cue]:
    """The cues in the order of the file, blank ones too."""
    cues: list[Cue] = []
    lines = text.split("\n")
    start, end = 0.0, 0.0
    body: list[str] | None = None  # None above the first time
    for number, line in enumerate(lines, 1):
        timing = _TIMING.match(line)
        if timing is None:
            if _MEANT.search(line):
                raise unreadable_time(name, number, line)
            if body is not None:
                body.append(line)
            continue
        if body is not None:
            cues.append(Cue(start, end, _without_number(body)))
        start, end = clock_seconds(*timing.groups()[:4]), clock_seconds(*timing.groups()[4:])
        body = []
    if body is not None:
        cues.append(Cue(start, end, _plain(body)))
    if not cues:
        raise FileError(f"{one_line(name)}: no captions, which need lines like 00:00:01,000 --> 00:00:04,000")
    return cues


def _without_number(body: list[str]) -> tuple[str, ...]:
    """The text lines of a cue; a bare number just above the next cue's time is that cue's number."""
    return _plain(body[:-1] if body and body[-1].strip().isdecimal() else body)


def _plain(body: list[str]) -> tuple[str, ...]:
    return tuple(_TAGS.sub("", line).strip() for line in body if line.strip())
