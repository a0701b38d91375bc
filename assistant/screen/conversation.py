"""The conversation: one plain widget a message, one a record, the oldest let go; the log has them all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal, TypeAlias

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message as Posted
from textual.widget import Widget
from textual.widgets import Static

from assistant.exchange.clean import shown
from assistant.screen.box import Box
from assistant.screen.values import Line, Said

KEPT = 120
"""Widgets kept on the screen; appending to 1,000 takes 148 ms, to 120 a few."""
AT_ONCE = 30
"""Records of one receipt shown at once; the rest follow when asked for."""
SPOKEN = 1_200
"""Characters of the keeper's own note shown back."""

Voice: TypeAlias = Literal["keeper", "answer", "question", "caution", "problem"]
LEADS: dict[Voice, str] = {
    "keeper": "",
    "answer": "",
    "question": "? ",
    "caution": "Caution: ",
    "problem": "Not done: ",
}


class Message(Static):
    """Words of one voice; what is not the keeper's own or an answer says so in its first word."""

    def __init__(self, voice: Voice, text: str) -> None:
        super().__init__(LEADS[voice] + text, markup=False, classes=f"-{voice}")


class Pick(Static, can_focus=True):
    """A line that Enter or a click chooses; up and down go to its neighbours, and typing goes to the box."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "choose", "Open", tooltip="Open this record at its words in the note"),
        Binding("up", "go(-1)", "Up", show=False),
        Binding("down", "go(1)", "Down", show=False),
        Binding("escape", "back", "Back", tooltip="Back to the box"),
    ]

    def action_choose(self) -> None:
        """Choose this line."""
        raise NotImplementedError

    def action_go(self, step: int) -> None:
        """To the next line up or down; down from the last is the box."""
        move = self.screen.focus_next if step > 0 else self.screen.focus_previous
        move("Pick, Box")

    def action_back(self) -> None:
        """Back to the box."""
        self.screen.query_one(Box).focus()

    def on_click(self) -> None:
        """A click chooses, unless it ended a selection of text."""
        if not self.screen.get_selected_text():
            self.action_choose()

    def on_key(self, event: events.Key) -> None:
        """What is typed goes to the box."""
        if event.is_printable and event.character:
            event.stop()
            self.screen.query_one(Box).take(event.character)

    def on_paste(self, event: events.Paste) -> None:
        """What is pasted goes to the box."""
        event.stop()
        self.screen.query_one(Box).take(event.text)


class RecordLine(Pick):
    """One record of a receipt; Enter or a click opens it at its words in the note."""

    HELP = """
    # A record

    **Enter** opens it at its exact words in your note, to amend it or take it back.
    What was guessed stands behind the word *guessed*.
    """

    @dataclass
    class Opened(Posted):
        """The keeper wants to see this record."""

        line: Line

    def __init__(self, line: Line) -> None:
        super().__init__(markup=False)
        self.line = line
        self.show(line)

    def show(self, line: Line) -> None:
        """Another version of the record."""
        self.line = line
        self.set_class(line.gone, "-gone")
        self.set_class(bool(line.entry.record.unsure) and not line.gone, "-guessed")
        self.update(line.text)

    def action_choose(self) -> None:
        """Open the record."""
        self.post_message(self.Opened(self.line))


class MoreLine(Pick):
    """The records of a long receipt that are not shown yet."""

    def __init__(self, lines: Sequence[Line]) -> None:
        super().__init__(f"and {len(lines):,} more records, kept as well: Enter shows the next", markup=False)
        self.lines = lines

    @dataclass
    class Wanted(Posted):
        """The keeper wants to see the next of them."""

        more: MoreLine

    def action_choose(self) -> None:
        """Show the next records in the place of this line."""
        self.post_message(self.Wanted(self))


class Conversation(VerticalScroll, can_focus=False):
    """Messages and records, the newest at the end."""

    def on_mount(self) -> None:
        """Stay at the end until the keeper scrolls."""
        self.anchor()

    async def heard(self, text: str) -> Message:
        """The keeper's own words, shortened where they are long; gives the message, to answer under it."""
        words = shown(text[:SPOKEN])
        if len(text) > SPOKEN:
            words += f" … ({len(text):,} characters in all, all of them kept)"
        message = Message("keeper", words)
        await self.append([message])
        self.anchor()
        return message

    async def say(self, voice: Voice, text: str, under: Widget | None = None) -> None:
        """Words of ours, safe to show."""
        await self.append([Message(voice, text)], under)

    async def answer(self, said: Said, under: Widget | None = None) -> None:
        """All that came of a line, under the message that said it, for others may have been sent since."""
        widgets: list[Widget] = [Message("problem", text) for text in said.warnings]
        widgets += _records(said.lines)
        widgets += [Message("answer", said.text)] if said.text else []
        widgets += [Message("caution", text) for text in said.cautions]
        widgets += [Message("question", said.doubt)] if said.doubt else []
        await self.append(widgets, under)

    async def append(self, widgets: Sequence[Widget], under: Widget | None = None) -> None:
        """Put widgets at the end, or under another that is still there, and let go of the oldest."""
        with self.app.batch_update():
            await self.mount_all(widgets, after=under if under in self.children else None)
            if (surplus := len(self.children) - KEPT) > 0:
                await self.remove_children(self.children[:surplus])

    async def on_more_line_wanted(self, event: MoreLine.Wanted) -> None:
        """Put the next records where the line stands that stood for them."""
        event.stop()
        records = _records(event.more.lines)
        with self.app.batch_update():
            await self.mount_all(records, after=event.more)
            await event.more.remove()
        records[0].focus()

    @property
    def lines(self) -> list[Line]:
        """The records on the screen."""
        return [widget.line for widget in self.query(RecordLine)]

    def renew(self, changed: dict[str, Line]) -> None:
        """Show records as they now stand."""
        for widget in self.query(RecordLine):
            if new := changed.get(widget.line.entry.id):
                widget.show(new)


def _records(lines: Sequence[Line]) -> list[Widget]:
    more = lines[AT_ONCE:]
    return [*map(RecordLine, lines[:AT_ONCE]), *([MoreLine(more)] if more else [])]
