"""A child that keeps notes is killed at random moments; every note that it acknowledged is there, whole."""

from __future__ import annotations

import os
import random
import signal
import time
from pathlib import Path

import pytest
from filled import NOW, a_record, clock

from assistant.log import Log

RECORDS = 3


def keep_for_ever(folder: Path, pipe: int, rng: random.Random) -> None:
    """Keep, amend and drop; every acknowledgement goes down the pipe as one line."""
    with Log.open(folder, clock=clock, segment_bytes=20_000) as log:
        for number in range(1_000_000):
            note = log.new_note(f"{os.getpid()} {number} " + "x" * rng.randrange(2_000), NOW)
            words = f"{os.getpid()}.{number}"
            entries = log.keep(note, [a_record(words) for _ in range(RECORDS)])
            os.write(pipe, f"keep {words}\n".encode())
            if number % 3 == 0:
                log.amend(entries[0].id, a_record(words, level=float(number)))
                os.write(pipe, f"amend {words} {number}\n".encode())


def child(folder: Path, pipe: int, seed: int) -> None:
    try:
        keep_for_ever(folder, pipe, random.Random(seed))
    finally:
        os._exit(1)


def one_life(folder: Path, seed: int) -> list[list[str]]:
    """Start a child, kill it after a while; what it acknowledged."""
    read, write = os.pipe()
    if (pid := os.fork()) == 0:
        child(folder, write, seed)
    os.close(write)
    with os.fdopen(read, "rb") as told:
        first = told.readline()
        time.sleep(random.Random(seed).uniform(0, 0.03))
        os.kill(pid, signal.SIGKILL)
        lines = [first, *told]
    assert os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) == -signal.SIGKILL
    return [line.decode().split() for line in lines if line.endswith(b"\n")]


def kill_again_and_again(folder: Path, times: int) -> None:
    acknowledged: list[list[str]] = []
    for seed in range(times):
        acknowledged += one_life(folder, seed)
        with Log.open(folder, clock=clock) as log:
            entries = [(entry.record.text, entry.record.level) for entry in log.entries()]
        levels = dict(entries) | {words: level for words, level in entries if level is not None}
        for what, words, *level in acknowledged:
            assert words in levels
            if what == "amend":
                assert levels[words] == float(level[0])
        count: dict[str, int] = {}
        for words, _ in entries:
            count[words] = count.get(words, 0) + 1
        assert set(count.values()) == {RECORDS}
    assert len(acknowledged) > times


def test_killed_sixty_times(tmp_path: Path) -> None:
    kill_again_and_again(tmp_path / "log", 60)


@pytest.mark.long
def test_killed_a_thousand_times(tmp_path: Path) -> None:
    for part in range(20):
        kill_again_and_again(tmp_path / f"log {part}", 50)
