"""The journal: one line an operation, appended to this device's last segment under a lock, safe on return.

Nothing that was written is ever changed: a segment that is full, damaged at its end or once refused by the
disk is left as it is, and the next line begins a new one.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from assistant.errors import LogError
from assistant.log.disk import Disk, write_all
from assistant.log.lines import encode
from assistant.log.segments import FORMAT, Body, Segment, Segments

SEGMENT_BYTES = 1_000_000


class Journal:
    """Reads and appends operations; any number of programs and threads."""

    def __init__(self, folder: Path, disk: Disk, device: str, segment_bytes: int = SEGMENT_BYTES) -> None:
        """Creates the folder where it is missing. LogError where it cannot be used."""
        self.folder, self.closed = folder, False
        self._disk, self._limit = disk, segment_bytes
        self._segments = Segments(folder, disk, device)
        self._handle: tuple[str, int, int] | None = None
        """Name, identity on the disk and handle of the segment that is open."""
        self._sealed = ""
        self._guard, self._depth = threading.RLock(), 0
        with self._plainly("cannot be opened"):
            disk.make_folder(folder)

    @property
    def warnings(self) -> list[str]:
        """Plain lines on what was found damaged or set aside."""
        return self._segments.warnings

    def read(self) -> list[Body]:
        """The operations that were not read before, in no order. LogError where the folder cannot be read."""
        with self._guard, self._plainly("cannot be read"):
            if not self._segments.changed():
                return []
            with self.locked():
                return self._segments.read()

    @contextmanager
    def locked(self) -> Iterator[None]:
        """Keep every other program from writing, and from seeing what is not yet safe; may be nested."""
        with self._guard:
            if self._depth:
                yield
                return
            with self._plainly("cannot be locked"), self._disk.lock(self.folder / "lock"):
                self._depth += 1
                try:
                    yield
                finally:
                    self._depth -= 1

    def append(self, body: Body) -> None:
        """Write one operation; it is safe from a power cut on return. Call it locked, with everything read.

        LogError says that it was not kept. Where even that is uncertain the journal is closed. ValueError or
        TypeError where the operation cannot be written as JSON.
        """
        data = encode(body)
        if self.closed:
            raise LogError("the log is closed: open it again")
        with self._plainly("cannot be written"):
            segment, handle = self._writable(len(data))
        try:
            write_all(self._disk, handle, data)
        except OSError as error:
            self._take_back(segment, handle, error)
        try:
            self._disk.fsync(handle)
        except OSError as error:
            self._sealed = segment.name  # a disk that lost a page once says nothing of it the second time
            self._take_back(segment, handle, error)
        self._segments.know(body["id"])
        segment.grew(len(data))

    def close(self) -> None:
        """Give the file back; nothing is pending."""
        self.closed = True
        if self._handle:
            handle, self._handle = self._handle[2], None
            self._disk.close(handle)

    def _writable(self, size: int) -> tuple[Segment, int]:
        """The segment that takes the next line, open; a new one where the last is full or not whole."""
        last = self._segments.last()
        if last and last.state and last.name != self._sealed:
            handle = self._open(last, last.state.identity)
            if last.whole() and (last.offset + size <= self._limit or last.lines == 1):
                return last, handle
        return self._begin()

    def _open(self, segment: Segment, identity: int) -> int:
        """Open to append; what was read of it is made safe first, for the next lines build on it."""
        if self._handle and self._handle[:2] == (segment.name, identity):
            return self._handle[2]
        if self._handle:
            self._disk.close(self._handle[2])
        handle = self._disk.open_append(self._segments.path(segment.name))
        self._handle = segment.name, identity, handle
        try:
            self._disk.fsync(handle)
            self._disk.fsync_dir(self.folder)
        except OSError:
            self.close()
            raise
        return handle

    def _begin(self) -> tuple[Segment, int]:
        """A new segment: written beside, made safe, given its name."""
        name = self._segments.next_name()
        header = encode({"format": FORMAT, "segment": name})
        path = self._segments.path(name)
        beside = path.with_suffix(".new")
        handle = self._disk.open_append(beside)
        try:
            self._disk.truncate(handle, 0)
            write_all(self._disk, handle, header)
            self._disk.fsync(handle)
        finally:
            self._disk.close(handle)
        self._disk.rename(beside, path)
        segment = self._segments.meet(name)
        segment.state, segment.headed = self._disk.state(path), True
        segment.offset, segment.lines = len(header), 1
        return segment, self._open(segment, segment.state.identity if segment.state else 0)

    def _take_back(self, segment: Segment, handle: int, error: OSError) -> None:
        """Cut off what a failed write left, for good; where that fails too, close and say so."""
        told = f"the log in {self.folder} cannot be written ({error.strerror})"
        try:
            self._disk.truncate(handle, segment.offset)
            self._disk.fsync(handle)
        except OSError:
            self.close()
            told += " and was closed: whether this was kept shows when it is opened again"
            raise LogError(told) from error
        raise LogError(f"{told}: this was not kept") from error

    @contextmanager
    def _plainly(self, what: str) -> Iterator[None]:
        """Turn the system's errors into one plain line."""
        try:
            yield
        except OSError as error:
            raise LogError(f"the log in {self.folder} {what} ({error.strerror or error})") from error
