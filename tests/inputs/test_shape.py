"""Inputs to survive, by what they look like: size, characters, escapes (rows 1 to 9, 28, 29 of the list)."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import time
from collections.abc import Callable, Iterator
from functools import partial

import pytest

import assistant
from assistant.records import Bin
from assistant.session import LIMIT
from tests.inputs.program import Desk, read, steering

TALK = "So I was telling my sister of the garden and the long road home. Fed the tub a cup of kale on it. "


@pytest.mark.parametrize("text", ["", "   ", "\n\r\n\t \n", "\x00\x00", " \u200b "])
def test_row_1_nothing_to_record(desk: Desk, text: str) -> None:
    assert "nothing to record" in desk.run("note", said=text).refused()
    assert not desk.notes()


@pytest.mark.long
def test_row_2_a_megabyte_of_talk_is_read_and_kept(desk: Desk) -> None:
    text = TALK * (1_000_000 // len(TALK))
    begin = time.process_time()
    desk.note(text)
    assert time.process_time() - begin < 60


def test_row_2_a_tenth_of_it(desk: Desk) -> None:
    desk.note(TALK * (100_000 // len(TALK)))
    assert {e.record.item for e in desk.entries()} == {"kale"}


def test_row_3_twenty_megabytes_are_for_a_file(desk: Desk) -> None:
    line = desk.run("note", said="fed kale " * 2_300_000).refused()
    assert "import" in line and "too many" in line
    assert not desk.notes() and LIMIT < 20_000_000


def test_row_4_one_endless_word(desk: Desk) -> None:
    read("warm")
    begin = time.process_time()
    desk.note("w" * 200_000)
    assert time.process_time() - begin < 2
    assert not desk.entries()


def test_row_5_a_nul_is_a_space_to_the_reader_and_a_stand_in_to_the_eye(desk: Desk) -> None:
    desk.note("fed the tub two cups\x00of\x00kale")
    (entry,) = desk.entries()
    assert (entry.record.kind, entry.record.item) == ("feed", "kale")
    assert entry.record.amount is not None and entry.record.amount.best == 2
    assert entry.record.text == "fed the tub two cups\x00of\x00kale"[entry.record.start : entry.record.end]


HOSTILE = [
    "\x1b[31mfed the tub kale\x1b[0m \x1b[2J",
    "fed the tub kale \x1b]8;;http://example.org\x1b\\link\x1b]8;;\x1b\\",
    "fed the tub \x1b]52;c;aGk=\x07kale",
    "fed the tub kale \x1b]0;title\x07",
    "fed the tub \x9b2J kale \x9d0;title\x9c",
    "fed the tub [red]kale[/] [@click=app.quit]x[/] [/",
    "fed the tub two \u202ecups\u202c of \u2066kale\u2069",
    "fed the tub to\u200bp \u200dkale\ufeff \u200f",
]
"""Rows 6 to 8; sequences from ECMA-48 and the xterm controls, marks from Unicode Standard Annex 9."""


@pytest.mark.parametrize("text", HOSTILE, ids=ascii)
def test_rows_6_to_8_nothing_steers_the_terminal(desk: Desk, text: str) -> None:
    desk.note(text)  # keeps it as it came, prints nothing that steers
    for words in (
        ["ask", text],
        ["ask", "what did I feed the tub?"],
        ["balances"],
        ["due"],
        ["parse", text],
        [text],
    ):
        got = desk.run(*words)
        assert not steering(got.out) and not steering(got.err), words
        assert got.status in (0, 1, 2) and "Traceback" not in got.err


@pytest.mark.parametrize("name", ["[red] tub", "tub [/]", "[@click=app.quit]tub"])
def test_row_7_markup_is_shown_as_typed(desk: Desk, name: str) -> None:
    desk.bins((Bin(name),))
    assert name in desk.run("bins").out
    assert name in desk.run("note", "fed it two cups of kale").out


@pytest.mark.parametrize(
    "text",
    ["fed the tub ３ cups of kale", "fed the tub 3 cups of kale 🪱👩‍🌾", "fe\u0301d the tub 3 cups of kale"],
)
def test_row_9_emoji_marks_and_wide_digits(desk: Desk, text: str) -> None:
    desk.note(text)
    amounts = [e.record.amount.best for e in desk.entries() if e.record.amount]
    assert amounts == [3]


DEEP: dict[str, Callable[[int], str]] = {
    "brackets": lambda n: "(" * n + "fed the tub kale" + ")" * n,
    "square brackets": lambda n: "[" * n + "fed the tub kale" + "]" * n,
    "quotes": lambda n: "\"'" * n + "fed the tub kale" + "'\"" * n,
    "commas": lambda n: "kale," * n,
    "a list": lambda n: "fed the tub " + "kale, apple, " * (n // 2),
    "bare commas": lambda n: "," * n,
    "open brackets": lambda n: "(" * n,
    "mixed": lambda n: "([{\"'" * n,
    "dots": lambda n: "fed the tub . . . " * n,
}


@pytest.mark.parametrize("name", DEEP)
def test_row_28_nests_and_long_lists_cost_no_more_than_they_are_long(name: str) -> None:
    """Four times as long may take four times as long, never sixteen. (Seconds are the benchmark's.)"""
    short, long = (least_seconds(partial(read, DEEP[name](size))) for size in (1_000, 4_000))
    assert long < 8 * short


def test_row_28_at_its_full_length() -> None:
    assert not read("kale," * 10_000)
    assert {r.item for r in read("fed the tub " + "kale, " * 10_000)} == {"kale"}


def least_seconds(work: Callable[[], object]) -> float:
    """Seconds of the processor that the quickest of five rounds takes: what the work itself costs."""
    times = []
    for _ in range(5):
        begin = time.process_time()
        work()
        times.append(time.process_time() - begin)
    return min(times)


USES = ("search", "match", "fullmatch", "sub", "split", "findall", "finditer")


def our_patterns() -> Iterator[tuple[str, Callable[[str], object]]]:
    """Every compiled pattern that a module of ours holds, in each way that our code uses it."""
    modules = [
        importlib.import_module(info.name) for info in pkgutil.walk_packages(assistant.__path__, "assistant.")
    ]
    source = "\n".join(inspect.getsource(module) for module in modules)
    for module in modules:
        for name, value in vars(module).items():
            if isinstance(value, re.Pattern) and isinstance(value.pattern, str):
                for use in set(re.findall(rf"\b{name}\.({'|'.join(USES)})\(", source)):
                    call = getattr(value, use)
                    yield f"{module.__name__}.{name}.{use}", partial(call, "") if use == "sub" else call


PATTERNS = dict(our_patterns())
LONG = {
    "a": "a" * 100_000,
    "1": "1" * 100_000,
    "space": " " * 100_000,
    "a space": "a " * 50_000,
    "time": "1:" * 50_000,
    "[1": "[1" * 50_000,
    ".,": ".," * 50_000,
    "-": "-" * 100_000,
    "1,": "1," * 50_000,
    "/": "1/" * 50_000,
}


@pytest.mark.parametrize("name", PATTERNS)
def test_row_29_no_pattern_runs_away(name: str) -> None:
    for what, text in LONG.items():
        begin = time.process_time()
        found = PATTERNS[name](text)
        if name.endswith("finditer"):
            for _ in found:  # type: ignore[attr-defined]
                pass
        assert time.process_time() - begin < 1, what


def test_patterns_of_ours_are_found() -> None:
    assert len(PATTERNS) > 20


@pytest.mark.parametrize("end", ["\r", "\r\n"])
def test_lines_may_end_as_terminals_and_old_files_end_them(end: str) -> None:
    lines = ("top tray is soggy", "fed the tub two cups of kale", "half the melon in the tub is left")
    wanted = [r.to_json() | {"start": 0, "end": 0} for r in read("\n".join(lines))]
    assert len(wanted) == 3
    assert [r.to_json() | {"start": 0, "end": 0} for r in read(end.join(lines))] == wanted
