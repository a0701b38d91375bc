"""One record, opened at its exact words in the note: to look at, to amend in place, to take back."""

from __future__ import annotations

from typing import ClassVar, Literal, TypeAlias

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Label, Static

from assistant.errors import BinsideError
from assistant.exchange.clean import shown
from assistant.records import Record, SetUp
from assistant.screen.values import Line

AROUND = 600
"""Characters of the note shown on each side of the record's words."""

Wish: TypeAlias = Record | Literal["drop"] | None
"""What the keeper wants of the record: another version, to take it back, or nothing."""


class RecordScreen(ModalScreen[Wish]):
    """The record's line, its words in the note, and its fields."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave as it is"),
        Binding("ctrl+s", "save", "Save"),
        Binding("f8", "drop", "Take back"),
    ]

    def __init__(self, line: Line, bins: SetUp) -> None:
        super().__init__()
        self.line, self.bins = line, bins

    def compose(self) -> ComposeResult:
        """The words first, then the fields, then the keys."""
        from assistant.screen.form import LABELS, fields

        record = self.line.entry.record
        with VerticalScroll() as frame:
            frame.border_subtitle = "Esc leaves, ctrl+s saves, F8 takes back"
            yield Static(self.line.text, markup=False, classes="-what")
            yield Static(in_note(self.line), markup=False, classes="-words")
            for name, text in fields(record).items():
                with Horizontal(classes="-field"):
                    yield Label(LABELS[name])
                    yield Input(text, compact=True, name=name, select_on_focus=False, disabled=self.line.gone)
            yield Static("", markup=False, classes="-problem")
            with Horizontal(classes="-keys"):
                yield Button("Save (ctrl+s)", action="screen.save", compact=True, disabled=self.line.gone)
                yield Button("Take back (F8)", action="screen.drop", compact=True, disabled=self.line.gone)
                yield Button("Leave as it is (Esc)", action="screen.leave", compact=True)

    @on(Input.Submitted)
    def action_save(self) -> None:
        """Save what was changed; saving a guess makes it sure."""
        from assistant.screen.form import amended, units

        record = self.line.entry.record
        texts = {field.name or "": field.value for field in self.query(Input)}
        try:
            new = amended(record, texts, self.bins, units())
        except BinsideError as error:
            self.query_one(".-problem", Static).update(f"Not done: {error}")
            return
        self.dismiss(new if new != record else None)

    def action_drop(self) -> None:
        """Take the record back."""
        if not self.line.gone:
            self.dismiss("drop")

    def action_leave(self) -> None:
        """Leave the record as it is."""
        self.dismiss(None)


def in_note(line: Line) -> Content:
    """The note around the record's words, with the words between angle marks as well as in reverse."""
    record, note = line.entry.record, line.note
    if note is None:
        return Content(f"‹{shown(record.text)}›")
    start, end = record.start, record.end
    if not 0 <= start < end <= len(note.text):
        return Content(shown(note.text[: 2 * AROUND]))
    before, after = note.text[max(0, start - AROUND) : start], note.text[end : end + AROUND]
    return Content.assemble(
        ("…" if start > AROUND else "") + shown(before),
        (f"‹{shown(note.text[start:end])}›", "reverse"),
        shown(after) + ("…" if end + AROUND < len(note.text) else ""),
    )
