"""Damaged files, and files of others beside them: the log opens, loses no healthy line, says what it did."""

from __future__ import annotations

import errno
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from filled import NOW, a_record, clock, fill, segment, state, texts
from simdisk import SimDisk

from assistant.errors import LogError
from assistant.log import Log
from assistant.log.lines import encode

Damage = Callable[[bytes], bytes]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    fill(tmp_path / "log")
    return tmp_path / "log"


def everything() -> list[str]:
    return [f"{number} {letter}" for number in range(4) for letter in "ab"]


def works_on(folder: Path, before: list[str]) -> None:
    """One more note is kept, and the next opening has nothing more to say."""
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("more", NOW), [a_record("more")])
    with Log.open(folder, clock=clock) as log:
        assert texts(log) == [*before, "more"]
        assert log.warnings == []


def test_the_last_line_cut_at_every_byte(folder: Path, tmp_path: Path) -> None:
    whole = segment(folder).read_bytes()
    start = whole[:-1].rindex(b"\n") + 1
    for size in range(start, len(whole)):
        copy = tmp_path / "copy"
        shutil.copytree(folder, copy)
        segment(copy).write_bytes(whole[:size])
        with Log.open(copy, clock=clock) as log:
            said, left = list(log.warnings), texts(log)
        if size == len(whole) - 1:  # only the line end is gone
            assert left == everything() and said == []
        else:
            assert left == everything()[:-2]
            assert [line for line in said if "line 5" in line and segment(copy).name in line] == said
            assert len(said) == (size > start)
            aside = segment(copy).with_suffix(".aside")
            assert size == start or aside.read_bytes() == b"5\t" + whole[start:size] + b"\n"
        if size % 50 == 0:
            works_on(copy, left)
        shutil.rmtree(copy)


def test_a_bit_flipped_at_two_hundred_places(folder: Path) -> None:
    rng = random.Random(25)
    path = segment(folder)
    whole = path.read_bytes()
    lines = whole.splitlines(keepends=True)
    for _ in range(200):
        place = rng.randrange(len(whole))
        flipped = bytearray(whole)
        flipped[place] ^= 1 << rng.randrange(8)
        path.write_bytes(flipped)
        number = next(n for n in range(len(lines)) if sum(map(len, lines[: n + 1])) > place)
        line_end = whole[place : place + 1] == b"\n"
        lost = set() if number == 0 or line_end else {f"{number - 1} a", f"{number - 1} b"}
        with Log.open(folder, clock=clock) as log:
            assert texts(log) == [words for words in everything() if words not in lost]
            assert all("\n" not in said and path.name in said for said in log.warnings)
            assert len(log.warnings) >= (not line_end)
        path.with_suffix(".aside").unlink(missing_ok=True)
    path.write_bytes(whole)
    works_on(folder, everything())


@pytest.mark.parametrize(
    ("what", "told"),
    [
        (lambda data: data.replace(b"\n", b"\r\n"), 0),
        (lambda data: data.replace(b"\n", b"\r"), 0),
        (lambda data: b"\xef\xbb\xbf" + data, 1),
        (lambda data: data.replace(b"\n", b"\n\n  \n"), 0),
        (lambda data: data.replace(b"\n", b"\nmilk, eggs\n", 2), 2),
        (lambda data: data + b"milk, eggs\n", 1),
        (lambda data: data + bytes(300), 1),
        (lambda data: data.replace(b"\n", b"", 3), 0),
        (lambda data: data.partition(b"\n")[2], 0),
        (lambda data: b"<<<<<<< mine\n" + data + b"=======\n" + data + b">>>>>>> theirs\n", 3),
        (lambda data: data + data[: len(data) // 2], 1),
    ],
    ids=[
        "CRLF",
        "lone CR",
        "byte order mark",
        "blank lines",
        "stray lines",
        "a stray last line",
        "zeros at the end",
        "line ends lost",
        "first line lost",
        "merge marks and everything twice",
        "half of it twice",
    ],
)
def test_what_editors_and_synchronisers_do(folder: Path, what: Damage, told: int) -> None:
    path = segment(folder)
    path.write_bytes(what(path.read_bytes()))
    with Log.open(folder, clock=clock) as log:
        assert texts(log) == everything()
        assert len(log.warnings) == told
        assert all("set aside in" in said and path.name in said for said in log.warnings)
    works_on(folder, everything())


def test_a_file_of_no_length(folder: Path) -> None:
    path = segment(folder)
    kept = path.read_bytes()
    path.write_bytes(b"")
    with Log.open(folder, clock=clock) as log:
        assert log.entries() == []
        assert log.warnings == [f"{path.name} is empty: if notes were in it, they are lost"]
        log.keep(log.new_note("more", NOW), [a_record("more")])
    path.write_bytes(kept)  # from the keeper's backup
    with Log.open(folder, clock=clock) as log:
        assert sorted(texts(log)) == [*everything(), "more"]


@pytest.mark.parametrize(
    "name",
    [
        "{name}~",
        "{stem}.jsonl.bak",
        "{stem}.sync-conflict-20261125-093000-ABCDEFG.jsonl",
        "{stem} (conflicted copy 2026-11-25).jsonl",
        "{stem} 2.jsonl",
        "#{name}#",
        "conflict.txt",
    ],
)
def test_copies_beside_it_are_just_more_lines(folder: Path, tmp_path: Path, name: str) -> None:
    path = segment(folder)
    older = path.read_bytes()
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("only in the copy", NOW), [a_record("only")])
    newer = path.read_bytes()
    copy = folder / name.format(name=path.name, stem=path.stem)
    for own, other, told in (
        (newer, older, "nothing in it is new"),
        (older, newer, "1 of its changes stand nowhere else"),
    ):
        path.write_bytes(own)
        copy.write_bytes(other)
        with Log.open(folder, clock=clock) as log:
            assert texts(log) == [*everything(), "only"]
            assert log.warnings == [f"{copy.name} is a copy of a part of the log and was read: {told}"]


def test_files_that_are_none_of_ours(folder: Path) -> None:
    (folder / "export.jsonl").write_text('{"setup": []}\n{"kind": "feed"}\n')
    (folder / "notes~").write_bytes(b"\x00\xff" * 500)
    (folder / "3f2504e0-000001.jsonl").mkdir()
    (folder / "copy.jsonl").symlink_to(segment_of(folder))
    with Log.open(folder, clock=clock) as log:
        assert texts(log) == everything()
        assert log.warnings == []


def segment_of(folder: Path) -> Path:
    return next(path for path in folder.glob("*-000001.jsonl") if path.is_file())


def test_a_newer_format_is_refused_and_left_alone(folder: Path) -> None:
    path = folder / "ffffffff-000001.jsonl"
    path.write_bytes(encode({"format": 2, "segment": path.name}) + b"who knows\n")
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    with pytest.raises(LogError, match=r"newer version of this program \(format 2") as error:
        Log.open(folder, clock=clock)
    assert "\n" not in str(error.value)
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == before


def test_an_older_format_is_read_and_never_touched_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = segment(folder).read_bytes()
    for module in ("segments", "journal"):
        monkeypatch.setattr(f"assistant.log.{module}.FORMAT", 2)
    with Log.open(folder, clock=clock) as log:
        told = texts(log)
        log.keep(log.new_note("new", NOW), [a_record("new")])
        log.keep(log.new_note("newer", NOW), [a_record("newer")])
    old, new = sorted(folder.glob("*.jsonl"))
    assert old.read_bytes() == before
    assert b'"format":2' in new.read_bytes().splitlines()[0] and len(new.read_bytes().splitlines()) == 3
    assert texts(Log.open(folder, clock=clock)) == [*told, "new", "newer"]
    monkeypatch.undo()
    with pytest.raises(LogError, match="newer version"):
        Log.open(folder, clock=clock)


def test_damage_is_told_once_and_again_where_it_is_new(folder: Path) -> None:
    path = segment(folder)
    lines = path.read_bytes().splitlines(keepends=True)
    lines[2] = lines[2].replace(b"cup", b"cap")
    path.write_bytes(b"".join(lines))
    with Log.open(folder, clock=clock) as log:
        assert [said.partition(":")[0] for said in log.warnings] == [f"{path.name}, line 3"]
    lines[4] = lines[4].replace(b"cup", b"cap")
    path.write_bytes(b"".join(lines))
    with Log.open(folder, clock=clock) as log:
        assert [said.partition(":")[0] for said in log.warnings] == [f"{path.name}, line 5"]
        assert texts(log) == ["0 a", "0 b", "2 a", "2 b"]
    assert path.with_suffix(".aside").read_bytes() == b"3\t" + lines[2] + b"5\t" + lines[4]


def test_a_segment_of_another_device_that_is_still_on_its_way(folder: Path, tmp_path: Path) -> None:
    fill(tmp_path / "other", 3)
    theirs = segment(tmp_path / "other").read_bytes()
    arriving = folder / "ffffffff-000001.jsonl"
    with Log.open(folder, clock=clock) as log:
        for size in range(0, len(theirs) + 1, 97):
            arriving.write_bytes(theirs[:size])
            assert len(texts(log)) >= 8
        arriving.write_bytes(theirs)
        assert len(texts(log)) == 8 + 6
        assert log.warnings == []
        kept = state(log)
    with Log.open(folder, clock=clock) as log:
        assert state(log) == kept


def test_an_editor_replaces_the_file_while_the_log_is_open(folder: Path) -> None:
    path = segment(folder)
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("one", NOW), [a_record("one")])
        edited = folder / "edited"
        edited.write_bytes(path.read_bytes() + b"milk, eggs\n")
        edited.rename(path)
        log.keep(log.new_note("two", NOW), [a_record("two")])
        assert texts(log) == [*everything(), "one", "two"]
        assert len(log.warnings) == 1
    with Log.open(folder, clock=clock) as log:
        assert texts(log) == [*everything(), "one", "two"]


def test_the_segment_is_shortened_or_removed_while_the_log_is_open(folder: Path) -> None:
    path = segment(folder)
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("one", NOW), [a_record("one")])
        path.write_bytes(path.read_bytes()[:700])
        log.keep(log.new_note("two", NOW), [a_record("two")])
        for file in folder.glob("*.jsonl"):
            file.unlink()
        log.keep(log.new_note("three", NOW), [a_record("three")])
    with Log.open(folder, clock=clock) as log:
        assert texts(log) == ["two", "three"] or texts(log) == ["three"]


def test_a_copy_that_comes_and_grows_while_the_log_is_open(folder: Path) -> None:
    path = segment(folder)
    older = path.read_bytes()
    with Log.open(folder, clock=clock) as log:
        log.keep(log.new_note("more", NOW), [a_record("more")])
    newer = path.read_bytes()
    path.write_bytes(older)
    copy = folder / f"{path.stem} (conflict).jsonl"
    with Log.open(folder, clock=clock) as log:
        copy.write_bytes(older)
        assert texts(log) == everything()
        copy.write_bytes(newer)
        (folder / "something").touch()  # the folder is only listed anew when its time changes
        assert texts(log) == [*everything(), "more"]
        copy.unlink()
        assert texts(log) == [*everything(), "more"]
        assert [said.rpartition(": ")[2] for said in log.warnings] == [
            "nothing in it is new",
            "1 of its changes stand nowhere else",
        ]


def test_damage_that_cannot_be_set_aside_is_told_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    disk = SimDisk(random.Random(3))
    fill(Path("log"), disk=disk)
    ((name, file),) = [found for found in disk.names_now.items() if found[0].endswith(".jsonl")]
    file.data += b"milk, eggs\n"
    monkeypatch.setattr(disk, "open_append", lambda path: disk.fail(errno.ENOSPC))
    with Log.open(Path("log"), clock=clock, disk=disk) as log:
        assert texts(log) == everything()
        assert log.warnings == [
            f"{name}, line 6: damaged, left where it is (No space left on device); everything else was read"
        ]
