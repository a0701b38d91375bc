"""Files written whole or not at all (inputs 40, 41). Sources: POSIX; Microsoft, "Naming Files"."""

from __future__ import annotations

import errno
import os
import resource
import stat
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange.names import file_name
from assistant.exchange.outward import WRITERS, write_file
from assistant.exchange.whole import write_whole

ENDINGS = sorted(WRITERS)


@pytest.mark.parametrize("ending", ENDINGS)
def test_a_file_that_is_there_is_replaced_only_when_told(tmp_path: Path, now: datetime, ending: str) -> None:
    path = tmp_path / f"a{ending}"
    path.write_text("old")
    path.chmod(0o640)
    with pytest.raises(FileError, match="is there already"):
        write_file(path, (), {}, (), (), now=now)
    assert path.read_text() == "old"
    write_file(path, (), {}, (), (), overwrite=True, now=now)
    assert path.read_text() != "old" and stat.S_IMODE(path.stat().st_mode) == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_new_file_has_the_usual_permissions(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        write_whole(tmp_path / "a.csv", b"x")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "a.csv").stat().st_mode) == 0o640


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EIO, errno.EROFS])
@pytest.mark.parametrize(
    ("call", "old"),
    [("write", b"old"), ("fsync", b"old"), ("replace", b"old"), ("open", b"old"),
     ("write", None), ("fsync", None), ("link", None), ("open", None)],
)  # fmt: skip
def test_after_a_failed_call_all_is_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, old: bytes | None, fault: int
) -> None:
    path = tmp_path / "a.csv"
    if old is not None:
        path.write_bytes(old)

    def fail(*_: object, **__: object) -> None:
        raise OSError(fault, os.strerror(fault))

    with monkeypatch.context() as patched:
        if call == "write":  # a buffered file does not come past os.write
            real = os.fdopen
            patched.setattr(os, "fdopen", lambda *a, **k: Failing(real(*a, **k), fail))
        else:
            patched.setattr(os, call, fail)
        with pytest.raises(FileError, match=r"a\.csv cannot be written: ") as caught:
            write_whole(path, b"new", overwrite=old is not None)
    assert len(str(caught.value).splitlines()) == 1
    assert [p.read_bytes() for p in tmp_path.iterdir()] == ([old] if old is not None else [])


class Failing:
    """A file whose write fails."""

    def __init__(self, file: object, fail: Callable[..., None]) -> None:
        self.file, self.write = file, fail

    def __enter__(self) -> Failing:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()  # type: ignore[attr-defined]


def test_a_disk_that_takes_no_more(tmp_path: Path) -> None:
    """The system itself refuses: a limit on the size of a file stands for a full disk."""
    path = tmp_path / "a.csv"
    path.write_bytes(b"old")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        with pytest.raises(FileError, match="cannot be written: the file would be larger than allowed"):
            write_whole(path, b"x" * 5000, overwrite=True)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert path.read_bytes() == b"old" and list(tmp_path.iterdir()) == [path]


def test_a_folder_that_may_not_be_written(tmp_path: Path, now: datetime) -> None:
    tmp_path.chmod(0o555)
    if os.geteuid() == 0:  # root may write anywhere: step down for the moment
        os.seteuid(65534)
    try:
        with pytest.raises(FileError, match="you may not write there"):
            write_file(tmp_path / "a.csv", (), {}, (), (), now=now)
    finally:
        if os.getuid() == 0:
            os.seteuid(0)
        tmp_path.chmod(0o755)
    assert list(tmp_path.iterdir()) == []


def test_a_file_made_in_the_meantime_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.csv"
    real = os.fsync

    def meanwhile(handle: int) -> None:
        path.write_bytes(b"another's")
        real(handle)

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(FileError, match="is there already"):
        write_whole(path, b"ours")
    assert path.read_bytes() == b"another's" and list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("fault", [errno.EPERM, errno.EOPNOTSUPP])
def test_a_file_system_without_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: int) -> None:
    def no_links(*_: object) -> None:
        raise OSError(fault, os.strerror(fault))

    monkeypatch.setattr(os, "link", no_links)
    write_whole(tmp_path / "a.csv", b"new")
    assert (tmp_path / "a.csv").read_bytes() == b"new"


def test_file_and_folder_are_made_durable_before_and_after_the_name_is_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX: without fsync of the file before rename, and of the folder after, a power cut may empty it."""
    calls: list[str] = []
    fsync, replace = os.fsync, os.replace
    monkeypatch.setattr(
        os,
        "fsync",
        lambda h: (calls.append("folder" if stat.S_ISDIR(os.fstat(h).st_mode) else "file"), fsync(h)),
    )
    monkeypatch.setattr(os, "replace", lambda a, b: (calls.append("name"), replace(a, b)))
    write_whole(tmp_path / "a.csv", b"new", overwrite=True)
    assert calls == ["file", "name", "folder"]


def test_what_is_no_place_for_a_file(tmp_path: Path, now: datetime) -> None:
    (tmp_path / "folder.csv").mkdir()
    os.mkfifo(tmp_path / "pipe.csv")
    (tmp_path / "loop.csv").symlink_to(tmp_path / "loop.csv")
    cases = {
        "folder.csv": "is not a plain file",
        "pipe.csv": "is not a plain file",
        "loop.csv": "is not a plain file|links go round",
        "no/such.csv": "no such folder",
        "a\0b.csv": "its name cannot be used",
        "x" * 300 + ".csv": "name is too long",
        "a.pdf": r"\.csv \.jsonl \.md \.html \.ics",
    }
    for name, told in cases.items():
        for overwrite in (True, False):
            with pytest.raises(FileError, match=told) as caught:
                write_file(tmp_path / name, (), {}, (), (), overwrite=overwrite, now=now)
            assert len(str(caught.value).splitlines()) == 1


def test_a_link_is_written_through(tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "a.csv").write_bytes(b"old")
    (tmp_path / "a.csv").symlink_to(tmp_path / "kept" / "a.csv")
    write_whole(tmp_path / "a.csv", b"new", overwrite=True)
    assert (tmp_path / "a.csv").is_symlink() and (tmp_path / "kept" / "a.csv").read_bytes() == b"new"


@pytest.mark.parametrize(
    ("called", "name"),
    [
        ("cellar stack", "cellar stack.csv"),
        ("a/b\\c", "a-b-c.csv"),
        ("../../etc/passwd", "etc-passwd.csv"),
        ("..", "bin.csv"),
        ("", "bin.csv"),
        ("top\nbin\0", "top-bin.csv"),
        ("CON", "bin CON.csv"),
        ("com1", "bin com1.csv"),
        ("LPT¹", "bin LPT¹.csv"),
        ("nul.txt", "nul-txt.csv"),
        ("~/.ssh", "ssh.csv"),
        ("-rf", "rf.csv"),
        ("trailing. ", "trailing.csv"),
        ('a<b>c:d"e|f?g*h', "a-b-c-d-e-f-g-h.csv"),
        ("café 🪱", "café.csv"),
    ],
)
def test_a_bins_name_never_makes_a_path(called: str, name: str) -> None:
    assert file_name(called, ".csv") == name


RESERVED = {"CON", "PRN", "AUX", "NUL", *(f"{port}{n}" for port in ("COM", "LPT") for n in "0123456789¹²³")}


@given(st.text())
def test_any_name_is_one_plain_file(called: str) -> None:
    """Microsoft, "Naming Files, Paths, and Namespaces": reserved characters, names; POSIX: slash, NUL."""
    name = file_name(called, ".csv")
    assert Path(name).name == name and len(name.encode("utf-8")) <= 120
    assert not set('<>:"/\\|?*').intersection(name) and name.isprintable()
    stem = name.removesuffix(".csv")
    assert stem and stem.upper() not in RESERVED and stem[0] not in ".-~ " and stem[-1] not in " ."
