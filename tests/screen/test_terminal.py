"""What reaches a terminal, byte for byte. Codes: ECMA-48, SGR; xterm control sequences; no-color.org."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from time import perf_counter

import pytest
from scripted import opened
from terminal import Terminal

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
SGR = re.compile(rb"\x1b\[([0-9;:]*)m")

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminal")


def start(folder: Path, *how: str, **environment: str) -> Terminal:
    command = [str(HERE / "on_terminal.py"), str(folder), *how]
    return Terminal(command, {"PYTHONPATH": str(ROOT), "COLORTERM": "truecolor", **environment})


def colours(out: bytes) -> set[int]:
    """The SGR parameters that set a colour; 39 and 49 set the terminal's own."""
    codes = {int(code or 0) for found in SGR.findall(out) for code in re.split(rb"[;:]", found)}
    return {code for code in codes if 30 <= code <= 38 or 40 <= code <= 48 or 90 <= code <= 107}


def converse(terminal: Terminal) -> int:
    terminal.wait_for(b"note or a question")
    terminal.send("caution where\r")
    terminal.wait_for(b"Which bin was that")
    terminal.send("\x1b[11~")  # F1
    terminal.wait_for(b"Esc closes")
    terminal.send("\x11")  # ctrl+q
    return terminal.end()


def test_no_colour_at_all_where_none_is_wanted(tmp_path):
    terminal = start(tmp_path, NO_COLOR="1")
    assert converse(terminal) == 0
    assert colours(terminal.out) == set()


def test_colour_else_and_the_terminal_is_given_back(tmp_path):
    terminal = start(tmp_path)
    assert converse(terminal) == 0
    assert colours(terminal.out)
    assert terminal.out.rindex(b"\x1b[?1049l") > terminal.out.rindex(b"\x1b[?1049h")


def test_a_paste_cannot_write_to_the_terminal(tmp_path):
    """OSC 52, with its C1 introducer U+009D, would put text on the clipboard."""
    terminal = start(tmp_path)
    terminal.wait_for(b"note or a question")
    since = len(terminal.out)
    terminal.send("\x1b[200~fed \x9d52;c;aGk=\x07 kale\x1b[201~")
    terminal.wait_for(b"held: a paste", since=since)
    terminal.send("\r")
    terminal.wait_for("fed �52;c;aGk=␇ kale".encode(), since=since)
    terminal.send("\x11")
    assert terminal.end() == 0
    assert "\x9d".encode() not in terminal.out[since:] and b"\x07" not in terminal.out[since:]
    with opened(tmp_path) as session:
        assert session.log.notes()[0].text == "fed \x9d52;c;aGk=\x07 kale"


def test_escapes_in_a_paste_are_not_given_back(tmp_path):
    """Terminals drop them; where one does not, Textual takes them for keys, and nothing of it is obeyed."""
    terminal = start(tmp_path)
    terminal.wait_for(b"note or a question")
    since = len(terminal.out)
    terminal.send("\x1b[200~fed \x1b]52;c;aGk=\x07\x1b]0;mine\x07 kale\x1b[201~\r")
    terminal.wait_for(b"kept", since=since)
    terminal.send("\x11")
    assert terminal.end() == 0
    assert b"\x1b]52" not in terminal.out[since:] and b"\x1b]0;" not in terminal.out[since:]


def test_keys_that_come_in_a_rush_keep_their_order(tmp_path):
    terminal = start(tmp_path)
    terminal.wait_for(b"note or a question")
    terminal.send("fed kale\rfed melon\n, wet\r")
    terminal.wait_for(b"fed melon, cellar stack")
    terminal.send("\x11")
    assert terminal.end() == 0
    with opened(tmp_path) as session:
        assert [note.text for note in session.log.notes()] == ["fed kale", "fed melon\n, wet"]


def test_leaving_now_does_not_wait_for_a_long_note(tmp_path):
    terminal = start(tmp_path, "stuck")
    terminal.wait_for(b"note or a question")
    terminal.send("fed kale\r")
    terminal.wait_for(b"reading 8 characters")
    terminal.send("\x11")
    terminal.wait_for(b"Leaving once it is")
    began = perf_counter()
    terminal.send("\x11")
    assert terminal.end(15) == 0
    assert perf_counter() - began < 10  # the note would take 20 s
