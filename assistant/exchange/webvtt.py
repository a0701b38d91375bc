"""WebVTT captions (.vtt).

Source: W3C, WebVTT: The Web Video Text Tracks Format, sections 4 (syntax), 6.1 (file parsing), 6.4 (cue
text). Taken more kindly than there: a comma for the point, one-digit fields; less kindly: a time that cannot
be read is an error that names its line, where the standard drops the cue without a word.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

from assistant.errors import FileError
from assistant.exchange.clean import one_line
from assistant.exchange.cues import Cue, as_note, clock_seconds, merged_doubt, unreadable_time, unrolled
from assistant.exchange.incoming import Incoming, Page

_TIME = r"(?:(\d+):)?(\d{1,4}):([0-5]?\d)(?:[.,](\d{1,3}))?"
_TIMING = re.compile(rf"^\s*{_TIME}\s*-->\s*{_TIME}(?:\s.*)?$")
_TAGS = re.compile(r"</?[a-zA-Z][^<>]*>|<[\d:.]+>|</?>")
_SIGNATURE = re.compile(r"^WEBVTT(?:[ \t](?P<title>.*))?$")
_ASIDE = re.compile(r"^(?:NOTE|STYLE|REGION)(?:\s|$)")

Block = tuple[int, list[str]]  # number of its first line, its lines


def read(page: Page) -> list[Incoming]:
    """The captions as one note. FileError names the line that breaks the format."""
    title, cues = cues_of(page.text, page.name)
    cues, merged = unrolled(cues)
    notes = as_note(cues, page, heading=title, doubts=merged_doubt(merged))
    if not notes:
        raise FileError(f"{one_line(page.name)}: no words in these captions")
    return notes


def cues_of(text: str, name: str) -> tuple[str, list[Cue]]:
    """The words beside the signature, and the cues in the order of the file."""
    first, _, rest = text.partition("\n")
    signature = _SIGNATURE.match(first.rstrip())
    if signature is None:
        raise FileError(f"{one_line(name)}, line 1: a WebVTT file has to begin with the word WEBVTT")
    cues = []
    for number, lines in _blocks(rest.split("\n")):
        at = next((i for i, line in enumerate(lines[:2]) if "-->" in line), None)
        if at is None:  # header lines, NOTE, STYLE, REGION
            continue
        timing = _TIMING.match(lines[at])
        if timing is None and _ASIDE.match(lines[0]):
            continue
        if timing is None:
            raise unreadable_time(name, number + at, lines[at])
        start, end = clock_seconds(*timing.groups()[:4]), clock_seconds(*timing.groups()[4:])
        cues.append(Cue(start, end, _plain(lines[at + 1 :])))
    return signature["title"] or "", cues


def _blocks(lines: list[str]) -> Iterator[Block]:
    """Runs of lines between empty lines; a second line with an arrow opens a new block (section 6.1)."""
    block: list[str] = []
    begun, timed = 2, False
    for number, line in enumerate(lines, 2):
        arrow = "-->" in line
        if line == "" or (arrow and (timed or len(block) > 1)):
            if block:
                yield begun, block
            block, timed = [], False
        timed = timed or arrow
        if line:
            begun = begun if block else number
            block.append(line)
    if block:
        yield begun, block


def _plain(body: list[str]) -> tuple[str, ...]:
    """Cue text without its tags, its character references resolved (section 6.4)."""
    text = _TAGS.sub("", "\n".join(body))
    return tuple(line.strip() for line in html.unescape(text).split("\n") if line.strip())
