"""The box that notes and questions are written in, and the paste that is too big or too odd to lie in it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Static, TextArea

from assistant.exchange.clean import one_line, shown

ROOM = 30_000
"""Characters that the box takes; a longer paste is held beside it, for 200,000 would stall it 1.3 s."""
NEW_LINE = ("ctrl+j", "shift+enter", "alt+enter")
"""Keys that begin a new line; ctrl+j is the one that every terminal sends."""

_ODD = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
"""What a box cannot give back as it came or must not show: controls, other line ends, turning marks."""


def fits(text: str) -> bool:
    """Whether a text can lie in the box."""
    return len(text) <= ROOM and not _ODD.search(text)


def _cell(char: str) -> str:
    """One character fit to show, in the place of one: a zero-width space for what is not seen."""
    return shown(char)[:1] or "\u200b"


class Box(TextArea):
    """One note or question. Enter sends it; it grows with the text."""

    HELP = """
    # Write here

    A note as you would say it: *fed the top tray two handfuls of kale, bottom one is soggy*.
    Or a question: *what did I feed last week?* Or a correction: *no, the middle tray*.

    **Enter** sends, **ctrl+j** begins a new line, **up** in the empty box goes to the records above.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "send", "Send", tooltip="Send what is in the box"),
        Binding(",".join(NEW_LINE), "new_line", "New line", show=False),
        Binding("escape", "let_go", "Let go", show=False, tooltip="Let go of a paste that is held"),
    ]

    @dataclass
    class Sent(Message):
        """What is to be taken: the text of the box, and behind it the paste that was held."""

        text: str

    @dataclass
    class Paged(Message):
        """The keeper pages through the conversation from an empty box or one of a single line; -1 is back."""

        direction: int

    def __init__(self) -> None:
        super().__init__(
            compact=True,
            highlight_cursor_line=False,
            placeholder="A note or a question; ctrl+j for a new line",
        )

    def get_line(self, line_index: int) -> Text:
        """A line of the text with nothing in it that could steer the terminal, one character for one."""
        line = self.document.get_line(line_index)
        if not (line.isascii() and line.isprintable()):
            line = "".join(map(_cell, line))
        return Text(line, end="", no_wrap=True)

    def render_line(self, y: int) -> Strip:
        """A line of the box; nothing where no width is left to wrap the placeholder to."""
        return super().render_line(y) if self.content_size.width > 0 else Strip.blank(0)

    async def _on_key(self, event: events.Key) -> None:
        """Enter and its kin, in turn with other keys: a priority binding would overtake fast typing."""
        actions = {"enter": self.action_send, **dict.fromkeys(NEW_LINE, self.action_new_line)}
        if action := actions.get(event.key):
            event.stop()
            event.prevent_default()
            action()

    async def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        self.take(event.text)

    @property
    def held(self) -> Held:
        """The paste beside the box."""
        return self.screen.query_one(Held)

    @property
    def unsent(self) -> bool:
        """Whether anything is in the box or held beside it."""
        return bool(self.text.strip() or self.held.text)

    def take(self, text: str) -> None:
        """Put a text where the cursor is, or hold it beside the box where it cannot lie in it."""
        if not fits(text):
            self.held.add(text)
        elif result := self._replace_via_keyboard(text, *self.selection):
            self.move_cursor(result.end_location)
        self.focus()

    def give_back(self, text: str) -> None:
        """Put a text that was not taken back before whatever was written since."""
        since = self.text
        if not fits(text) or not fits(since + text):
            self.held.add(text)
            return
        self.text = f"{text}\n\n{since}" if since.strip() else text
        self.move_cursor(self.document.end)

    def action_send(self) -> None:
        """Send the box and what is held, and empty both."""
        held = self.held.text
        text = f"{self.text}\n{held}" if held and self.text.strip() else held or self.text
        if not text.strip():
            return
        self.text = ""
        self.held.text = ""
        self.post_message(self.Sent(text))

    def action_new_line(self) -> None:
        """Begin a new line."""
        self.insert("\n")

    def action_let_go(self) -> None:
        """Let go of a held paste."""
        self.held.text = ""

    def action_cursor_up(self, select: bool = False) -> None:
        """Up; from the empty box to the records of the last receipt."""
        if self.text or not self.screen.query("RecordLine"):
            super().action_cursor_up(select)
        else:
            self.screen.focus_previous("RecordLine")

    def action_cursor_page_up(self) -> None:
        """A page up, in the box where it is long, else in the conversation."""
        if self.wrapped_document.height > 1:
            super().action_cursor_page_up()
        else:
            self.post_message(self.Paged(-1))

    def action_cursor_page_down(self) -> None:
        """A page down, in the box where it is long, else in the conversation."""
        if self.wrapped_document.height > 1:
            super().action_cursor_page_down()
        else:
            self.post_message(self.Paged(1))


class Held(Static):
    """A paste that is sent as it came, after what is in the box; one line tells how it begins."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._text = ""
        self.display = False

    @property
    def text(self) -> str:
        """The paste, as it came."""
        return self._text

    @text.setter
    def text(self, text: str) -> None:
        self._text = text
        self.display = bool(text)
        begins = f"held: a paste of {len(text):,} characters, “{one_line(text, 40)}”."
        self.update(f"{begins} Enter sends it, Escape lets it go.")

    def add(self, text: str) -> None:
        """Hold one more text, behind what is held."""
        self.text = f"{self._text}\n{text}" if self._text else text
