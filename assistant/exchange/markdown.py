"""The log as Markdown (.md): to read, print or keep beside other notes.

Source: CommonMark 0.31, sections 2.4 (backslash escapes), 5 (what a line may begin with) and 6.6 (raw HTML,
which is never let through); tables as in GitHub Flavored Markdown 4.10.
"""

from __future__ import annotations

import re

from assistant.exchange.clean import shown
from assistant.exchange.outgoing import DueLike, Outgoing, place
from assistant.exchange.summary import HEADINGS, by_note, moment, row_of, tiers

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&])")
_LEADING = re.compile(r"^(\s*)([-+=]|\d+(?=[.)]))")


def write(out: Outgoing) -> str:
    """Bins, what is due, then the notes by day, each with its words and a table of its records."""
    blocks = ["# Worm bin log", f"Written on {out.now:%Y-%m-%d}."]
    if out.setup:
        blocks += ["## Bins", "\n".join(f"- {_inline(b.name)}: {tiers(b.tiers)}" for b in out.setup)]
    if out.due:
        blocks += ["## Due", "\n".join(map(_due, out.due))]
    if out.entries or out.notes:
        blocks.append("## Notes")
    for said_on, note, entries in by_note(out):
        blocks.append(f"### {_inline(moment(said_on))}")
        if note is not None:
            blocks.append("\n".join(f"> {_line(line)}".rstrip() for line in shown(note.text).split("\n")))
        if entries:
            rows = [HEADINGS, tuple("---" for _ in HEADINGS)]
            rows += [tuple(map(_inline, row_of(entry.record))) for entry in entries]
            blocks.append("\n".join(f"| {' | '.join(row)} |" for row in rows))
    return "\n\n".join(blocks) + "\n"


def _due(due: DueLike) -> str:
    where = place(due.bin, due.tier)
    return f"- {due.day or 'no day set'}: " + _inline(
        f"{due.what}{f' ({where})' if where else ''}. {due.why}"
    )


def _inline(text: str) -> str:
    """Text on one line, nothing in it taken for markup."""
    return _SPECIAL.sub(r"\\\1", " ".join(shown(text).split()))


def _line(line: str) -> str:
    """A line of a note, nothing in it taken for markup, its first characters neither."""
    return _LEADING.sub(_escape_leading, _SPECIAL.sub(r"\\\1", line))


def _escape_leading(found: re.Match[str]) -> str:
    space, sign = found.groups()
    return f"{space}{sign}\\" if sign.isdigit() else f"{space}\\{sign}"
