"""Floors under the reading of our own note sets: a change that makes it worse shows here.

The notes are invented, and their answers were written by hand from the record contract before the reading saw
them. `python -m tests.reading --sets a --worst 5` shows what is wrong.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.reading import notesets
from tests.reading.scoring import Score, score_note

FLOORS = {
    # set: found F1, whole F1, invented per 1,000 words at most
    "a": (0.90, 0.79, 3.6),
    "b": (0.87, 0.79, 3.5),
    "c": (0.91, 0.78, 2.7),
    "d": (0.95, 0.88, 1.6),
    "e": (0.90, 0.82, 3.9),
    "f": (0.74, 0.62, 4.7),
    "g": (0.83, 0.69, 2.7),
    "h": (0.79, 0.64, 5.3),
}


@cache
def scored(name: str) -> Score:
    """A set read and scored, once a run."""
    return Score(
        [score_note(note, notesets.read(note)) for note in notesets.lines_of(notesets.available()[name])]
    )


@pytest.mark.parametrize("name", FLOORS)
def test_a_set_is_read_as_well_as_before(name: str) -> None:
    found, whole, invented = FLOORS[name]
    score = scored(name)
    assert score.found.f1 >= found
    assert score.whole.f1 >= whole
    assert score.invented <= invented


def test_every_set_has_a_floor() -> None:
    assert {path.stem for path in notesets.OURS.glob("*.jsonl")} == set(FLOORS)


def test_doubt_is_honest() -> None:
    """Over all sets, what is marked unsure is wrong more often than what is not."""
    doubt = Score([note for name in FLOORS for note in scored(name).notes]).doubt()
    assert doubt["unsure"].read >= 10
    assert doubt["unsure"].precision < doubt["sure"].precision
