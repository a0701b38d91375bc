"""Timed transcripts in plain text: `[m:ss] words`, `[h:mm:ss.mmm] words`, `m:ss words`, a time above words.

No standard covers these; the forms are common practice, no source. The order of the file is kept, whatever
the times.
"""

from __future__ import annotations

import re

from assistant.exchange.clean import one_line
from assistant.exchange.cues import Cue, clock_seconds

_TIME = r"(?:(\d{1,3}):)?(\d{1,4}):([0-5]\d)(?:[.,](\d{1,3}))?"
_UNTIL = r"(?:\s*(?:-->|->|-|–|—|to)\s*(?:\d{1,3}:)?\d{1,4}:\d{2}(?:[.,]\d{1,3})?)?"
_BRACKETED = re.compile(rf"\[\s*{_TIME}{_UNTIL}\s*\]|\(\s*{_TIME}{_UNTIL}\s*\)")
_AHEAD = re.compile(rf"^\s*{_TIME}{_UNTIL}(?![\d:.,])(?!\s*[ap]\.?m\b)(?:\s*[-–—|]\s+|\s+|$)", re.IGNORECASE)
_NAMED = re.compile(rf"^\s*(?P<who>[^\W\d_][\w.'’-]*(?:[ ][\w.'’-]+){{0,2}})\s+{_TIME}\s*$")
_NAME = re.compile(r"^\s*(?P<who>[^\W\d_][\w.'’-]*(?:[ ][\w.'’-]+){0,2})[ \t]*$")
_LEAD = re.compile(r"^\s*(?:[:|]|[-–—]+(?=\s))?\s*")
_NOT_A_TIME = re.compile(r"^\s*[\[(]\s*\d+(?::\d+)+(?:[.,]\d+)?\s*[\])]")
MOST_BARE = 0.4
"""Share of lines that have to begin with a time, where the times stand in no brackets."""

Mark = tuple[str, float | None, str]  # a name before the time, its second, the words after


def is_timed(lines: list[str]) -> bool:
    """Whether these lines are a timed transcript and not notes with clock times in them.

    Bracketed times at the head of the first line or of two lines are enough. Times without brackets have to
    lead most lines and begin in the first minute or be written to the second of an hour ("0:00:05").
    """
    full = [line for line in lines if line.strip()]
    bracketed = [bool(_heads(line)) for line in full]
    if bracketed[:1] == [True] or sum(bracketed) > 1:
        return True
    bare = [m for line in full if (m := _AHEAD.match(line) or _NAMED.match(line))]
    if not bare or len(bare) < MOST_BARE * len(full):
        return False
    hours, minutes, _, fraction = _parts(bare[0])
    return bool(hours or fraction or int(minutes) == 0)


def cues_of(lines: list[str], number: int = 1) -> tuple[str, list[Cue], list[str]]:
    """The words above the first time, the cues in the order of the file, and doubts.

    `number` is what the first line counts as.
    """
    heading: list[str] = []
    found: list[tuple[float, list[str]]] = []
    doubts: list[str] = []
    bare_too = not any(_heads(line) for line in lines)
    for n, line in enumerate(lines, number):
        if _NOT_A_TIME.match(line) and not _heads(line):
            doubts.append(f"line {n}: '{one_line(line, 40)}' is not a time")
        for before, second, after in _marks(line, bare_too):
            if second is not None:
                found.append((second, [f"{before}: {after}" if before else after]))
            else:  # words with no time of their own go on with the cue before
                (found[-1][1] if found else heading).append(after)
    return "\n".join(heading).strip(), [Cue(second, None, tuple(words)) for second, words in found], doubts


def _heads(line: str) -> re.Match[str] | None:
    """A bracketed time at the head of the line, maybe behind a speaker's name."""
    found = _BRACKETED.search(line[:80])
    if found is None:
        return None
    before = line[: found.start()].rstrip(": ")
    return found if not before.strip() or (_NAME.match(before) and line[found.start()] == "[") else None


def _marks(line: str, bare_too: bool) -> list[Mark]:
    """The line cut at its times; one piece without a second where it has none."""
    head = _heads(line)
    if head is None and bare_too and (bare := _AHEAD.match(line) or _NAMED.match(line)):
        return [(bare.groupdict().get("who", ""), clock_seconds(*_parts(bare)), line[bare.end() :])]
    if head is None:
        return [("", None, line)]
    before = line[: head.start()].strip(": \t")
    later = [m for m in _BRACKETED.finditer(line, head.end()) if m.group()[0] == "["]
    marks: list[Mark] = []
    for found, following in zip([head, *later], [*later, None], strict=True):
        words = line[found.end() : following.start() if following else len(line)]
        marks.append((before, clock_seconds(*_parts(found)), _LEAD.sub("", words)))
        before = ""
    return marks


def _parts(found: re.Match[str]) -> tuple[str, ...]:
    """Hours, minutes, seconds, fraction of the time found, be it behind a name or in the second bracket."""
    first = found.re.groupindex.get("who", 0)
    first += 0 if found[first + 2] else 4
    return found.groups()[first : first + 4]
