"""What makes a record doubtful once the whole note is read, and what does not."""

from __future__ import annotations

import pytest

from assistant.reading import doubts
from tests.reading import notesets, rules

WAYS = (doubts.NO_TIER, doubts.TWICE, doubts.AFTER_TALK, doubts.MANY_VERBS, doubts.MANY_DAYS)


def found(setup: str, text: str) -> list[tuple[str, set[str]]]:
    """Each record's kind with the doubts of this sort that it carries."""
    note = {"text": text, "now": rules.NOW, "setup": rules.SETUPS[setup]}
    return [(r["kind"], set(WAYS) & set(r["unsure"])) for r in notesets.read(note)]


@pytest.mark.parametrize(
    ("setup", "text", "wanted"),
    [
        (
            "stack",
            "Fed the stack a cup of kale. Top tray is soggy.",
            [("feed", {doubts.NO_TIER}), ("moisture", set())],
        ),
        ("stack", "Fed the stack a cup of kale.", [("feed", set())]),
        (
            "stack",
            "Drained the stack. Top tray is soggy.",
            [("drain", set()), ("moisture", set())],
        ),
        (
            "tub",
            "Fed the tub a cup of kale. Misted the tub. Then the tub got two cups of kale.",
            [("feed", {doubts.TWICE}), ("water", set()), ("feed", {doubts.TWICE})],
        ),
        (
            "tub",
            "Fed the tub a cup of kale on Sunday. Fed the tub a cup of kale today.",
            [("feed", set()), ("feed", set())],
        ),
        (
            "tub",
            "My neighbour's bin is full of mites. Lots of springtails. A few gnats.",
            [("sighting", {doubts.AFTER_TALK}), ("sighting", set())],
        ),
    ],
)
def test_signs_of_a_misreading(setup: str, text: str, wanted: list[tuple[str, set[str]]]) -> None:
    assert found(setup, text) == wanted
