"""The files of a journal and what was read of them; damage is set aside and told, healthy lines all count.

    <device>-<number>.jsonl     a segment: operations, one a line; the first line tells the format
    <device>-<number>.aside     what could not be read of it, each as `line number, tab, bytes`
    <device>.safe               how far the lines of that device are known to be safe from a power cut

Other files that look like copies of a segment (a synchroniser's conflict copy, an editor's backup) are read
as well: an operation is known by its id, so reading one twice does no harm.
"""

from __future__ import annotations

import fnmatch
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from assistant.errors import LogError
from assistant.log.disk import Disk, FileState, write_all
from assistant.log.lines import Damage, decode, encode, scan

FORMAT = 1

_SEGMENT = re.compile(r"([0-9a-f]{8})-(\d{6})\.jsonl")
_COPIES = ("*.jsonl", "*conflict*", "*~", "*.bak", "*.orig", "#*#")

Body: TypeAlias = dict[str, Any]


@dataclass(slots=True)
class Segment:
    """One file and how far it was read."""

    path: Path
    state: FileState | None = None
    offset: int = 0
    """Where whole lines end."""
    lines: int = 0
    format: int = 0
    """As its first line tells; 0 where that is not sound."""

    def whole(self) -> bool:
        """Whether a line may follow: of the format we write, and nothing stands behind the last whole line.

        A segment of an older format is never touched again: what comes next begins a new one.
        """
        return self.format == FORMAT and self.state is not None and self.state.size == self.offset

    def grew(self, size: int, lines: int) -> None:
        """Take note of lines of our own."""
        self.offset += size
        self.lines += lines
        self.state = self.state and self.state._replace(size=self.offset)


class Segments:
    """The segments of all devices in one folder. Every method may raise OSError."""

    def __init__(self, folder: Path, disk: Disk, device: str) -> None:
        self.folder, self.warnings = folder, list[str]()
        self._disk, self._device = disk, device
        self.next = folder / f"{device}-000001.jsonl"
        """The segment that this device begins next."""
        self._segments: dict[str, Segment] = {}
        self._last: dict[str, str] = {}
        """The last segment of each device: the only ones that grow."""
        self._copies: dict[str, FileState | None] = {}
        self._known: set[str] = set()
        self._found: list[Body] = []
        """Read, but not handed on yet: a disk may fail half way through."""
        self._time: int | None = None
        """The folder's time when it was read; None while a list of it is not read to the end."""
        self._opened = False
        self.safe = folder / f"{device}.safe"
        self.mark: tuple[str, int] | None = None
        """Segment and offset up to which this device's lines are safe; None before its first."""
        self.unsure: list[Body] = []
        """This device's operations behind the mark: never acknowledged, a power cut may undo them."""

    def changed(self) -> bool:
        """Whether anything was appended since it was read: a few look-ups, whatever the length of the log."""
        if self._found or self._time != self._disk.folder_time(self.folder):
            return True
        tails = map(self._segments.__getitem__, self._last.values())
        return self._disk.state(self.next) is not None or any(
            tail.state != self._disk.state(tail.path) for tail in tails
        )

    def read(self) -> list[Body]:
        """The operations that were not read before, in no order. Call it with the lock held."""
        time = self._disk.folder_time(self.folder)
        self._read_mark()
        names = list(self._last.values())
        # a folder's time may be too coarse to show that another program has begun our next segment
        if time != self._time or self._disk.state(self.next) is not None:
            self._time = None
            self._list()
            names = sorted(self._segments)
        for name in names:
            self._read(name)
        self._read_copies()
        self._time, self._opened = time, True
        found, self._found = self._found, []
        return found

    def last(self) -> Segment | None:
        """This device's last segment."""
        return self._segments.get(self._last.get(self._device, ""))

    def meet(self, name: str) -> Segment:
        """The segment of that name, new where it was not known."""
        device = name[:8]
        self._last[device] = max(name, self._last.get(device, ""))
        if device == self._device:
            self.next = self.folder / f"{device}-{int(self._last[device][9:15]) + 1:06d}.jsonl"
        return self._segments.setdefault(name, Segment(self.folder / name))

    def all_safe(self, segment: Segment) -> None:
        """Move the mark to the end of a segment. Where that fails the old one stays and is true as well."""
        self.mark, self.unsure = (segment.path.name, segment.offset), []
        with suppress(OSError):
            self._disk.overwrite(self.safe, self.mark_line(segment))

    def mark_line(self, segment: Segment) -> bytes:
        """What the file of the mark holds where all is safe up to the end of a segment."""
        return encode({"segment": segment.path.name, "offset": segment.offset})

    def know(self, id: str) -> bool:
        """Remember an operation; whether it is new."""
        new = id not in self._known
        self._known.add(id)
        return new

    def _list(self) -> None:
        for name in self._disk.names(self.folder):
            if _SEGMENT.fullmatch(name):
                self.meet(name)
            elif is_part(name):
                self._copies.setdefault(name, None)

    def _read(self, name: str) -> None:
        segment = self._segments[name]
        state = self._disk.state(segment.path)
        if state is not None and state == segment.state:
            return
        if state is None or _replaced(segment, state):
            segment = self._segments[name] = Segment(segment.path)
        if state is None:
            return
        data = self._disk.read(segment.path, segment.offset)
        found = scan(data, segment.lines)
        if name.startswith(self._device):
            self._doubt(name, segment.offset, data)
        segment.state = state
        segment.offset += found.consumed
        segment.lines += found.lines
        segment.format = max((check_format(name, body) for body in found.bodies), default=0) or segment.format
        if state.size == 0 and not self._opened:
            self.warnings.append(f"{name} is empty: if notes were in it, they are lost")
        # a line without an end may be on its way from another device, unless the log is only being opened
        self._set_aside(segment.path, [bad for bad in found.damage if not (bad.torn and self._opened)])
        self._take(found.bodies)

    def _read_mark(self) -> None:
        data = self._disk.read(self.safe) if self._disk.state(self.safe) else b""
        body = decode(data.partition(b"\n")[0])
        mark = (body["segment"], body["offset"]) if body else None
        if mark != self.mark:  # another program has written all that was unsure once more
            self.mark, self.unsure = mark, []

    def _doubt(self, name: str, start: int, data: bytes) -> None:
        """Remember which operations in the data of our segment, from `start` on, lie behind the mark."""
        if self.mark is None or name < self.mark[0]:
            return
        behind = max(0, self.mark[1] - start) if name == self.mark[0] else 0
        bodies = [body for body in scan(data[behind:]).bodies if "at" in body]
        self.unsure = list({body["id"]: body for body in (*self.unsure, *bodies)}.values())

    def _read_copies(self) -> None:
        for name, before in self._copies.items():
            state = self._disk.state(self.folder / name)
            if state is None or state == before:
                continue
            found = scan(self._disk.read(self.folder / name))
            self._copies[name] = state
            only_here = self._take(found.bodies)
            if found.bodies:
                told = "nothing in it is new"
                if only_here:
                    told = f"{only_here} of its changes stand nowhere else"
                self.warnings.append(f"{name} is a copy of a part of the log and was read: {told}")

    def _take(self, bodies: list[Body]) -> int:
        """Keep the operations that are new; how many."""
        fresh = [body for body in bodies if "at" in body and self.know(body["id"])]
        self._found += fresh
        return len(fresh)

    def _set_aside(self, path: Path, damage: list[Damage]) -> None:
        """Copy damaged bytes beside the segment and say so, once for each damage."""
        aside = path.with_suffix(".aside")
        try:
            known = self._disk.read(aside).split(b"\n") if damage and self._disk.state(aside) else []
            damage = [found for found in damage if b"%d\t%s" % (found.line, found.data) not in known]
            if damage:
                self._write_aside(aside, b"".join(b"%d\t%s\n" % (found.line, found.data) for found in damage))
            where = f"set aside in {aside.name}"
        except OSError as error:
            where = f"left where it is ({error.strerror})"
        for found in damage:
            what = "cut short" if found.torn else "damaged"
            self.warnings.append(f"{path.name}, line {found.line}: {what}, {where}; everything else was read")

    def _write_aside(self, aside: Path, data: bytes) -> None:
        handle = self._disk.open_append(aside)
        try:
            write_all(self._disk, handle, data)
            self._disk.fsync(handle)
        finally:
            self._disk.close(handle)
        self._disk.fsync_dir(self.folder)


def _replaced(segment: Segment, state: FileState) -> bool:
    """Whether another program put a different or shorter file in its place: then it is read anew."""
    before = segment.state
    return before is not None and (state.identity != before.identity or state.size < segment.offset)


def is_part(name: str) -> bool:
    """Whether a file of that name may hold a part of a log: a segment, or what looks like a copy of one."""
    return any(fnmatch.fnmatch(name, pattern) for pattern in _COPIES)


def check_format(name: str, body: Mapping[str, Any]) -> int:
    """The format that a segment's head tells, 0 for any other line. LogError where it is newer than ours."""
    format: int = body.get("format", 0)
    if format > FORMAT:
        raise LogError(
            f"{name} was written by a newer version of this program (format {format}; "
            f"this one reads format {FORMAT}): nothing was changed"
        )
    return format
