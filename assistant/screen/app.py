"""The chat screen: wiring only. A line goes box -> queue -> one worker -> conversation; the bins follow.

run(session_factory) -> exit status
"""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from time import monotonic
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on, work
from textual.app import App, ComposeResult, SystemCommand
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Footer, Static

from assistant.errors import BinsideError
from assistant.exchange.clean import one_line
from assistant.screen.bin_pane import BinPane
from assistant.screen.box import Box, Held
from assistant.screen.conversation import Conversation, RecordLine
from assistant.screen.talk import Talk
from assistant.screen.values import Said

if TYPE_CHECKING:
    from assistant.session import Session

WIDE = 100
"""Columns from which on the bins stand beside the conversation."""


@dataclass(frozen=True, slots=True)
class Job:
    """Something for the worker: what it is in words, what to call in the thread, words to give back if it fails."""

    what: str
    do: Callable[[], Said]
    text: str = ""


class Doing(Static):
    """One line on what the worker is at, and for how long; gone when it is at nothing."""

    def tell(self, what: str, seconds: float) -> None:
        """Show it once it takes long enough to be seen."""
        self.display = bool(what) and seconds >= 0.3
        if self.display:
            self.update(f"{what}: {seconds:.0f} s")


class ChatScreen(Screen[None]):
    """The one screen: the conversation with the bins beside it, and the box below."""

    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]] | None] = [(0, "-narrow"), (WIDE, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]] | None] = [(0, "-short"), (12, "-tall")]
    AUTO_FOCUS = "Box"

    def compose(self) -> ComposeResult:
        """From the top: conversation and bins, what is being done, a held paste, the box, the keys."""
        with Horizontal():
            yield Conversation()
            yield BinPane()
        yield Doing(markup=False)
        yield Held()
        yield Box()
        yield Footer(compact=True)


class ChatApp(App[None]):
    """Binside on the screen. `factory` opens the session; it is called in the worker's thread."""

    TITLE = "Binside"
    CSS_PATH = "binside.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help", tooltip="What can be written here, and every key"),
        Binding("f2", "bins", "Bins", tooltip="Show or hide the bins as they now stand"),
        Binding("f4", "undo", "Undo", tooltip="Take back the last thing kept"),
        Binding("ctrl+q", "quit", "Quit", priority=True, tooltip="Leave, once everything sent is kept"),
    ]

    def __init__(self, factory: Callable[[], Session], *, colourless: bool | None = None) -> None:
        plain = bool(os.environ.get("NO_COLOR")) if colourless is None else colourless
        super().__init__(ansi_color=plain)
        self.colourless = plain
        self.talk = Talk(factory)
        self._jobs: asyncio.Queue[Job] = asyncio.Queue()
        self._job: Job | None = None
        self._since = 0.0
        self._leaving = False
        if plain:
            self.theme = "ansi-dark"

    def get_default_screen(self) -> Screen[Any]:
        """The chat."""
        return ChatScreen()

    def on_mount(self) -> None:
        """Start the worker once the first frame is up."""
        self.set_interval(0.5, self._tick)
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self._put(Job("opening the log", self.talk.open))
        self._put(Job("getting ready to read", self.talk.warm))
        self._work()

    # what the keeper does

    @on(Box.Sent)
    async def _sent(self, event: Box.Sent) -> None:
        self.screen.remove_class("-bins-on")
        await self.conversation.heard(event.text)
        text = event.text
        self._put(Job(f"reading {len(text):,} characters", lambda: self.talk.say(text), text))

    @on(Box.Paged)
    def _paged(self, event: Box.Paged) -> None:
        page = self.conversation.scroll_page_up if event.direction < 0 else self.conversation.scroll_page_down
        page(animate=False)

    @on(RecordLine.Opened)
    @work
    async def _opened(self, event: RecordLine.Opened) -> None:
        from assistant.screen.record_screen import RecordScreen

        bins, units = await asyncio.gather(
            asyncio.to_thread(self.talk.bins), asyncio.to_thread(self.talk.units)
        )
        entry = event.line.entry
        wish = await self.push_screen_wait(RecordScreen(event.line, bins, units))
        if wish == "drop":
            self._put(Job("taking it back", lambda: self.talk.drop(entry)))
        elif wish is not None:
            self._put(Job("amending it", lambda: self.talk.amend(entry, wish)))

    def action_undo(self) -> None:
        """Take back the last thing kept."""
        self._put(Job("taking it back", self.talk.undo))

    def action_ask(self, question: str) -> None:
        """Ask something on the keeper's behalf, as if it had been written."""
        self.screen.query_one(Box).post_message(Box.Sent(question))

    def action_help(self) -> None:
        """Show or hide the help."""
        if self.screen.query("HelpPanel"):
            self.action_hide_help_panel()
        else:
            self.action_show_help_panel()

    def action_bins(self) -> None:
        """Show or hide the bins, against what the width of the screen would have it."""
        pane = self.screen.query_one(BinPane)
        want, usual = not pane.display, self.size.width >= WIDE
        self.screen.remove_class("-bins-on", "-bins-off")
        if want != usual:
            self.screen.add_class("-bins-on" if want else "-bins-off")

    async def action_quit(self) -> None:
        """Leave; where something sent is not kept yet, once it is."""
        if self._leaving or not self._unkept():
            self.exit()
            return
        self._leaving = True
        await self.conversation.say(
            "answer", "Leaving as soon as what you sent is kept; ctrl+q again leaves now."
        )

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The commands of the palette."""
        yield from super().get_system_commands(screen)
        yield SystemCommand("Undo", "Take back the last thing kept", self.action_undo)
        yield SystemCommand("Bins", "Show or hide the bins as they now stand", self.action_bins)
        yield SystemCommand("What is due", "Ask what needs doing", lambda: self.action_ask("What is due?"))
        yield SystemCommand(
            "Balances", "Ask what each tier holds", lambda: self.action_ask("Show the balances")
        )

    # what the worker does

    @property
    def conversation(self) -> Conversation:
        """The conversation of the chat screen, also while another screen is on top."""
        return self.screen_stack[0].query_one(Conversation)

    def _put(self, job: Job) -> None:
        self._jobs.put_nowait(job)

    def _unkept(self) -> bool:
        at_hand = [job for job in (self._job, *self._jobs._queue) if job]  # type: ignore[attr-defined]
        return any(job.text for job in at_hand)

    async def settled(self) -> None:
        """Wait until the worker has nothing left to do; for tests."""
        await self._jobs.join()

    @work
    async def _work(self) -> None:
        """Take one job after the other for the life of the screen; only ever one thread is in the session."""
        while True:
            self._job, self._since = await self._jobs.get(), monotonic()
            await self._do(self._job)
            if self._jobs.empty():
                await self._draw_bins()
            self._job = None
            self._tick()
            self._jobs.task_done()
            if self._leaving and not self._unkept():
                self.exit()

    async def _do(self, job: Job) -> None:
        try:
            said = await asyncio.to_thread(job.do)
            await self.conversation.answer(said)
            changed = await asyncio.to_thread(self.talk.changed, self.conversation.lines)
            self.conversation.renew(changed)
        except Exception as error:  # whatever happens, the keeper's words are not lost
            await self.conversation.say("problem", _plain(error))
            if job.text:
                self.screen_stack[0].query_one(Box).give_back(job.text)

    async def _draw_bins(self) -> None:
        pane = self.screen_stack[0].query_one(BinPane)
        try:
            await pane.show(await asyncio.to_thread(self.talk.standing))
        except Exception as error:
            await pane.tell(_plain(error))

    def _tick(self) -> None:
        doing = self.screen_stack[0].query_one(Doing)
        doing.tell(self._job.what if self._job else "", monotonic() - self._since)


def _plain(error: Exception) -> str:
    """One line on what went wrong; what is not of our own family is named, for it should not have happened."""
    if isinstance(error, BinsideError):
        return one_line(str(error), 500)
    return one_line(f"something went wrong inside ({type(error).__name__}: {error})", 500)


def run(session_factory: Callable[[], Session]) -> int:
    """Open the chat screen on the terminal and stay until the keeper leaves; gives the exit status."""
    app = ChatApp(session_factory)
    app.run()
    return app.return_code or 0
