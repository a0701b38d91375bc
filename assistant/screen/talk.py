"""The session as the screen sees it: every function here runs in the worker's thread, one at a time.

What it hands on is safe to show. The heavy imports (log, balances, reading) happen here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, ExitStack
from typing import TYPE_CHECKING, TypeAlias

from assistant.exchange.clean import one_line, shown
from assistant.screen.values import Line, Said, Standing

if TYPE_CHECKING:
    from assistant.records import Entry, Record
    from assistant.session import Reply, Session


Opened: TypeAlias = "Callable[[], AbstractContextManager[Session]]"
"""Opens the log and gives the session over it; BinsideError where that cannot be."""

THEME = "theme"
"""The setting of the log that names the colours."""


class Talk:
    """One session, opened by the first call that needs it, and tried again after it could not be."""

    def __init__(self, opened: Opened) -> None:
        self._opened, self._stack = opened, ExitStack()
        self._session: Session | None = None
        self._warned = 0

    @property
    def session(self) -> Session:
        """The session; BinsideError where its log cannot be opened."""
        if self._session is None:
            self._session = self._stack.enter_context(self._opened())
        return self._session

    def close(self) -> None:
        """Give the log back."""
        self._session = None
        self._stack.close()

    def open(self) -> Said:
        """Open the log; asks for the bins where there are none."""
        from assistant.session import ASK_BINS

        doubt = "" if self.session.log.bins() else ASK_BINS
        theme = str(self.session.log.setting(THEME) or "")
        return Said(doubt=doubt, warnings=self._warnings(), theme=theme)

    def keep_theme(self, name: str) -> Said:
        """Keep the name of the colours for the next start; undo passes over it."""
        if self.session.log.setting(THEME) != name:
            self.session.log.set_setting(THEME, name, quiet=True)
        return Said()

    def warm(self) -> Said:
        """Make ready what the first line would otherwise wait for."""
        self.session.warm()
        return Said()

    def say(self, text: str) -> Said:
        """A note, a question, a correction or a wish."""
        return self._said(self.session.say(text))

    def undo(self) -> Said:
        """Take back the last thing kept."""
        return self._said(self.session.undo())

    def drop(self, entry: Entry) -> Said:
        """Take one record back."""
        return self._said(self.session.drop(entry))

    def amend(self, entry: Entry, record: Record) -> Said:
        """Put another version in a record's place."""
        return self._said(self.session.amend(entry, record))

    def standing(self) -> Standing:
        """The bins as they now stand."""
        from assistant.screen.standing import standing

        return standing(self.session.balances(), self.session.due())

    def changed(self, lines: Sequence[Line]) -> dict[str, Line]:
        """Of the lines on the screen, by id, those that no longer say what the log says."""
        from assistant.screen.receipt import as_they_stand

        return as_they_stand(self.session, lines)

    def _said(self, reply: Reply) -> Said:
        """A reply made ready to show; its text stands for the records only where there are none."""
        from assistant.screen.receipt import lines

        kept = lines(self.session, reply.entries, reply.note)
        gone = lines(self.session, reply.dropped, reply.note, gone=True)
        text = reply.text
        if kept or gone:
            text = reply.answer.text if reply.answer else ""
        cautions = tuple(shown(caution.text) for caution in reply.cautions)
        return Said((*kept, *gone), shown(text), cautions, shown(reply.doubt or ""), self._warnings())

    def _warnings(self) -> tuple[str, ...]:
        """What the log has to say since it was last asked."""
        told = self.session.log.warnings
        new, self._warned = told[self._warned :], len(told)
        return tuple(one_line(warning, 500) for warning in new)
