"""A disk in memory that treats the log as badly as POSIX allows; it stands in for `assistant.log.disk.Disk`.

What is on it is kept twice: as programs see it, and as it would be found after a power cut.

- Data and names count as safe only after fsync and fsync_dir. A power cut keeps any subset of the rest: a
  write is lost, torn, out of order, or leaves a stretch of zeros or what looks like an older line.
- A failed fsync keeps some of the data and forgets the rest for good: the next fsync succeeds without it.
  Linux file systems do so (Rebello and others, "Can Applications Recover from fsync Failures?", USENIX ATC
  2020). Only the length of the file is the one that programs see, for it goes to the disk with the inode.
- A write may take only a part; a failed write may leave a part behind. Any call may fail.
- At any call the power may be cut or the program killed, before or after the call did its work.
"""

from __future__ import annotations

import errno
import os
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assistant.log.disk import FileState

WRITING = 5
"""How many times likelier than others a call that writes is to be met by something: most calls only look."""


class PowerCut(BaseException):
    """The machine is off."""


class Killed(BaseException):
    """One program is gone; what it wrote is still seen by others."""


@dataclass
class Rates:
    """How likely each call is to be met by what."""

    cut: float = 0.0
    kill: float = 0.0
    error: float = 0.0
    short: float = 0.0


@dataclass
class Inode:
    number: int
    data: bytearray = field(default_factory=bytearray)
    safe: bytearray = field(default_factory=bytearray)
    unsafe: list[Callable[[bytearray], None]] = field(default_factory=list)
    """Changes since the last fsync, in order."""
    spoilt: list[Callable[[bytearray], None]] = field(default_factory=list)
    """How each of them looks where only a part of it reached the disk."""


def _write(offset: int, data: bytes) -> Callable[[bytearray], None]:
    def change(file: bytearray) -> None:
        file.extend(bytes(max(0, offset - len(file))))
        file[offset : offset + len(data)] = data

    return change


def _truncate(size: int) -> Callable[[bytearray], None]:
    def change(file: bytearray) -> None:
        del file[size:]

    return change


class SimDisk:
    """One folder on one disk; `rates` may be changed at any time."""

    def __init__(self, rng: random.Random) -> None:
        self.rng, self.rates = rng, Rates()
        self.names_now: dict[str, Inode] = {}
        self.names_safe: dict[str, Inode] = {}
        self.names_unsafe: list[tuple[str, str, Inode]] = []
        """(name, name before or "", file): what was created or renamed since the last fsync_dir."""
        self.handles: dict[int, Inode] = {}
        self.calls = self.time = self.count = self.cuts = self.kills = self.errors = 0
        self.locked = False

    # what goes wrong

    @contextmanager
    def call(self, *errors: int, weight: int = 1) -> Iterator[None]:
        """One call of the disk: it may be the last, before or after its work, or fail as one of `errors`."""
        self.calls += 1
        before = self.rng.random() < 0.5
        self._end(before, weight)
        if errors and self.rng.random() < self.rates.error * weight:
            self.fail(*errors)
        yield
        self._end(not before, weight)

    def _end(self, here: bool, weight: int) -> None:
        if here and self.rng.random() < self.rates.cut * weight:
            raise PowerCut
        if here and self.rng.random() < self.rates.kill * weight:
            self.kills += 1
            raise Killed

    def fail(self, *errors: int) -> None:
        self.errors += 1
        number = self.rng.choice(errors)
        raise OSError(number, os.strerror(number))

    def power_cut(self) -> None:
        """Turn the power off and on: what was not safe is there or not, by chance."""
        self.cuts += 1
        for name, before, inode in self.names_unsafe:
            if self.rng.random() < 0.5:
                self.names_safe.pop(before, None)
                self.names_safe[name] = inode
        self.names_now, self.names_unsafe, self.handles = dict(self.names_safe), [], {}
        for inode in self.names_now.values():
            self._settle(inode)
            inode.data = bytearray(inode.safe)
        self.time += 1
        self.locked = False

    def _settle(self, inode: Inode) -> None:
        """Let a random part of what is not safe reach the disk; the rest is forgotten."""
        for change, spoilt in zip(inode.unsafe, inode.spoilt, strict=True):
            self.rng.choice((change, spoilt, lambda file: None))(inode.safe)
        inode.unsafe, inode.spoilt = [], []

    def _spoil(self, offset: int, data: bytes) -> Callable[[bytearray], None]:
        def change(file: bytearray) -> None:
            cut = self.rng.randrange(len(data) + 1)
            torn = data[:cut]
            holed = data[:cut] + bytes(min(64, len(data) - cut)) + data[cut + 64 :]
            digits = b"0123456789"
            older = bytes(self.rng.choice(digits) if byte in digits else byte for byte in data[cut:])
            _write(offset, self.rng.choice((torn, holed, torn + older, bytes(len(data)))))(file)

        return change

    # what the journal asks for

    def make_folder(self, folder: Path) -> None:
        with self.call(errno.EACCES):
            pass

    def names(self, folder: Path) -> list[str]:
        with self.call(errno.EIO):
            return sorted(self.names_now)

    def folder_time(self, folder: Path) -> int:
        with self.call(errno.EIO):
            return self.time // 3  # too coarse to show every change, as real ones are

    def state(self, path: Path) -> FileState | None:
        with self.call(errno.EIO):
            inode = self.names_now.get(path.name)
            return inode and FileState(len(inode.data), inode.number)

    def read(self, path: Path, offset: int = 0) -> bytes:
        with self.call(errno.EIO):
            return bytes(self.names_now[path.name].data[offset:])

    def open_append(self, path: Path) -> int:
        with self.call(errno.EIO, errno.ENOSPC, weight=WRITING):
            self.count += 1
            inode = self.names_now.get(path.name)
            if inode is None:
                inode = self.names_now[path.name] = Inode(self.count)
                self.names_unsafe.append((path.name, "", inode))
                self.time += 1
            self.handles[self.count] = inode
            return self.count

    def write(self, handle: int, data: bytes) -> int:
        inode, part = self.handles[handle], self.rng.randrange(1, len(data) + 1)
        fails, short = self.rng.random() < self.rates.error * WRITING, self.rng.random() < self.rates.short
        with self.call(weight=WRITING):
            taken = data[:part] if fails or short else data
            offset = len(inode.data)
            inode.data += taken
            inode.unsafe.append(_write(offset, taken))
            inode.spoilt.append(self._spoil(offset, taken))
            if fails:
                self.fail(errno.EIO, errno.ENOSPC)
            return len(taken)

    def fsync(self, handle: int) -> None:
        inode = self.handles[handle]
        fails = self.rng.random() < self.rates.error * WRITING
        with self.call(weight=WRITING):
            if fails:
                self._settle(inode)
                self.fail(errno.EIO, errno.ENOSPC)
            for change in inode.unsafe:
                change(inode.safe)
            inode.unsafe, inode.spoilt = [], []
            del inode.safe[len(inode.data) :]

    def truncate(self, handle: int, size: int) -> None:
        inode = self.handles[handle]
        with self.call(errno.EIO, weight=WRITING):
            del inode.data[size:]
            inode.unsafe.append(_truncate(size))
            inode.spoilt.append(_truncate(size))

    def close(self, handle: int) -> None:
        with self.call(errno.EIO):
            del self.handles[handle]

    def overwrite(self, path: Path, data: bytes) -> None:
        with self.call(errno.EIO, weight=WRITING):
            inode = self.names_now[path.name]
            _write(0, data)(inode.data)
            inode.unsafe.append(_write(0, data))
            inode.spoilt.append(_write(0, data))  # within one sector: all or nothing

    def rename(self, old: Path, new: Path) -> None:
        with self.call(errno.EIO, errno.ENOSPC, weight=WRITING):
            inode = self.names_now.pop(old.name)
            self.names_now[new.name] = inode
            self.names_unsafe.append((new.name, old.name, inode))
            self.time += 1

    def fsync_dir(self, folder: Path) -> None:
        with self.call(errno.EIO, weight=WRITING):
            self.names_safe, self.names_unsafe = dict(self.names_now), []

    @contextmanager
    def lock(self, path: Path) -> Iterator[Any]:
        with self.call(errno.ENOLCK):
            pass
        assert not self.locked, "the lock is taken twice"
        self.locked = True
        try:
            yield
        finally:
            self.locked = False
