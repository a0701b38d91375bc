"""What a killed program wrote and did not acknowledge: it may be built upon only once it is safe."""

from __future__ import annotations

import errno
import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from filled import NOW, a_record, clock, fill, state, texts
from simdisk import Killed, SimDisk

from assistant.errors import LogError
from assistant.log import Log
from assistant.log.lines import decode

SMALL = 300
"""A segment for each note."""


@pytest.fixture
def disk() -> SimDisk:
    return SimDisk(random.Random(7))


def opened(disk: SimDisk, segment_bytes: int = SMALL) -> Log:
    return Log.open(Path("log"), clock=clock, disk=disk, segment_bytes=segment_bytes)


def killed_before_it_was_safe(disk: SimDisk, words: str, segment_bytes: int = SMALL) -> None:
    """A program writes a note and is killed in place of its fsync."""
    log = opened(disk, segment_bytes)
    really = SimDisk.fsync

    def fsync(handle: int) -> None:
        if words.encode() in disk.handles[handle].data:
            raise Killed
        really(disk, handle)

    disk.fsync = fsync  # type: ignore[method-assign]
    with pytest.raises(Killed):
        log.keep(log.new_note(words, NOW), [a_record(words)])
    del disk.fsync


def power_cut_that_loses_all_it_may(disk: SimDisk) -> None:
    for inode in disk.names_now.values():
        inode.unsafe, inode.spoilt = [], []
    disk.names_unsafe = []
    disk.power_cut()


def ids_on(disk: SimDisk) -> Iterator[str]:
    for name, inode in sorted(disk.names_now.items()):
        for line in bytes(inode.data).splitlines() if name.endswith(".jsonl") else ():
            if "id" in (body := decode(line) or {}):
                yield body["id"]


@pytest.mark.parametrize("segment_bytes", [SMALL, 1_000_000])
@pytest.mark.parametrize("fails", [False, True])
def test_what_several_killed_programs_left_is_made_safe_by_the_next(
    disk: SimDisk, segment_bytes: int, fails: bool
) -> None:
    fill(Path("log"), 1, disk=disk)
    before = texts(opened(disk))
    for words in ("alpha", "beta", "gamma"):
        killed_before_it_was_safe(disk, words, segment_bytes)
    log = opened(disk, segment_bytes)
    assert texts(log) == [*before, "alpha", "beta", "gamma"]
    if fails:  # and the disk forgets what they wrote
        for inode in disk.names_now.values():
            inode.unsafe, inode.spoilt = [], []
    (entry,) = [entry for entry in log.entries() if entry.record.text == "alpha"]
    log.amend(entry.id, a_record("alpha, amended"))
    seen = state(log)
    power_cut_that_loses_all_it_may(disk)
    assert texts(opened(disk)) == [*before, "alpha, amended", "beta", "gamma"]
    assert state(opened(disk)) == seen


def test_what_nobody_built_upon_may_go(disk: SimDisk) -> None:
    fill(Path("log"), 1, disk=disk)
    killed_before_it_was_safe(disk, "alpha")
    assert texts(opened(disk))[-1] == "alpha"
    power_cut_that_loses_all_it_may(disk)
    assert texts(opened(disk)) == ["0 a", "0 b"]


def test_in_a_quiet_life_no_line_is_written_twice(disk: SimDisk) -> None:
    screen = opened(disk)
    for number in range(10):
        line = opened(disk, 1_000)  # a command, one note each
        line.keep(line.new_note("line", NOW), [a_record(f"line {number}")])
        line.close()
        screen.keep(screen.new_note("screen", NOW), [a_record(f"screen {number}")])
    found = list(ids_on(disk))
    assert len(found) == len(set(found)) == 20


def test_each_line_of_the_killed_is_written_again_once(disk: SimDisk) -> None:
    fill(Path("log"), 1, disk=disk)
    screen = opened(disk)
    for words in ("alpha", "beta"):
        killed_before_it_was_safe(disk, words)
    for number in range(6):
        line = opened(disk)
        line.keep(line.new_note("line", NOW), [a_record(f"line {number}")])
        screen.keep(screen.new_note("screen", NOW), [a_record(f"screen {number}")])
    found = list(ids_on(disk))
    # "alpha" stands where it was killed, before "beta" of the next program, and in what was safe first
    assert len(set(found)) == 1 + 2 + 12
    assert len(found) == len(set(found)) + 1 + 2


@pytest.mark.parametrize(
    "mark", [None, b"", b"milk, eggs\n", b'{"crc":"00000000","segment":"x","offset":1}\n']
)
def test_a_mark_that_is_lost_or_spoilt_is_made_anew(disk: SimDisk, mark: bytes | None) -> None:
    fill(Path("log"), 3, disk=disk)
    (name,) = [name for name in disk.names_now if name.endswith(".safe")]
    if mark is None:
        del disk.names_now[name]
    else:
        disk.names_now[name].data[:] = mark
    with opened(disk) as log:
        assert len(texts(log)) == 6
        log.keep(log.new_note("more", NOW), [a_record("more")])
        assert log.warnings == []
    assert decode(bytes(disk.names_now[name].data).partition(b"\n")[0]) is not None
    found = list(ids_on(disk))
    assert len(found) == len(set(found)) == 4


def test_a_mark_that_cannot_be_moved_costs_lines_and_no_note(
    disk: SimDisk, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(Path("log"), 1, disk=disk)
    monkeypatch.setattr(disk, "overwrite", lambda path, data: disk.fail(errno.EIO))
    for number in range(3):
        with opened(disk) as log:
            log.keep(log.new_note("more", NOW), [a_record(str(number))])
    with opened(disk) as log:
        assert texts(log) == ["0 a", "0 b", "0", "1", "2"]
        assert log.warnings == []


@pytest.mark.parametrize("more", ["short", "x" * 1_000])
def test_what_was_cut_off_does_not_come_back_behind_a_later_note(disk: SimDisk, more: str) -> None:
    fill(Path("log"), 1, disk=disk)
    log = opened(disk, 1_500)

    def fsync(handle: int) -> None:
        """All of it reaches the disk, but the disk says that it failed, now and when it is cut off."""
        inode = disk.handles[handle]
        if b"uncertain" not in inode.data + inode.safe:
            return SimDisk.fsync(disk, handle)
        if len(inode.data) > len(inode.safe):
            for change in inode.unsafe:
                change(inode.safe)
            inode.unsafe, inode.spoilt = [], []
        return disk.fail(errno.EIO)

    disk.fsync = fsync  # type: ignore[method-assign]
    with pytest.raises(LogError, match="was closed"):
        log.keep(log.new_note("uncertain", NOW), [a_record("uncertain")])
    del disk.fsync
    with opened(disk, 1_500) as log:
        assert texts(log) == ["0 a", "0 b"]
        log.keep(log.new_note(more, NOW), [a_record("more")])
    power_cut_that_loses_all_it_may(disk)
    assert texts(opened(disk)) == ["0 a", "0 b", "more"]
