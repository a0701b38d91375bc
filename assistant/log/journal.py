"""The journal: one line an operation, appended to this device's last segment under a lock, safe on return.

Nothing that was written is ever changed: a segment that is full or damaged at its end is left as it is, and
the next line begins a new one. Lines that a program wrote and did not live to acknowledge may not be safe:
they are written once more before the next builds on them. An fsync cannot make sure of them, for a disk that
lost a page says so only once.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from assistant.errors import LogError
from assistant.log.disk import Disk, write_all
from assistant.log.lines import encode
from assistant.log.segments import FORMAT, Body, Segment, Segments

SEGMENT_BYTES = 1_000_000


class Journal:
    """Reads and appends operations; any number of programs may do so at once."""

    def __init__(self, folder: Path, disk: Disk, device: str, segment_bytes: int = SEGMENT_BYTES) -> None:
        """Creates the folder where it is missing. LogError where it cannot be used."""
        self.folder, self.closed = folder, False
        self._disk, self._limit = disk, segment_bytes
        self._segments = Segments(folder, disk, device)
        self._handle: tuple[str, int, int] | None = None
        """Name, identity on the disk and handle of the segment that is open."""
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

    def append(self, *bodies: Body) -> None:
        """Write operations; they are safe from a power cut on return. Call it locked, with everything read.

        LogError says that none was kept. Where even that is uncertain the journal is closed. ValueError or
        TypeError where an operation cannot be written as JSON.
        """
        if self.closed:
            raise LogError("the log is closed: open it again")
        lines = [*map(encode, self._segments.unsure), *map(encode, bodies)]
        data = b"".join(lines)
        with self._plainly("cannot be written"):
            segment, handle = self._writable(len(data))
        try:
            write_all(self._disk, handle, data)
            self._disk.fsync(handle)
        except OSError as error:
            self._take_back(segment, handle, error)
        for body in bodies:
            self._segments.know(body["id"])
        segment.grew(len(data), len(lines))
        self._segments.all_safe(segment)

    def close(self) -> None:
        """Give the file back; nothing is pending."""
        self.closed = True
        self._release()

    def _writable(self, size: int) -> tuple[Segment, int]:
        """The segment that takes the next line, open; a new one where the last is full or not whole."""
        last = self._segments.last()
        if last and last.whole() and (last.offset + size <= self._limit or last.lines == 1):
            return last, self._open(last)
        if last and last.state:
            self._leave(last)
        segment = self._begin()
        return segment, self._open(segment)

    def _leave(self, segment: Segment) -> None:
        """Make safe what was cut off a segment, before the next lines stand elsewhere."""
        handle = self._disk.open_append(segment.path)
        try:
            self._disk.fsync(handle)
        finally:
            self._disk.close(handle)

    def _open(self, segment: Segment) -> int:
        """Open to append; the names in the folder are made safe first."""
        identity = segment.state.identity if segment.state else 0
        if self._handle and self._handle[:2] == (segment.path.name, identity):
            return self._handle[2]
        self._release()
        if self._segments.mark is None:
            self._place(self._segments.safe, self._segments.mark_line(segment))
        self._disk.fsync_dir(self.folder)
        handle = self._disk.open_append(segment.path)
        self._handle = segment.path.name, identity, handle
        return handle

    def _release(self) -> None:
        if self._handle:
            handle, self._handle = self._handle[2], None
            with suppress(OSError):  # everything in it is safe already
                self._disk.close(handle)

    def _begin(self) -> Segment:
        path = self._segments.next
        header = encode({"format": FORMAT, "segment": path.name})
        self._place(path, header)
        segment = self._segments.meet(path.name)
        segment.state, segment.format = self._disk.state(path), FORMAT
        segment.offset, segment.lines = len(header), 1
        return segment

    def _place(self, path: Path, data: bytes) -> None:
        """A new file: written beside, made safe, given its name."""
        beside = path.with_suffix(".new")
        handle = self._disk.open_append(beside)
        try:
            self._disk.truncate(handle, 0)
            write_all(self._disk, handle, data)
            self._disk.fsync(handle)
        finally:
            self._disk.close(handle)
        self._disk.rename(beside, path)

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
