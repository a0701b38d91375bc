"""The same conversation line by line, where there is no screen or none is wanted; it serves screen readers.

One line is one note, question or correction. A note of several lines begins with a line `note:`, or with a
timed line of a transcript (`[0:05] ...`), and an empty line or the end of the input ends it. Where the
terminal marks what is pasted, a paste of several lines is one note. `undo` takes back; `quit` or the end of
the input ends the talk.
"""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, TextIO

from assistant.errors import BinsideError
from assistant.exchange.clean import one_line, shown

if TYPE_CHECKING:
    from assistant.session import Reply, Session

PROMPT = "> "
SEVERAL = re.compile(r"\s*\[\d{1,3}(:\d\d){1,2}([.,]\d+)?\]|\s*note:\s*$", re.IGNORECASE)
"""A line that opens a note of several lines."""
HELP = (
    "Write a note as you would say it, or a question, one to a line. A line 'note:' opens a note of several "
    "lines, and an empty line ends it. 'undo' takes back the last thing kept, 'quit' ends."
)


def converse(session: Session, stdin: TextIO, stdout: TextIO) -> int:
    """Talk until the input ends; 1 where the input is no terminal and a line could not be taken, else 0.

    KeyboardInterrupt and BrokenPipeError are the caller's; what was acknowledged is kept.
    """
    from assistant.session import ASK_BINS

    failed = False
    if not session.log.bins():
        _put(stdout, ASK_BINS)
    for text in messages(stdin, stdout):
        try:
            lines = list(_lines(_reply(session, text)))
        except BinsideError as error:
            failed, lines = True, [f"Not done: {one_line(str(error), 500)}"]
        except Exception as error:  # a fault of ours must not end the talk
            failed, lines = True, [f"Not done: something went wrong inside ({one_line(repr(error), 500)})"]
        for line in lines:
            _put(stdout, line)
    return int(failed and not stdin.isatty())


def messages(stdin: TextIO, stdout: TextIO) -> Iterator[str]:
    """What is said, one message after the other: a line, or the lines of one note."""
    lines = _typed() if stdin is sys.stdin and stdin.isatty() and stdout.isatty() else _read(stdin)
    for line in lines:
        if line.strip().lower() in ("quit", "exit"):
            return
        if line.strip().lower() == "help":
            _put(stdout, HELP)
        elif SEVERAL.match(line):
            yield _block(line, lines)
        elif line.strip():
            yield line


def _block(first: str, lines: Iterator[str]) -> str:
    """The lines of one note, to the next empty line; an opening `note:` is not part of it."""
    block = [] if first.strip().lower() == "note:" else [first]
    for line in lines:
        if not line.strip():
            break
        block.append(line)
    return "\n".join(block)


def _typed() -> Iterator[str]:
    """Lines from a terminal, with the line editing of the system where it has one."""
    _edit_lines()
    while True:
        try:
            yield input(PROMPT)
        except EOFError:
            print()
            return


def _edit_lines() -> None:
    """Line editing, which lifts the terminal's own limit of 4,096 characters a line; and marked pastes."""
    try:
        import readline
    except ImportError:
        return
    if "libedit" not in (readline.__doc__ or ""):
        readline.parse_and_bind("set enable-bracketed-paste on")


def _read(stdin: TextIO) -> Iterator[str]:
    """Lines from a file or a pipe; a byte that is no UTF-8 becomes a stand-in."""
    if isinstance(stdin, io.TextIOWrapper):
        stdin.reconfigure(errors="replace")
    for line in stdin:
        yield line.rstrip("\r\n")


def _reply(session: Session, text: str) -> Reply:
    return session.undo() if text.strip().lower() == "undo" else session.say(text)


def _lines(reply: Reply) -> Iterator[str]:
    """All that came of a message, the caution and the question back behind the words."""
    yield reply.text
    for caution in reply.cautions:
        yield f"Caution: {caution.text}"
    if reply.doubt:
        yield reply.doubt


def _put(stdout: TextIO, text: str) -> None:
    """Print text that may hold the keeper's words, at once, in what the stream can write."""
    encoding = stdout.encoding or "utf-8"
    print(shown(text).encode(encoding, "replace").decode(encoding), file=stdout, flush=True)
