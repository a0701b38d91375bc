"""What the commands share: the clock, the session over the log, and safe printing."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Any, TextIO

from assistant.exchange.clean import one_line, shown
from assistant.settings import log_folder

if TYPE_CHECKING:
    from assistant.log import Log
    from assistant.session import Session


class Opened:
    """The log opened and a session over it, given back at the end."""

    def __init__(self, arguments: argparse.Namespace) -> None:
        self._arguments = arguments
        self._log: Log | None = None
        self._told = 0

    def __enter__(self) -> Session:
        from assistant.log import Log
        from assistant.session import Session

        log = Log.open(log_folder(getattr(self._arguments, "log", None)), clock=clock(self._arguments))
        self._log = log
        self._warn(log)
        return Session(log, clock(self._arguments))

    def __exit__(self, *exc: object) -> None:
        if self._log is not None:
            self._warn(self._log)
            self._log.close()

    def _warn(self, log: Log) -> None:
        """Say what the log has to warn of and has not said yet."""
        for warning in log.warnings[self._told :]:
            complain(warning)
        self._told = len(log.warnings)


def opened(arguments: argparse.Namespace) -> Opened:
    """A session over the log of the command line, as a context manager."""
    return Opened(arguments)


def clock(arguments: argparse.Namespace) -> Callable[[], datetime]:
    """The clock of the command line: --now stands still, else the machine's local time."""
    given: datetime | None = getattr(arguments, "now", None)
    return (lambda: given) if given else datetime.now


def as_json(arguments: argparse.Namespace) -> bool:
    """Whether data is to be printed as JSON."""
    return bool(getattr(arguments, "json", False))


def put(text: str) -> None:
    """Print text that may hold the keeper's words, with nothing in it that a terminal obeys."""
    _write(sys.stdout, shown(text))


def put_json(data: Any) -> None:
    """Print one line of JSON; signs other than ASCII are escaped, so that none reaches the terminal raw."""
    _write(sys.stdout, json.dumps(data, allow_nan=False))


def complain(text: str) -> None:
    """One plain line on standard error."""
    _write(sys.stderr, f"binside: {one_line(text)}")


def _write(stream: TextIO, text: str) -> None:
    encoding = stream.encoding or "utf-8"
    print(text.encode(encoding, "replace").decode(encoding), file=stream)


def words_or_input(words: Iterable[str]) -> str:
    """The words of the command line, or standard input where there are none."""
    text = " ".join(words)
    if text or sys.stdin is None:
        return text
    return sys.stdin.buffer.read().decode("utf-8", "replace")
