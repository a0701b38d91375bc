"""README.md against the program: its commands are named there, its examples run and show what is shown there.

Blocks fenced as `console` are run in the order of the page, in a folder of their own; the parts of a line
that install or test are left out. A line "…" in what is shown stands for lines left out of it.
SNAPSHOTS=write in the environment puts in what is shown now; a shortened block is left to a person.
"""

from __future__ import annotations

import argparse
import contextlib
import glob
import io
import os
import re
import shlex
import shutil
from dataclasses import dataclass
from difflib import ndiff
from pathlib import Path

import pytest

from assistant.commands.line import _parser, main

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
PROGRAM, TEMPORARY = ".venv/bin/binside", "/tmp/"  # as the page has them
SETTING_UP = re.compile(r"-m venv|pip install|-m pytest")
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LEFT_OUT = "…"


@dataclass(frozen=True)
class Example:
    """A command line of the page and the lines shown below it."""

    command: str
    shown: list[str]

    @property
    def runs(self) -> str:
        """The command without the parts that set up; "" where nothing else is in it."""
        return " && ".join(part for part in self.command.split(" && ") if not SETTING_UP.search(part))


def examples(page: str) -> list[Example]:
    """The examples in the order of the page."""
    found = []
    for block in BLOCK.findall(page):
        command, *shown = block.rstrip("\n").split("\n")
        assert command.startswith("$ "), f"a console block begins with '$ ': {command}"
        found.append(Example(command[2:], shown))
    return found


def run(line: str, folder: Path) -> tuple[int, list[str]]:
    """The first status that is not 0, and all that is printed, errors too; in this process, for its speed."""
    out = io.StringIO()
    for part in filter(None, line.split(" && ")):
        program, *given = shlex.split(part.replace(TEMPORARY, f"{folder}/"))
        assert program == PROGRAM, f"not a command of ours: {part}"
        words = [name for word in given for name in (sorted(glob.glob(word)) if "*" in word else [word])]
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
            status = main(words)
        if status:
            return status, out.getvalue().splitlines()
    return 0, out.getvalue().splitlines()


def missing(shown: list[str], printed: list[str]) -> list[str]:
    """Shown lines that are not printed in that order, and printed ones not shown; these may be left out."""
    if LEFT_OUT not in shown:
        return [line for line in ndiff(shown, printed) if line[0] in "-+"]
    rest = iter(printed)
    return [line for line in shown if line != LEFT_OUT and line not in rest]


def with_output(page: str, printed: list[list[str]]) -> str:
    """The page with what is printed in the place of what is shown, in blocks that leave nothing out."""
    after = iter(printed)

    def block(found: re.Match[str]) -> str:
        lines, new = found[1].rstrip("\n").split("\n"), next(after)
        return found[0] if LEFT_OUT in lines else "\n".join(["```console", lines[0], *new, "```"])

    return BLOCK.sub(block, page)


def test_examples_run_and_show_what_the_page_shows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")
    page = README.read_text(encoding="utf-8")
    done = [run(example.runs, tmp_path) for example in examples(page)]
    assert done, "no example on the page"
    if os.environ.get("SNAPSHOTS") == "write":
        page = with_output(page, [printed for _, printed in done])
        README.write_text(page, encoding="utf-8")
    for example, (status, printed) in zip(examples(page), done, strict=True):
        assert status == 0, f"{example.runs}\n" + "\n".join(printed)
        assert not (gone := missing(example.shown, printed)), f"{example.runs}\n" + "\n".join(gone)


def test_every_command_and_option_is_on_the_page() -> None:
    page = README.read_text(encoding="utf-8")
    subs = next(a for a in _parser()._actions if isinstance(a, argparse._SubParsersAction))
    for name, command in subs.choices.items():
        assert f"`binside {name}" in page, f"README does not tell of 'binside {name}'"
        for option in command._option_string_actions:
            assert option == "-h" or f"`{option}" in page, f"README does not tell of '{name} {option}'"


def test_links_lead_somewhere() -> None:
    for guide in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\((?!\w+:)([^)#]+)\)", (ROOT / guide).read_text(encoding="utf-8")):
            assert (ROOT / target).exists(), f"{guide} points to {target}, which is not there"


@pytest.mark.parametrize(
    ("shown", "printed", "gone"),
    [
        (["a", "b"], ["a", "b"], []),
        (["a", "b"], ["a", "c"], ["- b", "+ c"]),
        (["a"], ["a", "b"], ["+ b"]),
        (["a", "…", "c"], ["a", "b", "c"], []),
        (["c", "…", "a"], ["a", "b", "c"], ["a"]),
    ],
)
def test_what_counts_as_missing(shown: list[str], printed: list[str], gone: list[str]) -> None:
    assert missing(shown, printed) == gone
