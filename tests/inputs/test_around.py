"""Inputs to survive, by what stands around them: log, questions, arguments, pipes, terminal, environment
(rows 43 to 50 of the list)."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.log import Log
from assistant.records import Amount, Bin
from tests.inputs.program import NOW, Desk, clock, environment, program

COMMAND = [sys.executable, "-m", "assistant.commands.line"]


def segment(folder: Path) -> Path:
    """The file that the log's lines are in."""
    (found,) = folder.glob("*.jsonl")
    return found


def test_row_43_two_programs_at_once(desk: Desk) -> None:
    env = environment(desk.folder)
    both = [
        subprocess.Popen(
            [*COMMAND, "note", f"fed the tub {food}"], env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        for food in ("kale", "melon")
    ]
    assert [one.wait(60) for one in both] == [0, 0]
    for one in both:
        one.communicate()
    assert {e.record.item for e in desk.entries()} == {"kale", "melon"}


@pytest.mark.parametrize("where", ["under a file", "taken away"])
def test_row_43_a_log_that_cannot_be_written_loses_no_note(desk: Desk, tmp_path: Path, where: str) -> None:
    stone = tmp_path / "stone"
    stone.write_text("x", encoding="utf-8")
    folder = stone / "log" if where == "under a file" else Path(os.devnull) / "log"
    got = desk.run("note", said="fed the tub kale", log=folder)
    got.refused()
    assert "fed the tub kale" in got.out


def test_row_43_the_folder_goes_and_comes_back(desk: Desk) -> None:
    desk.note("fed the tub kale")
    away = desk.folder.rename(desk.folder.with_name("away"))
    assert desk.run("ask", "when did I last feed the tub?").status == 0
    for file in desk.folder.iterdir():
        file.unlink()
    desk.folder.rmdir()
    away.rename(desk.folder)
    assert [n.text for n in desk.notes()] == ["fed the tub kale"]


@pytest.mark.parametrize("damage", ["cut", "flipped", "empty", "backup beside", "copy beside"])
def test_row_44_a_damaged_log_opens_and_says_what_it_set_aside(desk: Desk, damage: str) -> None:
    for food in ("kale", "melon", "lettuce"):
        desk.note(f"fed the tub {food}")
    path = segment(desk.folder)
    lines = path.read_bytes()
    if damage == "cut":
        path.write_bytes(lines[:-40])
    elif damage == "flipped":
        path.write_bytes(lines[:-40] + bytes([lines[-40] ^ 1]) + lines[-39:])
    elif damage == "empty":
        path.write_bytes(b"")
    elif damage == "backup beside":
        path.with_name(path.name + "~").write_bytes(lines[:-40])
    else:
        path.with_name(path.stem + " (conflicted copy).jsonl").write_bytes(lines)
    got = desk.run("ask", "what did I feed the tub?", "--json")
    assert got.status == 0 and "Traceback" not in got.err
    kept = {e.record.item for e in desk.entries()}
    whole = {"kale", "melon", "lettuce"}
    assert kept == {"cut": {"kale", "melon"}, "flipped": {"kale", "melon"}, "empty": set()}.get(damage, whole)
    if damage in ("cut", "flipped", "empty"):
        assert got.err.startswith("binside: ")
    desk.note("fed the tub carrots")


@pytest.mark.parametrize(
    "question",
    [
        "how many cups in a handful of gallons",
        "why",
        "?",
        "how " * 10_000,
        "(((",
        "what is 1/0 cups",
        "\x00",
        "how much kale in 31 February",
    ],
    ids=lambda q: q[:30],
)
def test_row_45_any_question_gets_an_answer_or_a_plain_refusal(desk: Desk, question: str) -> None:
    desk.note("fed the tub two cups of kale")
    begin = time.process_time()
    got = desk.run("ask", question, "--json")
    assert time.process_time() - begin < 2
    if got.status:
        got.refused(got.status)
    else:
        answer = json.loads(got.out)
        assert answer["text"] and set(answer) >= {"question", "read_as", "value", "records", "text"}


@pytest.mark.parametrize(
    "question",
    [
        "when did I last feed the garage bin?",
        "how much dragon fruit have I fed?",
        "how much kale did I feed in 1999?",
        "when did I last feed the third tray of the barn box?",
    ],
)
def test_row_46_what_the_log_has_not_got(desk: Desk, question: str) -> None:
    desk.note("fed the tub two cups of kale")
    answer = json.loads(desk.run("ask", question, "--json").out)
    assert answer["value"] is None and not answer["records"]
    assert answer["text"]


@pytest.mark.parametrize(
    "words",
    [
        ["--frob"],
        ["frob"],
        ["note", "--frob"],
        ["--log"],
        ["note", "x", "--now"],
        ["note", "x", "--now", "yesterday"],
        ["import"],
        ["ask"],
    ],
    ids=" ".join,
)
def test_row_47_wrong_usage_is_two_and_one_line(desk: Desk, words: list[str]) -> None:
    desk.run(*words).refused(2)
    assert not desk.notes()


def test_row_47_a_log_that_is_a_file(desk: Desk, tmp_path: Path) -> None:
    stone = tmp_path / "stone"
    stone.write_text("x", encoding="utf-8")
    desk.run("ask", "what's due?", log=stone).refused(2)
    assert stone.read_text(encoding="utf-8") == "x"


def test_row_48_an_output_closed_early_is_a_quiet_end(desk: Desk) -> None:
    desk.note("fed the tub kale")
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*COMMAND, "ask", "what did I feed the tub?"],
        env=environment(desk.folder),
        stdin=subprocess.DEVNULL,
        stdout=writing,
        stderr=subprocess.PIPE,
        timeout=60,
        check=False,
    )
    os.close(writing)
    assert done.stderr == b"" and done.returncode == 0


def test_row_48_ctrl_c_in_an_import_is_130_and_keeps_what_was_acknowledged(
    desk: Desk, tmp_path: Path
) -> None:
    desk.note("fed the tub kale")
    many = tmp_path / "many.txt"
    many.write_text(
        "".join(
            f"{year}-03-{day:02}\nfed the tub melon\n\n" for year in range(1950, 2026) for day in range(1, 29)
        ),
        encoding="utf-8",
    )
    child = subprocess.Popen(
        [*COMMAND, "import", str(many)],
        env=environment(desk.folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    time.sleep(3)
    assert child.poll() is None, "the import was over before it could be stopped"
    child.send_signal(signal.SIGINT)
    _, err = child.communicate(timeout=60)
    assert child.returncode == 130 and b"Traceback" not in err
    assert "fed the tub kale" in [n.text for n in desk.notes()]


@pytest.mark.parametrize("term", ["dumb", "xterm-256color", None])
def test_row_49_without_a_terminal_it_talks_line_by_line(desk: Desk, term: str | None) -> None:
    got = program(
        env=environment(desk.folder, TERM=term),
        said=b"fed the tub two cups of kale\nhow much kale have I fed?\n",
    )
    assert got.status == 0 and got.err == "" and "kale" in got.out
    assert [e.record.item for e in desk.entries()] == ["kale"]


@pytest.mark.parametrize(
    "changes",
    [
        {"HOME": None},
        {"HOME": os.devnull + "/home", "XDG_CACHE_HOME": None},
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"PYTHONTZPATH": "", "TZ": "Nowhere/Land"},
        {"PYTHONIOENCODING": "ascii"},
    ],
    ids=str,
)
def test_row_50_bare_environments(desk: Desk, changes: dict[str, str | None]) -> None:
    got = program(
        "note",
        "--now",
        NOW,
        env=environment(desk.folder, **changes),
        said="fed the tub ½ cup of kale – café".encode(),
    )
    assert got.status == 0, got
    assert "Traceback" not in got.err
    assert desk.notes()[-1].text == "fed the tub ½ cup of kale – café"


def test_row_50_no_home_and_no_log_named() -> None:
    env = {"PATH": os.environ.get("PATH", ""), "HOME": os.devnull + "/home"}
    program("note", "fed the tub kale", env=env).refused()


def test_the_log_of_another_device_is_joined(desk: Desk, tmp_path: Path) -> None:
    desk.note("fed the tub two cups of kale")
    other = tmp_path / "tablet"
    shutil.copytree(desk.folder, other)
    for folder, cups in ((desk.folder, 3), (other, 4)):
        with Log.open(folder, clock=clock) as log:
            (fed,) = log.entries()
            log.amend(fed.id, replace(fed.record, amount=Amount.exactly(cups, "cup")))
    desk.run("note", "the tub is soggy", log=other)
    got = desk.run("import", str(other))
    assert (got.status, got.out) == (0, "tablet: 1 note, 1 records joined\n")
    assert "changed in both logs, the later change counts: " in got.line
    assert "fed 3 cups of kale" in got.line and "fed 4 cups of kale" in got.line
    assert desk.run("import", str(other)).out == "tablet: 0 notes, 0 records joined\n"
    assert "holds no log" in desk.run("import", str(tmp_path)).refused()


def test_parse_knows_the_bins_of_the_log_and_makes_none(desk: Desk, tmp_path: Path) -> None:
    desk.bins([Bin("laundry stack", 3)])
    told = json.loads(desk.run("parse", "--json", "laundry stack bottom tray is soggy").out)["records"]
    assert [(r["bin"], r["tier"]) for r in told] == [("laundry stack", 3)]
    assert desk.run("parse", "the tub is soggy", log=tmp_path / "none").status == 0
    assert not (tmp_path / "none").exists()
    assert (
        program("parse", "the tub is soggy", env=environment(Path(), HOME="", BINSIDE_LOG=None)).status == 0
    )
