"""What may be opened and how it is decoded (inputs 30, 31, 34, 37)."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange.clean import one_line
from assistant.exchange.decode import decode
from assistant.exchange.incoming import Page
from assistant.exchange.inward import READERS, digest, read_file

Put = Callable[[str, str | bytes], Path]
WORDS = "2026-03-05\nfed the café tray ½ cup\nmisted\n"
SAID = "fed the café tray ½ cup\nmisted"


MARKED = ["utf-8", "utf-8-sig", "utf-16", "utf-32"]
GUESSED = ["utf-16-le", "utf-16-be", "cp1252"]


@pytest.mark.parametrize("encoding", MARKED + GUESSED)
def test_encodings(put: Put, now: datetime, encoding: str) -> None:
    """The encoder is Python's own codec; byte order marks as in the Unicode Standard, section 2.13."""
    notes = read_file(put("a.txt", WORDS.encode(encoding)), now)
    assert [(n.text, n.said_on) for n in notes] == [(SAID, "2026-03-05")]
    assert bool(notes[0].doubts) is (encoding in GUESSED)


def test_utf16_of_either_order_by_its_mark(put: Put, now: datetime) -> None:
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        assert read_file(put("a.txt", mark + WORDS.encode(encoding)), now)[0].text == SAID


@pytest.mark.parametrize(
    ("data", "told"),
    [
        ("café, crème ".encode() + b"\xc3(", "byte 15 is broken UTF-8"),
        (b"\xff\xfea\0b", "byte 5 cannot be read as UTF-16-LE"),
        (b"\xef\xbb\xbfab\xff", "byte 6 cannot be read as UTF-8"),
        (b"fed \x81 cups", "byte 5 cannot be read as Windows-1252"),  # 81 stands for nothing there
        (bytes(range(256)) * 4, "not a file of text"),
    ],
)
def test_what_cannot_be_decoded_names_the_byte(put: Put, now: datetime, data: bytes, told: str) -> None:
    with pytest.raises(FileError, match=told) as caught:
        read_file(put("a.txt", data), now)
    assert len(str(caught.value).splitlines()) == 1


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("last", [True, False])
@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.txt", WORDS),
        ("a.srt", "1\n00:00:01,000 --> 00:00:02,000\nfed\n\n2\n00:00:02,000 --> 00:00:03,000\nmisted\n"),
        ("a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\nfed\n\n00:02.000 --> 00:03.000\nmisted\n"),
        ("a.csv", "date,note\n2026-03-05,fed the top\n2026-03-06,misted\n"),
        ("a.jsonl", '{"setup": []}\n{"kind": "turn", "id": "1", "said_on": "2026-03-05"}\n'),
    ],
)
def test_line_ends_are_all_the_same(
    put: Put, now: datetime, name: str, text: str, ending: str, last: bool
) -> None:
    plain = read_file(put(name, text), now)
    other = put("b" + name, (text if last else text.rstrip("\n")).replace("\n", ending))
    assert [(n.text, n.said_on, n.marks, n.records) for n in read_file(other, now)] == [
        (n.text, n.said_on, n.marks, n.records) for n in plain
    ]


def test_digest_knows_the_same_words_again(put: Put) -> None:
    first = digest(put("a.txt", WORDS))
    assert digest(put("other name.txt", WORDS)) == first
    assert digest(put("b.txt", WORDS.replace("\n", "\r\n"))) == first
    assert digest(put("c.txt", WORDS.encode("utf-16"))) == first
    assert digest(put("d.txt", WORDS.rstrip("\n"))) == first
    assert digest(put("e.txt", WORDS + "more")) != first


def test_what_is_no_file(tmp_path: Path, now: datetime) -> None:
    (tmp_path / "folder.txt").mkdir()
    os.mkfifo(tmp_path / "pipe.txt")
    (tmp_path / "loop.txt").symlink_to(tmp_path / "loop.txt")
    (tmp_path / "zero.txt").symlink_to("/dev/zero")
    (tmp_path / "dangling.txt").symlink_to(tmp_path / "nowhere")
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(tmp_path / "s.txt"))
    cases = {
        "folder.txt": "is a folder",
        "pipe.txt": "is a pipe",
        "loop.txt": "links go round in a circle",
        "zero.txt": "is a device",
        "dangling.txt": "no such file",
        "missing.txt": "no such file",
        "s.txt": "socket",
        "no\0thing.txt": "name cannot be used",
        "x" * 300 + ".txt": "name is too long",
    }
    for name, told in cases.items():
        with pytest.raises(FileError, match=told) as caught:
            read_file(tmp_path / name, now)
        assert len(str(caught.value).splitlines()) == 1


def test_a_link_to_a_file_is_followed(put: Put, now: datetime, tmp_path: Path) -> None:
    (tmp_path / "link.txt").symlink_to(put("a.txt", WORDS))
    assert read_file(tmp_path / "link.txt", now)[0].text == SAID


def test_a_file_that_may_not_be_read(put: Put, now: datetime, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put("a.txt", WORDS)
    path.chmod(0)
    if os.geteuid() == 0:  # root may read anything: step down for the moment
        os.seteuid(65534)
    try:
        with pytest.raises(FileError, match="may not be read"):
            read_file(path, now)
    finally:
        if os.getuid() == 0:
            os.seteuid(0)


@pytest.mark.parametrize("name", ["a.pdf", "a", "a.xlsx", "a.TX"])
def test_other_endings_are_told_which_are_known(put: Put, now: datetime, name: str) -> None:
    with pytest.raises(FileError, match=r"\.txt \.md \.srt \.vtt \.csv \.jsonl"):
        read_file(put(name, WORDS), now)


@pytest.mark.parametrize("name", [f"a{ending}" for ending in READERS])
@pytest.mark.parametrize("data", ["", " \n\t\r\n ", b"\xff\xfe", "\ufeff"])
def test_an_empty_file_has_nothing_to_record(put: Put, now: datetime, name: str, data: str | bytes) -> None:
    with pytest.raises(FileError, match="nothing to record"):
        read_file(put(name, data), now)


def test_the_error_shows_no_escape_of_a_files_name(tmp_path: Path, now: datetime) -> None:
    with pytest.raises(FileError) as caught:
        read_file(tmp_path / "a\x1b]0;x\x07\nb.txt", now)
    assert str(caught.value).isprintable()


BITS = st.sampled_from(
    ["WEBVTT", "-->", "00:00:01,000 --> 00:00:02,000", "00:01.000", "1", "\n", "\n\n", "[0:05]", "0:07",
     "<i>", "</", "&amp;", '"', ",", ";", "date", "note", "kind", "feed", "2026-03-05", "March 5", 
     "31/12/2026", "{", "}", '{"kind": "feed"}', '{"setup": []}', "[Music]", "Ana:", "#", "\0", "\x1b",
     "é", "🪱", "9" * 30, "1e309", " "]
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.lists(BITS | st.text(max_size=5), max_size=30).map("".join), st.sampled_from(sorted(READERS)))
def test_any_text_is_read_or_refused_in_one_line(text: str, ending: str) -> None:
    try:
        notes = READERS[ending](Page("a" + ending, text, datetime(2026, 3, 4), datetime(2026, 3, 6)))
    except FileError as error:
        assert str(error) == one_line(str(error), 1000)
    except IndexError:
        assert not text.strip()  # `read_file` never hands on an empty file
    else:
        for note in notes:
            assert all(0 <= place < len(note.text) for place, _ in note.marks)
            for record in note.records or ():
                assert note.text[record.start : record.end] == record.text


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_are_decoded_or_refused(data: bytes) -> None:
    try:
        text, _ = decode(data, "a.txt")
    except FileError as error:
        assert len(str(error).splitlines()) == 1
    else:
        assert "\r" not in text and text.encode("utf-8") is not None
