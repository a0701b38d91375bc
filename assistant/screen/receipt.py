"""Lines of a receipt: each record in one line of plain words, safe to show, with the note it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from assistant.errors import BinsideError
from assistant.exchange.clean import one_line
from assistant.records import Entry, Note
from assistant.screen.values import Line
from assistant.wording import line as words

if TYPE_CHECKING:
    from assistant.session import Session

WIDTH = 500
"""Characters that a line may have at most."""


def lines(
    session: Session, entries: Sequence[Entry], near: Note | None, gone: bool = False
) -> tuple[Line, ...]:
    """A line for each entry; `near` is a note at hand, the others come from the log."""
    notes: dict[str, Note | None] = {near.id: near} if near else {}
    for entry in entries:
        if entry.note not in notes:
            notes[entry.note] = _note(session, entry.note)
    return tuple(_line(entry, notes[entry.note], gone) for entry in entries)


def as_they_stand(session: Session, shown: Iterable[Line]) -> dict[str, Line]:
    """Of the lines on the screen, by id, those that no longer say what the log says."""
    changed = {}
    for old in shown:
        try:
            entry = session.log.entry(old.entry.id)
        except BinsideError:
            if not old.gone:
                changed[old.entry.id] = _line(old.entry, old.note, gone=True)
            continue
        if old.gone or entry.version != old.entry.version:
            changed[entry.id] = _line(entry, old.note)
    return changed


def _line(entry: Entry, note: Note | None, gone: bool = False) -> Line:
    amended = "; amended" if entry.version > 1 else ""
    text = f"{'taken back: ' if gone else ''}{words(entry)}{amended}"
    return Line(entry, note, one_line(text, WIDTH), gone)


def _note(session: Session, note_id: str) -> Note | None:
    try:
        return session.log.note(note_id)
    except BinsideError:
        return None
