"""Timed words into running text: what captions and timed transcripts have in common.

A cue is what was said from one second on. Rolling captions repeat the line before: such repeats are merged.
Bracketed sounds and speakers' names are captioners' notes, not the keeper's words, and are left out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from assistant.errors import FileError
from assistant.exchange.clean import one_line
from assistant.exchange.incoming import Incoming, Page
from assistant.exchange.said import said_on
from assistant.records import SetUp

TOUCHING = 0.5
"""Seconds of silence between two captions that still roll into each other."""
MOST_ROLLED = 4
"""Lines that a caption may carry over from the one before; a screen shows two or three."""

_SOUND = re.compile(
    r"\b(?:music\w*|applau\w+|laugh\w*|chuckl\w*|giggl\w*|cough\w*|sneez\w*|sigh\w*|sniff\w*|cheer\w*|noise\w*|"
    r"sound\w*|bark\w*|rustl\w*|clatter\w*|thud\w*|squelch\w*|splash\w*|bang\w*|click\w*|beep\w*|ring\w*|chirp\w*|"
    r"silence|inaudible|indistinct|unintelligible|crosstalk|blank_audio|no audio|foreign|gasp\w*|groan\w*|"
    r"hum\w*|whistl\w*)\b",
    re.IGNORECASE,
)
_BRACKETS = re.compile(r"\[[^\[\]]{0,60}\]|\([^()]{0,60}\)")
_SONG = re.compile(r"[♪♫♬][^♪♫♬]{0,200}[♪♫♬]|[♪♫♬]+")
_CHEVRONS = re.compile(r"^\s*(?:>>+|[-–—]+(?=\s|[^\W\d]))\s*")
_LABEL = re.compile(r"^(?P<who>[^\W\d_][\w.'’-]*(?:[ ][\w.'’-]+){0,2}):(?=\s|$)\s*")
_NUMBERED = re.compile(r"^(?:speaker|voice|person|guest|host)\s*\w{1,3}$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Cue:
    """What was said from `start` to `end` (seconds; `end` None where not given), line by line."""

    start: float
    end: float | None
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        """The lines joined, white space made single."""
        return " ".join(" ".join(self.lines).split())


def clock_seconds(hours: str | None, minutes: str, seconds: str, fraction: str | None) -> float:
    """Seconds of a time written in parts; `fraction` is the digits after the point (05: five hundredths)."""
    whole = int(hours or 0) * 3600 + int(minutes) * 60 + int(seconds)
    return whole + round(int(fraction) / 10 ** len(fraction), 3) if fraction else float(whole)


def unreadable_time(name: str, number: int, line: str) -> FileError:
    """The error for a caption's time that makes no sense, with the number of its line."""
    return FileError(f"{one_line(name)}, line {number}: '{one_line(line, 60)}' is not a time to be read")


def as_note(
    cues: Sequence[Cue], page: Page, *, heading: str = "", day: str | None = None, doubts: Iterable[str] = ()
) -> list[Incoming]:
    """One note of all cues in the order of the file; no note where no cue has words.

    `day` is the note's own where it is known; else `heading`, the first cue or the file gives it.
    """
    cues, left_out = without_speakers([replace(c, lines=_spoken(c.lines)) for c in cues], page.setup)
    text, marks = run_together(cues)
    if not text:
        return []
    day_doubts: tuple[str, ...] = ()
    if day is None:
        day, day_doubts = said_on(page, heading, text)
    return [Incoming(text, day, page.name, marks, doubts=(*day_doubts, *doubts, *left_out))]


def run_together(cues: Sequence[Cue]) -> tuple[str, tuple[tuple[int, float], ...]]:
    """The running text, cues joined by a space, and (character, second) for each cue that has words."""
    parts: list[str] = []
    marks: list[tuple[int, float]] = []
    length = 0
    for cue in cues:
        words = cue.text
        if not words:
            continue
        marks.append((length, cue.start))
        parts.append(words)
        length += len(words) + 1
    return " ".join(parts), tuple(marks)


def unrolled(cues: Sequence[Cue]) -> tuple[list[Cue], int]:
    """The cues without the lines that roll over from the cue before, and how many lines were so merged.

    A line rolls over where two cues overlap or touch and the later one begins with the last lines of the
    earlier, or its first line goes on from (at least two words of) the earlier one's last.
    """
    kept: list[Cue] = []
    merged = 0
    before: Cue | None = None
    for cue in cues:
        lines = tuple(line for line in (" ".join(line.split()) for line in cue.lines) if line)
        fresh = lines
        if before is not None and before.lines and _touch(before, cue):
            fresh, again = _fresh_lines(before.lines, lines)
            merged += again
        kept.append(replace(cue, lines=fresh))
        if lines:
            before = replace(cue, lines=lines)
        elif before is not None and _touch(before, cue):  # a blank cue holds the line before
            before = replace(before, end=cue.end)
    return kept, merged


def merged_doubt(merged: int) -> tuple[str, ...]:
    """The plain line that tells of merged captions."""
    if not merged:
        return ()
    return (f"{merged} caption line{'s' if merged > 1 else ''} that only repeated the line before",)


def without_speakers(cues: Sequence[Cue], setup: SetUp) -> tuple[list[Cue], tuple[str, ...]]:
    """The cues without speakers' names before a colon, and a doubt that tells which names were left out.

    A name is a label that comes at least twice, each word with a capital, none of them said in small letters
    anywhere, and not a bin's name; or "Speaker 1" and the like.
    """
    seen = Counter(m["who"] for cue in cues if (m := _LABEL.match(cue.text)))
    said = set(" ".join(cue.text for cue in cues).split())
    bins = {name.lower() for b in setup for name in (b.name, *b.also)}
    bins |= {name.lower() for b in setup for _, names in b.tier_names for name in names}

    def is_name(who: str, times: int) -> bool:
        if _NUMBERED.match(who):
            return True
        words = who.split()
        capitals = all(word[0].isupper() or word[0].isdigit() for word in words)
        small = any(word.lower().strip(".") in said for word in words if not word.islower())
        return times > 1 and capitals and not small and who.lower() not in bins

    names = {who for who, times in seen.items() if is_name(who, times)}
    if not names:
        return list(cues), ()
    out = []
    for cue in cues:
        label = _LABEL.match(cue.text)
        out.append(replace(cue, lines=(cue.text[label.end() :],)) if label and label["who"] in names else cue)
    listed = ", ".join(sorted(one_line(name, 40) for name in names))
    return out, (f"left out as names of speakers: {listed}",)


def _spoken(lines: tuple[str, ...]) -> tuple[str, ...]:
    """The lines without bracketed sounds, song signs and the marks of a change of speaker."""
    text = _SONG.sub(" ", "\n".join(_CHEVRONS.sub("", line) for line in lines))
    alone = text.strip()

    def keep(found: re.Match[str]) -> str:
        inside = found.group()[1:-1]
        wordless = not any(c.isalnum() for c in inside)
        whole = found.group() == alone and not any(c.isdigit() for c in inside)
        return " " if wordless or whole or _SOUND.search(inside) else found.group()

    return tuple(_BRACKETS.sub(keep, text).split("\n"))


def _touch(before: Cue, cue: Cue) -> bool:
    return before.end is not None and before.start <= cue.start <= before.end + TOUCHING


def _fresh_lines(before: tuple[str, ...], lines: tuple[str, ...]) -> tuple[tuple[str, ...], int]:
    for size in range(min(len(before), len(lines), MOST_ROLLED), 0, -1):
        if before[-size:] == lines[:size]:
            return lines[size:], size
    last = before[-1] + " "
    if lines and " " in before[-1] and lines[0].startswith(last):
        return (lines[0][len(last) :], *lines[1:]), 1
    return lines, 0
