"""Every file call of the log, in one small place, so that a simulated disk can stand in for the real one."""

from __future__ import annotations

import errno
import fcntl
import os
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import NamedTuple, Protocol

LOCK_SECONDS = 10.0
"""How long to wait for another program to finish its note."""


class FileState(NamedTuple):
    """Tells one state of a file from another: its length in bytes and its identity on the disk."""

    size: int
    identity: int


class Disk(Protocol):
    """What the journal asks of a disk. Every call may raise OSError; a handle is an integer."""

    def make_folder(self, folder: Path) -> None:
        """Create the folder and its parents, for the owner only, where they are missing."""

    def names(self, folder: Path) -> list[str]:
        """The regular files in a folder, sorted."""

    def folder_time(self, folder: Path) -> int:
        """A number that changes when a file comes, goes or is renamed."""

    def state(self, path: Path) -> FileState | None:
        """Length and identity of a file; None where there is no such file."""

    def read(self, path: Path, offset: int = 0) -> bytes:
        """The bytes of a file from `offset` to its end."""

    def open_append(self, path: Path) -> int:
        """Open for appending; the file is created, for the owner only, where it is missing."""

    def write(self, handle: int, data: bytes) -> int:
        """Append; the count of bytes taken, which may be fewer than given."""

    def fsync(self, handle: int) -> None:
        """Return when the data of the file is safe from a power cut."""

    def truncate(self, handle: int, size: int) -> None:
        """Cut the file to `size` bytes."""

    def close(self, handle: int) -> None:
        """Give the handle back."""

    def overwrite(self, path: Path, data: bytes) -> None:
        """Put a few bytes at the start of a file, all at once; a power cut may still undo it."""

    def rename(self, old: Path, new: Path) -> None:
        """Give a file its final name, in one step."""

    def fsync_dir(self, folder: Path) -> None:
        """Return when the names in the folder are safe from a power cut."""

    def lock(self, path: Path) -> AbstractContextManager[None]:
        """Hold the lock of the log while the context lasts; TimeoutError where another program keeps it."""


def write_all(disk: Disk, handle: int, data: bytes) -> None:
    """Append all the data, however many calls the disk makes of it."""
    while data:
        data = data[disk.write(handle, data) :]


class LocalDisk:
    """The disk of this machine."""

    def make_folder(self, folder: Path) -> None:
        """See Disk."""
        if not folder.is_dir():
            for parent in reversed((folder, *folder.parents)):
                if not parent.exists():
                    parent.mkdir(mode=0o700, exist_ok=True)  # another program may be as far
                    self.fsync_dir(parent.parent)
            os.scandir(folder).close()  # raises where it is a file

    def names(self, folder: Path) -> list[str]:
        """See Disk."""
        with os.scandir(folder) as found:
            return sorted(entry.name for entry in found if entry.is_file(follow_symlinks=False))

    def folder_time(self, folder: Path) -> int:
        """See Disk."""
        return os.stat(folder).st_mtime_ns

    def state(self, path: Path) -> FileState | None:
        """See Disk."""
        try:
            found = os.stat(path)
        except FileNotFoundError:
            return None
        return FileState(found.st_size, found.st_ino)

    def read(self, path: Path, offset: int = 0) -> bytes:
        """See Disk."""
        with open(path, "rb") as file:
            file.seek(offset)
            return file.read()

    def open_append(self, path: Path) -> int:
        """See Disk."""
        return os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_CLOEXEC, 0o600)

    def write(self, handle: int, data: bytes) -> int:
        """See Disk."""
        return os.write(handle, data)

    def fsync(self, handle: int) -> None:
        """See Disk."""
        if full := getattr(fcntl, "F_FULLFSYNC", None):  # macOS: fsync alone leaves data in the drive's cache
            fcntl.fcntl(handle, full)
        else:
            os.fdatasync(handle)

    def truncate(self, handle: int, size: int) -> None:
        """See Disk."""
        os.ftruncate(handle, size)

    def close(self, handle: int) -> None:
        """See Disk."""
        os.close(handle)

    def overwrite(self, path: Path, data: bytes) -> None:
        """See Disk. A disk writes a sector whole or not at all, and the first has room for these bytes."""
        handle = os.open(path, os.O_WRONLY | os.O_CLOEXEC)
        try:
            os.pwrite(handle, data, 0)
        finally:
            os.close(handle)

    def rename(self, old: Path, new: Path) -> None:
        """See Disk."""
        os.rename(old, new)

    def fsync_dir(self, folder: Path) -> None:
        """See Disk."""
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

    @contextmanager
    def lock(self, path: Path) -> Iterator[None]:
        """See Disk. Where nothing can be written, nothing can change under a reader: it goes without."""
        handle = _open_lock(path)
        if handle is None:
            yield
            return
        try:
            _wait(handle, time.monotonic() + LOCK_SECONDS)
            yield
        finally:
            os.close(handle)  # gives the lock back as well


def _open_lock(path: Path) -> int | None:
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as error:
        if error.errno not in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise
        return None


def _wait(handle: int, until: float) -> None:
    while True:
        try:
            return fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > until:
                raise TimeoutError(errno.ETIMEDOUT, "another program is writing to it") from None
            time.sleep(0.0005)
