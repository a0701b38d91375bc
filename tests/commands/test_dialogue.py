"""The dialogue line by line, over a session that only listens (inputs 6, 48, 49)."""

from __future__ import annotations

import io
from types import SimpleNamespace

import pytest

from assistant.commands.dialogue import converse, messages
from assistant.errors import BinsideError
from assistant.session import ASK_BINS, Reply


class Listening:
    """Says back what it hears; "bad" cannot be taken, "broken" breaks."""

    def __init__(self, bins=("tub",)):
        self.heard, self.undone = [], 0
        self.log = SimpleNamespace(bins=lambda: bins)

    def say(self, text):
        self.heard.append(text)
        if text == "bad":
            raise BinsideError("that is\nbad")
        if text == "broken":
            raise KeyError("x")
        return Reply("note", f"heard {text}", doubt="Which bin?" if "where" in text else None)

    def undo(self):
        self.undone += 1
        return Reply("wish", "took back")


def talk(text, session):
    out = io.StringIO()
    return converse(session, io.StringIO(text), out), out.getvalue()


def test_a_line_is_a_message():
    session = Listening()
    status, out = talk("fed kale\n\n  \nwhere is it\n", session)
    assert (status, session.heard) == (0, ["fed kale", "where is it"])
    assert out == "heard fed kale\nheard where is it\nWhich bin?\n"


@pytest.mark.parametrize(
    ("typed", "heard"),
    [
        ("note:\nfed kale\nand melon\n\nhow much?\n", ["fed kale\nand melon", "how much?"]),
        ("[0:05] fed kale\n[0:09] wet\n\nhow much?\n", ["[0:05] fed kale\n[0:09] wet", "how much?"]),
        ("[0:05] fed kale\n[1:00:09] wet", ["[0:05] fed kale\n[1:00:09] wet"]),
        ("fed kale\r\nwet\r\n", ["fed kale", "wet"]),
        ("fed\nquit\nkale\n", ["fed"]),
        ("", []),
    ],
)
def test_what_is_one_message(typed, heard):
    assert list(messages(io.StringIO(typed), io.StringIO())) == heard


def test_undo_and_help():
    session = Listening()
    _, out = talk("UNDO\nhelp\n", session)
    assert session.undone == 1 and session.heard == []
    assert "took back" in out and "'quit' ends" in out


def test_asks_for_the_bins_first():
    assert talk("", Listening(bins=()))[1] == ASK_BINS + "\n"


def test_what_cannot_be_done_is_one_line_and_the_talk_goes_on():
    session = Listening()
    status, out = talk("bad\nbroken\nfed kale\n", session)
    assert status == 1 and session.heard == ["bad", "broken", "fed kale"]
    assert out.splitlines() == [
        "Not done: that is bad",
        "Not done: something went wrong inside (KeyError('x'))",
        "heard fed kale",
    ]


def test_nothing_steers_the_terminal():
    _, out = talk("\x1b]52;c;aGk=\x07 \u202ekale\n", Listening())
    assert out == "heard ␛]52;c;aGk=␇ �kale\n"


def test_bytes_that_are_no_text_and_a_stream_that_cannot_write_them_all():
    out = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    converse(
        Listening(), io.TextIOWrapper(io.BytesIO("fed caf\xe9 ½\n".encode("latin-1")), encoding="utf-8"), out
    )
    out.seek(0)
    assert out.read() == "heard fed caf? ?\n"


def test_a_closed_output_ends_it():
    class Closed(io.StringIO):
        def write(self, text):
            raise BrokenPipeError

    session = Listening()
    with pytest.raises(BrokenPipeError):  # the command line ends quietly on it
        converse(session, io.StringIO("fed kale\nfed melon\n"), Closed())
    assert session.heard == ["fed kale"]
