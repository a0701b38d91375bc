"""A watched folder: each file is read once it has come to rest."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.commands import files
from assistant.commands.inbox import arrivals
from assistant.commands.line import main
from assistant.errors import FileError
from assistant.log import Log
from tests.inputs.program import clock, program


class Over(Exception):
    """The test's own end of a watch."""


def played(*acts: Callable[[], object]) -> Callable[[], None]:
    """A pause that lets one thing happen each time it is taken, and then ends the watch."""
    left = list(acts)

    def pause() -> None:
        if not left:
            raise Over
        left.pop(0)()

    return pause


def come(folder: Path, *acts: Callable[[], object]) -> list[str]:
    """The names of what was handed on while these things happened."""
    names: list[str] = []
    with pytest.raises(Over):
        for path in arrivals(folder, played(*acts)):
            names.append(path.name)
    return names


def nothing() -> None: ...


def test_what_is_there_and_what_comes_are_handed_on_once(tmp_path: Path) -> None:
    first, second = tmp_path / "a.txt", tmp_path / "b.txt"
    first.write_text("fed the tub kale")
    assert come(tmp_path, nothing, nothing, lambda: second.write_text("watered it"), nothing, nothing) == [
        "a.txt",
        "b.txt",
    ]


def test_a_file_that_still_grows_is_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"

    def grow() -> None:
        with path.open("a") as out:
            out.write("fed the tub kale. ")

    assert come(tmp_path, grow, grow, grow) == []
    assert come(tmp_path, grow, grow, nothing) == ["a.txt"]
    assert come(tmp_path, nothing, grow, nothing) == ["a.txt", "a.txt"], "changed, so read again"


def test_hidden_files_folders_and_other_endings_are_passed_over(tmp_path: Path) -> None:
    (tmp_path / ".a.txt").write_text("on its way")
    (tmp_path / "a.mp3").write_bytes(b"ID3")
    (tmp_path / "b.txt").mkdir()
    assert come(tmp_path, nothing, nothing) == []


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such folder"):
        next(arrivals(tmp_path / "none", nothing))
    (tmp_path / "file").write_text("")
    with pytest.raises(FileError, match="Not a directory"):
        next(arrivals(tmp_path / "file", nothing))


def test_the_command_keeps_each_note_once_and_goes_on_after_what_it_cannot_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    inbox, log = tmp_path / "inbox", tmp_path / "log"
    inbox.mkdir()
    (inbox / "a.txt").write_text("fed the tub two cups of kale")
    (inbox / "b.csv").write_bytes(b"\x00\x01")
    looks = iter(range(3))

    def sleep(_: float) -> None:
        if next(looks, None) is None:
            raise KeyboardInterrupt
        if not (inbox / "c.txt").exists():
            (inbox / "c.txt").write_text("fed the tub two cups of kale")  # the same words, another name

    monkeypatch.setattr(files.time, "sleep", sleep)
    assert main(["--log", str(log), "import", "--watch", str(inbox)]) == 130
    out, err = capsys.readouterr()
    assert out.splitlines() == ["a.txt: 1 note, 1 records", "c.txt: read before, nothing added"]
    assert "binside: b.csv: no heading is known" in err and "Traceback" not in err
    assert [n.text for n in Log.open(log, clock=clock).notes()] == ["fed the tub two cups of kale"]


def test_files_or_a_folder_but_not_both(tmp_path: Path) -> None:
    for words in ([], ["--watch", str(tmp_path), "a.txt"]):
        got = program("--log", str(tmp_path / "log"), "import", *words, env=dict(os.environ))
        assert got.status == 2 and "which files?" in got.line
