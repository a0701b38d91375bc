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
    "a": (0.83, 0.68, 5.1),
    "b": (0.83, 0.71, 3.7),
    "c": (0.86, 0.70, 4.4),
    "d": (0.91, 0.79, 3.0),
    "e": (0.79, 0.64, 6.0),
    "g": (0.74, 0.53, 4.7),
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
