"""The chat screen on a scripted session, driven as a keeper would."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from scripted import BINS, Scripted, opened
from seen import seen
from textual.events import Paste
from textual.pilot import Pilot

from assistant.screen.app import ChatApp
from assistant.screen.box import Box
from assistant.screen.conversation import RecordLine


@dataclass
class Chat:
    """The app, its pilot, and the sessions that it opened."""

    app: ChatApp
    pilot: Pilot[None]
    sessions: list[Scripted] = field(default_factory=list)

    @property
    def session(self) -> Scripted:
        return self.sessions[-1]

    @property
    def box(self) -> Box:
        return self.app.chat.query_one(Box)

    @property
    def records(self) -> list[str]:
        return [line.text for line in self.app.conversation.lines]

    @property
    def record_widgets(self) -> list[RecordLine]:
        return list(self.app.conversation.query(RecordLine))

    @property
    def text(self) -> str:
        return "\n".join(seen(self.app))

    async def say(self, text: str) -> None:
        """Write a text and send it, and wait for what comes of it."""
        self.box.text = text
        await self.press("enter")

    async def press(self, *keys: str) -> None:
        """Press keys, and wait for what comes of them."""
        await self.pilot.press(*keys)
        await self.settle()

    async def paste(self, text: str) -> None:
        """Paste as a terminal does: to the app, which hands it on."""
        self.app.post_message(Paste(text))
        await self.settle()

    async def settle(self) -> None:
        """Wait until the worker is idle and the screen drawn."""
        await self.pilot.pause()
        await self.app.jobs.settled()
        await self.pilot.pause()


@asynccontextmanager
async def started(
    folder: Path, size: tuple[int, int], *, with_bins: bool = True, colourless: bool = False
) -> AsyncIterator[Chat]:
    """The screen, once it has opened its log."""
    sessions: list[Scripted] = []

    @contextmanager
    def open_log() -> Iterator[Scripted]:
        with opened(folder, BINS if with_bins else ()) as session:
            sessions.append(session)
            yield session

    app = ChatApp(open_log, colourless=colourless)
    async with app.run_test(size=size) as pilot:
        chat = Chat(app, pilot, sessions)
        while not list(app.workers):  # it starts behind the first frame
            await pilot.pause(0.01)
        await chat.settle()
        chat.box.cursor_blink = False
        yield chat
    app.talk.close()
