"""The chat screen: wiring only. A line goes box -> queue -> one worker -> conversation; the bins follow.

run(opened) -> exit status
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on, work
from textual.app import App, ComposeResult, SystemCommand
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.screen import Screen
from textual.theme import Theme
from textual.widgets import Footer, Static

from assistant.errors import BinsideError
from assistant.exchange.clean import one_line
from assistant.screen.bin_pane import BinPane
from assistant.screen.box import Box, Held
from assistant.screen.conversation import Conversation, RecordLine
from assistant.screen.jobs import Job, Jobs, in_thread
from assistant.screen.talk import Opened, Talk

if TYPE_CHECKING:
    from assistant.records import SetUp

WIDE = 100
"""Columns from which on the bins stand beside the conversation."""
SOON = 0.3
"""Seconds after which it is worth saying what is being done."""


class Doing(Static):
    """One line on what the worker is at, and for how long; gone when it is at nothing."""

    def __init__(self, jobs: Jobs) -> None:
        super().__init__(markup=False)
        self.jobs = jobs

    def on_mount(self) -> None:
        """Follow the worker."""
        self.set_interval(0.5, self.tell)

    def tell(self) -> None:
        """Show what is being done once it takes long enough to be seen."""
        what, seconds = self.jobs.doing
        self.display = bool(what) and seconds >= SOON
        if self.display:
            self.update(f"{what}: {seconds:.0f} s")


class ChatScreen(Screen[None]):
    """The one screen: the conversation with the bins beside it, and the box below."""

    AUTO_FOCUS = "Box"

    class Drawn(Message):
        """The first frame is up."""

    def __init__(self, jobs: Jobs) -> None:
        super().__init__()
        self.jobs = jobs

    def on_mount(self) -> None:
        """Tell when the first frame is up."""
        self.call_after_refresh(self.post_message, self.Drawn())

    def compose(self) -> ComposeResult:
        """From the top: conversation and bins, what is being done, a held paste, the box, the keys."""
        with Horizontal():
            yield Conversation()
            yield BinPane()
        yield Doing(self.jobs)
        yield Held()
        yield Box()
        yield Footer(compact=True)


class ChatApp(App[None]):
    """Binside on the screen. `opened` gives the session to enter; it is called in the worker's thread."""

    TITLE = "Binside"
    CSS_PATH = "binside.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (no ClassVar in Textual)
    VERTICAL_BREAKPOINTS = [(0, "-short"), (12, "-tall")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help", tooltip="What can be written, and the keys"),
        Binding("f2", "bins", "Bins", tooltip="Show or hide the bins as they now stand"),
        Binding("f4", "undo", "Undo", tooltip="Take back the last thing kept"),
        Binding("ctrl+q", "quit", "Quit", priority=True, tooltip="Leave, once everything sent is kept"),
    ]

    class Leave(Message):
        """The keeper wants to leave."""

    def __init__(self, opened: Opened, *, colourless: bool | None = None) -> None:
        plain = bool(os.environ.get("NO_COLOR")) if colourless is None else colourless
        self.talk, self.jobs = Talk(opened), Jobs()
        super().__init__(ansi_color=plain)
        self.colourless = plain
        if plain:
            self.theme = "ansi-dark"
        self._bins: SetUp = ()
        self._asked = self._leaving = False

    def get_default_screen(self) -> Screen[Any]:
        """The chat."""
        return ChatScreen(self.jobs)

    @on(ChatScreen.Drawn)
    def _begin(self) -> None:
        """Start the worker once the first frame is up."""
        self.theme_changed_signal.subscribe(self, self._recoloured)
        self.jobs.put(Job("opening the log", self.talk.open))
        self.jobs.put(Job("getting ready to read", self.talk.warm))
        self._work()

    def _recoloured(self, theme: Theme) -> None:
        if not self.colourless:
            self.jobs.put(Job("keeping the colours", partial(self.talk.keep_theme, theme.name)))

    @property
    def chat(self) -> Screen[Any]:
        """The chat screen, also while another is on top of it."""
        return self.screen_stack[0]

    @property
    def conversation(self) -> Conversation:
        """The conversation."""
        return self.chat.query_one(Conversation)

    # what the keeper does

    @on(Box.Sent)
    async def _sent(self, event: Box.Sent) -> None:
        text = event.text
        self._asked = self._leaving = False
        self.chat.remove_class("-bins-on")
        heard = await self.conversation.heard(text)
        self.jobs.put(Job(f"reading {len(text):,} characters", lambda: self.talk.say(text), text, heard))

    @on(Box.Paged)
    def _paged(self, event: Box.Paged) -> None:
        up, down = self.conversation.scroll_page_up, self.conversation.scroll_page_down
        (up if event.direction < 0 else down)(animate=False)

    @on(RecordLine.Opened)
    @work
    async def _opened(self, event: RecordLine.Opened) -> None:
        from assistant.screen.record_screen import RecordScreen

        entry = event.line.entry
        wish = await self.push_screen_wait(RecordScreen(event.line, self._bins))
        if wish == "drop":
            self.jobs.put(Job("taking it back", lambda: self.talk.drop(entry)))
        elif wish is not None:
            self.jobs.put(Job("amending it", lambda: self.talk.amend(entry, wish)))

    def action_undo(self) -> None:
        """Take back the last thing kept."""
        self.jobs.put(Job("taking it back", self.talk.undo))

    def action_ask(self, question: str) -> None:
        """Ask something on the keeper's behalf, as if it had been written."""
        self.post_message(Box.Sent(question))

    def action_help(self) -> None:
        """Show the page of help."""
        from assistant.screen.help_screen import HelpScreen

        self.push_screen(HelpScreen())

    def action_bins(self) -> None:
        """Show or hide the bins, against what the width of the screen would have it."""
        want, usual = not self.chat.query_one(BinPane).display, self.size.width >= WIDE
        self.chat.remove_class("-bins-on", "-bins-off")
        if want != usual:
            self.chat.add_class("-bins-on" if want else "-bins-off")

    async def action_quit(self) -> None:
        """Leave, behind the keys that the box has still to take."""
        box = self.chat.query_one(Box)
        box.call_later(box.post_message, self.Leave())  # what it sends goes the same way, before this

    @on(Leave)
    async def _leave(self) -> None:
        """Leave; the first time not before what was sent is kept, nor with something unsent in the box."""
        unsent, unkept = self.chat.query_one(Box).unsent, self.jobs.unkept
        if self._asked or not (unsent or unkept):
            self.exit()
            return
        self._asked, self._leaving = True, not unsent
        what = ["What you sent is not kept yet."] if unkept else []
        what += ["The box holds what was not sent."] if unsent else ["Leaving once it is."]
        await self.conversation.say("answer", " ".join([*what, "ctrl+q again leaves without it."]))

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The commands of the palette."""
        yield from super().get_system_commands(screen)
        yield SystemCommand("Undo", "Take back the last thing kept", self.action_undo)
        yield SystemCommand("Bins", "Show or hide the bins as they now stand", self.action_bins)
        for title, question in (("Due", "What is due?"), ("Balances", "Show the balances")):
            yield SystemCommand(title, f"Ask: {question}", lambda q=question: self.action_ask(q))

    # what the worker does

    @work
    async def _work(self) -> None:
        """Do one job after the other for the life of the screen; only ever one thread is in the session."""
        while True:
            job = await self.jobs.next()
            await self._do(job)
            if self.jobs.last:
                await self._draw_bins()
            self.jobs.done(job)
            self.chat.query_one(Doing).tell()
            if self._leaving and not self.jobs.unkept:
                self.exit()

    async def _do(self, job: Job) -> None:
        try:
            said = await in_thread(job.do)
            await self.conversation.answer(said, job.under)
            if said.theme in self.available_themes and not self.colourless:
                self.theme = said.theme
            changed = await in_thread(partial(self.talk.changed, self.conversation.lines))
            self.conversation.renew(changed)
        except Exception as error:  # whatever happens, the keeper's words are not lost
            await self.conversation.say("problem", _plain(error), job.under)
            if job.text:
                self.chat.query_one(Box).give_back(job.text)

    async def _draw_bins(self) -> None:
        pane = self.chat.query_one(BinPane)
        try:
            standing = await in_thread(self.talk.standing)
        except Exception as error:
            await pane.tell(_plain(error))
            return
        self._bins = standing.bins
        await pane.show(standing)


def _plain(error: Exception) -> str:
    """One line on what went wrong; what is not of our own family of errors is named, for it is a fault."""
    if isinstance(error, BinsideError):
        return one_line(str(error), 500)
    return one_line(f"something went wrong inside ({type(error).__name__}: {error})", 500)


def run(opened: Opened) -> int:
    """Open the chat screen on the terminal and stay until the keeper leaves; gives the exit status.

    `opened()` gives a context manager of the session; what it raises as BinsideError is shown as one line.
    """
    app = ChatApp(opened)
    try:
        app.run()
    finally:
        if app.jobs.idle:  # else the keeper left without what is being read, and its thread has the log
            app.talk.close()
    return app.return_code or 0
