"""The sets of example notes, and their reading in one process."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from assistant.reading import Reader
from assistant.records import setup_from_json

Json = Mapping[str, Any]
OURS = Path(__file__).parent / "notes"
GIVEN = Path(__file__).parents[3] / "shared" / "notes" / "dev.jsonl"
"""The example notes that came with the contract, beside the checkout; they need not be there."""


@cache
def reader() -> Reader:
    """One reader for a whole process; building it takes about a second."""
    return Reader()


def available() -> dict[str, Path]:
    """The sets that are there, by name, in order."""
    given = {"dev": GIVEN} if GIVEN.is_file() else {}
    return given | {path.stem: path for path in sorted(OURS.glob("*.jsonl"))}


def lines_of(path: Path) -> list[Json]:
    """The objects of a file with one a line."""
    with path.open(encoding="utf-8") as lines:
        return [json.loads(line) for line in lines if line.strip()]


def read(note: Json, text: str | None = None) -> list[dict[str, Any]]:
    """The records of a note as the contract writes them; of another text in its place where one is given."""
    setup, now = setup_from_json(note.get("setup") or ()), datetime.fromisoformat(note["now"])
    return [r.to_json() for r in reader().read(note["text"] if text is None else text, setup, now).records]


def read_all(notes: Iterable[Json]) -> dict[str, list[dict[str, Any]]]:
    """The records of each note, by the note's id."""
    return {note["id"]: read(note) for note in notes}


def save(path: Path, by_id: Mapping[str, list[dict[str, Any]]]) -> None:
    """Write readings in the form of `binside parse --batch`, a line a note."""
    with path.open("w", encoding="utf-8") as out:
        for id_, records in by_id.items():
            print(json.dumps({"id": id_, "records": records}, ensure_ascii=False), file=out)


def saved(path: Path) -> dict[str, list[dict[str, Any]]]:
    """What `save` or `binside parse --batch` wrote."""
    return {line["id"]: list(line.get("records", ())) for line in lines_of(path)}
