"""The folder, the rights, the full disk and the network: what the log makes of where it lives."""

from __future__ import annotations

import errno
import fcntl
import gc
import os
import random
import resource
import shutil
import stat
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from filled import NOW, a_record, clock, fill, segment, texts
from simdisk import Rates, SimDisk

from assistant.errors import LogError
from assistant.log import Log

NOBODY = 65534


def in_a_child(work: Callable[[], None], user: int | None = None) -> None:
    """Run in a fork, as another user where asked; fails here where it failed there."""
    if (pid := os.fork()) == 0:
        status = 1
        try:
            if user is not None:
                os.setgid(user)
                os.setuid(user)
            work()
            status = 0
        except BaseException as error:
            os.write(2, f"in the child: {error!r}\n".encode())
        finally:
            os._exit(status)
    assert os.waitpid(pid, 0)[1] == 0


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may enter."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def test_folder_and_files_are_the_owner_s_alone(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    before = os.umask(0)
    try:
        fill(folder, 30, segment_bytes=5_000)
        path = sorted(folder.glob("*.jsonl"))[0]
        path.write_bytes(path.read_bytes() + b"milk, eggs\n")
        Log.open(folder, clock=clock)
    finally:
        os.umask(before)
    assert [stat.S_IMODE(place.stat().st_mode) for place in (folder, folder.parent)] == [0o700, 0o700]
    files = {file.suffix: stat.S_IMODE(file.stat().st_mode) for file in folder.iterdir()}
    assert files == {"": 0o600, ".jsonl": 0o600, ".aside": 0o600, ".safe": 0o600}


def test_the_rights_of_a_folder_that_was_there_are_not_touched(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    fill(tmp_path)
    assert stat.S_IMODE(tmp_path.stat().st_mode) == 0o755


def test_a_read_only_folder_answers_and_takes_nothing(open_folder: Path) -> None:
    fill(open_folder)
    for file in open_folder.iterdir():
        file.chmod(0o444)
    segment(open_folder).write_bytes(segment(open_folder).read_bytes() + b"milk, eggs\n")
    open_folder.chmod(0o555)

    def work() -> None:
        with Log.open(open_folder, clock=clock) as log:
            assert len(texts(log)) == 8
            assert len(log.warnings) == 1 and "left where it is (Permission denied)" in log.warnings[0]
            with pytest.raises(LogError, match=r"cannot be written \(Permission denied\)"):
                log.keep(log.new_note("more", NOW), [a_record("more")])
            assert len(texts(log)) == 8

    in_a_child(work, NOBODY if os.geteuid() == 0 else None)


def test_a_folder_that_may_not_be_entered_or_made(open_folder: Path) -> None:
    fill(open_folder / "log")

    def work() -> None:
        for place in (open_folder / "log", open_folder / "log" / "deeper", open_folder / "new"):
            with pytest.raises(LogError, match="Permission denied") as error:
                Log.open(place, clock=clock)
            assert "\n" not in str(error.value) and str(place) in str(error.value)

    open_folder.chmod(0o555)
    (open_folder / "log").chmod(0o000)
    in_a_child(work, NOBODY if os.geteuid() == 0 else None)
    (open_folder / "log").chmod(0o700)


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "log").write_text("milk, eggs")
    for place in (tmp_path / "log", tmp_path / "log" / "deeper"):
        with pytest.raises(LogError, match="Not a directory"):
            Log.open(place, clock=clock)
    assert (tmp_path / "log").read_text() == "milk, eggs"


def test_the_folder_is_removed_while_the_log_is_open(tmp_path: Path) -> None:
    folder = tmp_path / "log"
    fill(folder)
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("one", NOW), [a_record("one")])
        shutil.rmtree(folder)
        for _ in range(2):
            with pytest.raises(LogError, match="No such file or directory") as error:
                log.keep(log.new_note("two", NOW), [a_record("two")])
            assert str(folder) in str(error.value)
        folder.mkdir()
        log.keep(log.new_note("three", NOW), [a_record("three")])
    assert texts(Log.open(folder, clock=clock)) == ["three"]


def test_a_file_that_may_grow_no_more(tmp_path: Path) -> None:
    """The real thing, with the limit that the system puts on a file's size: the write fails half way."""
    kept = fill(tmp_path)
    limit = segment(tmp_path).stat().st_size + 100

    def work() -> None:
        with Log.open(tmp_path, clock=clock) as log:
            before = texts(log)
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
            for _ in range(3):
                with pytest.raises(LogError, match=r"\(File too large\): this was not kept"):
                    log.keep(log.new_note("more", NOW), [a_record("more")])
            assert texts(log) == before and not log.closed
            resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
            log.keep(log.new_note("more", NOW), [a_record("more")])

    in_a_child(work)
    with Log.open(tmp_path, clock=clock) as log:
        assert len(texts(log)) == 2 * len(kept) + 1
        assert log.warnings == []


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS])
@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_full_or_failing_disk_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch, call: str, number: int
) -> None:
    disk = SimDisk(random.Random(1))
    with Log.open(Path("log"), clock=clock, disk=disk) as log:
        log.keep(log.new_note("one", NOW), [a_record("one")])
        fails = [True]

        def failing(*args: object) -> object:
            if fails.pop() if fails else False:
                raise OSError(number, os.strerror(number))
            return getattr(SimDisk, call)(disk, *args)

        with monkeypatch.context() as patch:
            patch.setattr(disk, call, failing)
            with pytest.raises(LogError) as error:
                log.keep(log.new_note("two", NOW), [a_record("two")])
        reason = os.strerror(number)
        assert str(error.value) == f"the log in log cannot be written ({reason}): this was not kept"
        log.keep(log.new_note("three", NOW), [a_record("three")])
        assert texts(log) == ["one", "three"]


def test_where_nothing_can_be_taken_back_the_log_closes_and_says_so() -> None:
    disk = SimDisk(random.Random(1))
    log = Log.open(Path("log"), clock=clock, disk=disk)
    log.keep(log.new_note("one", NOW), [a_record("one")])
    disk.truncate = lambda handle, size: disk.fail(errno.EIO)  # type: ignore[method-assign]
    disk.fsync = lambda handle: disk.fail(errno.EIO)  # type: ignore[method-assign]
    with pytest.raises(
        LogError, match="was closed: whether this was kept shows when it is opened again"
    ) as error:
        log.keep(log.new_note("two", NOW), [a_record("two")])
    assert "\n" not in str(error.value) and log.closed
    assert texts(Log.open(Path("log"), clock=clock, disk=disk)) == ["one", "two"]


def test_a_network_folder_without_locks_is_refused_in_one_line() -> None:
    disk = SimDisk(random.Random(1))
    disk.rates = Rates(error=1.0)
    with pytest.raises(LogError) as error:
        Log.open(Path("log"), clock=clock, disk=disk)
    assert "\n" not in str(error.value)
    disk.rates = Rates()
    log = Log.open(Path("log"), clock=clock, disk=disk)
    disk.lock = lambda path: disk.fail(errno.ENOLCK)  # type: ignore[method-assign]
    with pytest.raises(LogError, match=r"cannot be locked \(No locks available\)"):
        log.keep(log.new_note("one", NOW), [])


def test_a_lock_that_may_not_be_opened_is_no_reason_not_to_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(tmp_path)
    really = os.open

    def refusing(number: int) -> Callable[..., int]:
        def open_(path: Path, *args: int) -> int:
            if Path(path).name == "lock":
                raise OSError(number, os.strerror(number))
            return really(path, *args)

        return open_

    for number in (errno.EACCES, errno.EPERM, errno.EROFS):
        monkeypatch.setattr(os, "open", refusing(number))
        assert len(texts(Log.open(tmp_path, clock=clock))) == 8
    monkeypatch.setattr(os, "open", refusing(errno.EMFILE))
    with pytest.raises(LogError, match="Too many open files"):
        Log.open(tmp_path, clock=clock)


def test_where_fsync_leaves_data_in_the_drive_the_full_one_is_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # fcntl(2) of macOS: F_FULLFSYNC asks the drive to flush what it has buffered (from memory)
    asked = []
    monkeypatch.setattr(fcntl, "F_FULLFSYNC", 51, raising=False)
    monkeypatch.setattr(fcntl, "fcntl", lambda handle, what: asked.append(what))
    fill(tmp_path, 3)
    assert asked == [51] * 5  # the new segment, the mark, and each note


def test_the_collector_rests_while_loading_and_leaves_a_long_log_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(tmp_path)
    told: list[str] = []
    monkeypatch.setattr("assistant.log.log.FREEZE_FROM", 8)
    for name in ("disable", "freeze", "enable"):
        monkeypatch.setattr(gc, name, lambda name=name: told.append(name))
    Log.open(tmp_path, clock=clock)
    assert told == ["disable", "freeze", "enable"]
    monkeypatch.setattr(gc, "isenabled", lambda: False)
    monkeypatch.setattr("assistant.log.log.FREEZE_FROM", 9)
    Log.open(tmp_path, clock=clock)
    assert told == ["disable", "freeze", "enable", "disable"]


def test_no_socket_no_child_and_none_of_the_heavy_packages(tmp_path: Path) -> None:
    program = f"""
import sys
seen = set()
sys.addaudithook(lambda event, args: seen.add(event))
from pathlib import Path
from assistant.log import Log
from assistant.records import Record
from datetime import datetime
with Log.open(Path({str(tmp_path / "log")!r})) as log:
    entry, = log.keep(log.new_note("fed", datetime.now()), [Record("feed", text="fed")])
    log.amend(entry.id, Record("bed"))
    log.undo()
    assert log.table.all() and log.entries()
assert "open" in seen
outside = ("socket.", "subprocess.", "os.system", "os.exec", "os.fork")
bad = [event for event in seen if event.startswith(outside)]
heavy = {{"spacy", "textual", "dateparser", "assistant.reading", "assistant.balance"}} & set(sys.modules)
print(bad, sorted(heavy))
"""
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=root, capture_output=True, text=True, check=False, timeout=60
    )
    assert (done.stdout, done.stderr) == ("[] []\n", "")
