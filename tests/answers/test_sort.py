"""A line is a note, a question, both, a correction or a wish.

lines.tsv was written before the rules were tried on it; the notes under tests/reading/notes are by other
writers, and every one of them is a note."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest
from scenario import NOW

from assistant.answers import sort_of
from assistant.reading import Reader
from assistant.records import Bin, setup_from_json

HERE = Path(__file__).parent
NOTES = sorted((HERE.parent / "reading" / "notes").glob("*.jsonl"))
SETUP = (Bin("tower", 3), Bin("tote"), Bin("tub"), Bin("euro bin"))
LEAST = 0.98


def test_lines(reader: Reader) -> None:
    rows = [line.split("\t") for line in (HERE / "lines.tsv").read_text().splitlines()[1:]]
    assert len(rows) >= 300
    questions = [line for sort, line in rows if sort == "question"]
    assert sum(not line.endswith("?") for line in questions) * 2 >= len(questions)
    wrong = [
        (sort, got, line)
        for sort, line in rows
        if (got := sort_of(line, reader.sketch(line, SETUP, NOW))) != sort
    ]
    assert len(wrong) <= len(rows) * (1 - LEAST), wrong


@pytest.mark.parametrize("file", NOTES, ids=lambda file: file.stem)
def test_notes_of_other_writers(file: Path, reader: Reader) -> None:
    wrong = []
    for line in file.read_text().splitlines():
        note = json.loads(line)
        now = datetime.fromisoformat(note["now"])
        sketch = reader.sketch(note["text"], setup_from_json(note["setup"]), now)
        if sort_of(note["text"], sketch) != "note":
            wrong.append(note["text"])
    assert not wrong


@pytest.mark.parametrize("line", ["", " ", "?", "...", "\x00", "🪱", "no", "(" * 300])
def test_nothing_breaks_it(line: str, reader: Reader) -> None:
    assert sort_of(line, reader.sketch(line, SETUP, NOW)) in (
        "note",
        "question",
        "both",
        "correction",
        "wish",
    )
