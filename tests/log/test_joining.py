"""Logs that went apart are joined: all once, both sides' changes kept, the other folder left as it is."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from filled import NOW, a_record, clock, fill, segment, state, texts

from assistant.errors import LogError
from assistant.log import Log
from assistant.log.lines import encode


@pytest.fixture
def apart(tmp_path: Path) -> tuple[Path, Path, str]:
    """Two copies of a log with a note of its own and a change of one and the same record on each side."""
    kept = fill(tmp_path / "ours")
    contested = kept["note 1: two cups"][0].id
    shutil.copytree(tmp_path / "ours", tmp_path / "theirs")
    for name, level in (("ours", 1.0), ("theirs", 2.0)):
        with Log.open(tmp_path / name, clock=clock) as log:
            log.keep(log.new_note(f"only {name}", NOW), [a_record(f"only {name}")])
            log.amend(contested, a_record(f"as {name} has it", level=level))
            log.drop([kept["note 2: two cups"][1].id] if name == "ours" else [])
    return tmp_path / "ours", tmp_path / "theirs", contested


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_both_sides_come_to_the_same(apart: tuple[Path, Path, str]) -> None:
    ours, theirs, contested = apart
    before = bytes_of(theirs)
    with Log.open(ours, clock=clock) as log:
        joined = log.join(theirs)
        assert (joined.notes, joined.records) == (1, 1)
        assert joined.contested == [contested] and joined.warnings == []
        assert {"only ours", "only theirs"} <= set(texts(log))
        said = [entry.record.text for entry, _ in log.versions(contested)]
        assert sorted(said[1:]) == ["as ours has it", "as theirs has it"]
        assert log.entry(contested).record.text == said[-1]
    assert bytes_of(theirs) == before
    with Log.open(theirs, clock=clock) as log:
        log.join(ours)
    assert state(Log.open(ours, clock=clock)) == state(Log.open(theirs, clock=clock))


def test_joining_again_brings_nothing(apart: tuple[Path, Path, str]) -> None:
    ours, theirs, _ = apart
    with Log.open(ours, clock=clock) as log:
        log.join(theirs)
        before = bytes_of(ours)
        assert log.join(theirs) == (0, 0, [], [])
        assert log.join(ours) == (0, 0, [], [])
    assert bytes_of(ours) == before


def test_more_than_is_made_safe_at_once(
    apart: tuple[Path, Path, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("assistant.log.writing._AT_ONCE", 2)
    with Log.open(tmp_path / "empty", clock=clock, segment_bytes=1_500) as log:
        assert log.join(apart[0])[:2] == (5, 8)  # one of nine was dropped
        assert state(log) == state(Log.open(apart[0], clock=clock))
    assert state(Log.open(tmp_path / "empty", clock=clock)) == state(Log.open(apart[0], clock=clock))


def test_damage_over_there_costs_its_own_line_only(apart: tuple[Path, Path, str]) -> None:
    ours, theirs, _ = apart
    path = segment(theirs)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([*lines[:2], b"what is this\n", *lines[2:]]))
    before = bytes_of(theirs)
    with Log.open(ours, clock=clock) as log:
        joined = log.join(theirs)
    assert joined.notes == 1
    assert joined.warnings == [f"{path.name}, line 3: damaged, passed over"]
    assert bytes_of(theirs) == before


def test_what_holds_no_log_or_a_newer_one_is_refused(tmp_path: Path) -> None:
    fill(tmp_path / "ours")
    (tmp_path / "empty").mkdir()
    (tmp_path / "newer").mkdir()
    (tmp_path / "newer" / "00000000-000001.jsonl").write_bytes(encode({"format": 99}))
    with Log.open(tmp_path / "ours", clock=clock) as log:
        before = state(log)
        for name, told in (("empty", "holds no log"), ("newer", "newer version"), ("gone", "cannot be read")):
            with pytest.raises(LogError, match=told):
                log.join(tmp_path / name)
        assert state(log) == before
