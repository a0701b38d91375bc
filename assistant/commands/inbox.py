"""A watched folder: a phone's dictation drops files into it; each is read once it has come to rest."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.errors import FileError
from assistant.exchange.inward import READERS

PAUSE = 2.0
"""Seconds between two looks. A file that did not change from one to the next is at rest."""

_State = tuple[int, int]


def arrivals(folder: Path, pause: Callable[[], object]) -> Iterator[Path]:
    """The files of a folder that can be read, those there already first, each again when it has changed.

    Goes on for ever; `pause` waits between two looks. FileError where the folder cannot be looked into.
    """
    before: dict[Path, _State] = {}
    handed: dict[Path, _State] = {}
    while True:
        now = _look(folder)
        for path, state in now.items():
            if before.get(path) == state and handed.get(path) != state:
                handed[path] = state
                yield path
        before = now
        pause()


def _look(folder: Path) -> dict[Path, _State]:
    """Length and time of change of each file whose ending we read; hidden ones are still on their way."""
    found: dict[Path, _State] = {}
    try:
        for path in sorted(folder.iterdir()):
            if path.suffix.lower() in READERS and not path.name.startswith(".") and path.is_file():
                state = path.stat()
                found[path] = state.st_size, state.st_mtime_ns
    except FileNotFoundError:
        if not folder.is_dir():
            raise FileError(f"{folder}: there is no such folder") from None
    except OSError as error:
        raise FileError(f"{folder}: {error.strerror or error}") from None
    return found
