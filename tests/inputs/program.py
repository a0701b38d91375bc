"""The program as its user meets it: run in this process, or as one of its own."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

import pytest

from assistant.commands.line import main
from assistant.exchange.clean import shown
from assistant.log import Log
from assistant.records import Bin, Entry, Note, Record
from assistant.session import Session
from tests.reading import notesets

NOW = "2026-03-10T19:00:00"  # a Tuesday
TUB = (Bin("tub"),)
STACK = (Bin("cellar stack", 3),)


class Outcome(NamedTuple):
    """What a command left behind."""

    status: int
    out: str
    err: str

    @property
    def line(self) -> str:
        """The one plain line of an error, where that is all there is on standard error."""
        lines = self.err.splitlines()
        assert len(lines) == 1 and lines[0].startswith("binside: "), self.err
        assert "Traceback" not in self.err
        return lines[0]

    def refused(self, status: int = 1) -> str:
        """Check for a refusal in one line, and give the line."""
        assert self.status == status, (self.status, self.err)
        return self.line


class Desk:
    """A keeper's desk: a log in a fresh folder, and commands over it with a clock that stands still."""

    def __init__(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        self.folder, self._patch, self._capsys = folder, monkeypatch, capsys
        monkeypatch.setattr(Session, "reader", property(lambda _: notesets.reader()))

    def run(
        self, *words: str, said: str | bytes | None = None, now: str = NOW, log: Path | None = None
    ) -> Outcome:
        """Run a command in this process; `said` is its standard input."""
        raw = said if isinstance(said, bytes) else (said or "").encode("utf-8", "surrogateescape")
        self._patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
        self._capsys.readouterr()
        status = main(["--log", str(log or self.folder), "--now", now, *words])
        return Outcome(status, *self._capsys.readouterr())

    def note(self, text: str, now: str = NOW) -> Outcome:
        """Say a note on standard input; it must be kept as it came, and what is printed may steer nothing."""
        got = self.run("note", said=text, now=now)
        assert got.status == 0, got
        assert self.notes()[-1].text == text
        assert not steering(got.out) and not steering(got.err)
        return got

    def bins(self, bins: Sequence[Bin]) -> None:
        """Keep a set-up."""
        with Log.open(self.folder, clock=clock) as log:
            log.set_bins(tuple(bins))

    def notes(self) -> Sequence[Note]:
        """What is kept."""
        with Log.open(self.folder, clock=clock) as log:
            return tuple(log.notes())

    def entries(self) -> Sequence[Entry]:
        """What is recorded."""
        with Log.open(self.folder, clock=clock) as log:
            return tuple(log.entries())


def clock() -> datetime:
    """The clock of `NOW`."""
    return datetime.fromisoformat(NOW)


def read(text: str, setup: Sequence[Bin] = TUB, now: str = NOW) -> tuple[Record, ...]:
    """The records of a note."""
    return notesets.reader().read(text, tuple(setup), datetime.fromisoformat(now)).records


def steering(text: str) -> list[str]:
    """The characters of a text that a terminal could obey, or that are not seen."""
    return [char for char in text if char != "\n" and shown(char) != char]


def environment(log: Path, **changes: str | None) -> dict[str, str]:
    """The environment of a program run: the log's folder, and changes; None takes a variable away."""
    wanted = {**os.environ, "BINSIDE_LOG": str(log), **changes}
    return {name: value for name, value in wanted.items() if value is not None}


def program(*words: str, env: dict[str, str], said: bytes = b"", timeout: float = 60) -> Outcome:
    """Run the program as a process of its own, with no terminal."""
    done = subprocess.run(
        [sys.executable, "-m", "assistant.commands.line", *words],
        input=said,
        capture_output=True,
        env=env,
        timeout=timeout,
        check=False,
    )
    return Outcome(
        done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace")
    )
