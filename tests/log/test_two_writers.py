"""A screen and a command line write to one log at once."""

from __future__ import annotations

import fcntl
import os
import random
import time
from pathlib import Path

import pytest
from filled import NOW, a_record, clock, fill, state, texts

from assistant.errors import LogError
from assistant.log import Log, disk

NOTES = 4


def forked(folder: Path, name: str, seed: int) -> int:
    if (pid := os.fork()) == 0:
        status = 1
        try:
            writer(folder, name, seed)
            status = 0
        finally:
            os._exit(status)
    return pid


def writer(folder: Path, name: str, seed: int) -> None:
    rng = random.Random(seed)
    with Log.open(folder, clock=clock, segment_bytes=rng.choice((1_500, 1_000_000))) as log:
        for number in range(NOTES):
            words = f"{name} {number}"
            (entry, _) = log.keep(log.new_note(words, NOW), [a_record(words), a_record(words)])
            log.amend(entry.id, a_record(words, level=1.0))


@pytest.mark.parametrize("part", range(4))
def test_two_at_once_a_hundred_times(tmp_path: Path, part: int) -> None:
    for seed in range(part * 25, part * 25 + 25):
        folder = tmp_path / str(seed)
        pids = [forked(folder, name, seed) for name in "ab"]
        watching = Log.open(folder, clock=clock)
        seen: list[str] = []
        while pids:
            now = texts(watching)
            assert all(now.count(words) == 2 for words in now)
            assert set(seen) <= set(now)
            seen = now
            pid, status = os.waitpid(pids[0], os.WNOHANG)
            if pid:
                assert status == 0
                pids.pop(0)
        expected = sorted(f"{name} {number}" for name in "ab" for number in range(NOTES)) * 2
        assert sorted(texts(watching)) == sorted(expected)
        assert [entry.version for entry in watching.entries()].count(2) == 2 * NOTES
        assert watching.warnings == []
        assert state(Log.open(folder, clock=clock)) == state(watching)


def test_each_sees_at_once_what_the_other_keeps(tmp_path: Path) -> None:
    kept = fill(tmp_path, segment_bytes=700)
    screen = Log.open(tmp_path, clock=clock, segment_bytes=700)
    line = Log.open(tmp_path, clock=clock, segment_bytes=700)
    first, second = kept["note 2: two cups"]
    line.drop([first.id])
    assert first not in screen.entries()
    with pytest.raises(LogError, match="any more"):
        screen.amend(first.id, a_record("late"))
    screen.amend(second.id, a_record("amended"))
    assert line.entry(second.id).version == 2
    assert line.undo() == screen.redo().replace("put back", "took back") == "took back 1 record amended"
    line.set_setting("units", "metric")
    assert screen.setting("units") == "metric"
    assert state(screen) == state(line)


def test_one_that_never_lets_go_is_told_and_nothing_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(tmp_path)
    monkeypatch.setattr(disk, "LOCK_SECONDS", 0.05)
    with Log.open(tmp_path, clock=clock) as log:
        before = texts(log)
        with open(tmp_path / "lock", "rb") as other:
            fcntl.flock(other, fcntl.LOCK_EX)
            start = time.monotonic()
            with pytest.raises(LogError, match="another program is writing to it") as error:
                log.keep(log.new_note("more", NOW), [a_record("more")])
            assert time.monotonic() - start < 5
            assert "\n" not in str(error.value)
        assert texts(log) == before
        log.keep(log.new_note("more", NOW), [a_record("more")])
        assert texts(log) == [*before, "more"]
