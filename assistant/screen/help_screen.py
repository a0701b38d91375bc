"""The one page of help."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Markdown

PAGE = """
**Write a note** as you would say it, or paste a transcript:

- fed the top tray two handfuls of kale, the middle one is soggy
- yesterday I harvested a bucket of castings from the bottom

**Ask**: what did I feed last week? · when was the tub last watered? · what is due?

**Put right** by saying so: no, the middle tray · three, not two. What was guessed stands behind
the word *guessed*.

| key | does |
|---|---|
| Enter | sends the box |
| ctrl+j | a new line in the box |
| up, in the empty box | to the records above; Enter or a click opens one at its words in the note |
| page up, page down | back and forth in the conversation |
| F1 | this help; Esc closes it |
| F2 | shows or hides the bins |
| F4 | takes back the last thing kept |
| ctrl+p | every command, and the colours |
| ctrl+q | leaves |

A note too long to paste is read from a file: *binside import FILE*. Without a screen, or for a screen
reader: *binside --plain*.
"""


class HelpScreen(ModalScreen[None]):
    """What can be written, and the keys."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f1,q,enter", "dismiss", "Close", priority=True)]

    def compose(self) -> ComposeResult:
        """One page that scrolls."""
        with VerticalScroll() as frame:
            frame.border_subtitle = "Esc closes"
            yield Markdown(PAGE)
