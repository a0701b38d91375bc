"""Questions that lean on the one before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from assistant.answers import Answer

CHAINS: list[list[tuple[str, Any]]] = [
    [
        ("when did I last feed the tower", "2026-03-23"),
        ("and the tote?", "2026-03-21"),
        ("and before that?", "2026-01-24"),
    ],
    [
        ("how wet is the tote", 2),
        ("and the tower?", 3),
        ("and the top tray?", None),
        ("is it drying out?", "falling"),
    ],
    [
        ("when did I last see gnats in the tote", "2026-01-10"),
        ("where?", "the tote"),
        ("and the purple tub?", None),
    ],
    [("how many worms have I sold", 30), ("what did I get for them?", 8)],
    [
        ("how warm was the tote", 66),
        ("in celsius?", pytest.approx(34 / 1.8)),
        ("and the room?", pytest.approx(29 / 1.8)),
    ],
    [("did I feed the tote this month", True), ("and the euro bin?", None)],
    [("when did I last feed the tote", "2026-03-21"), ("how much was that?", 1)],
    [("how much did I harvest", 6), ("in litres?", pytest.approx(6 * 0.2365882365))],
]


@pytest.mark.parametrize("chain", CHAINS, ids=[chain[0][0] for chain in CHAINS])
def test_chain(chain: list[tuple[str, Any]], asked: Callable[..., Answer]) -> None:
    before = None
    for question, value in chain:
        answer = asked(question, before)
        assert answer.value == value, (question, answer.text)
        before = answer.query


def test_why_leans_on_what_was_asked(asked: Callable[..., Answer]) -> None:
    before = asked("when did I last see gnats in the tote").query
    answer = asked("why?", before)
    assert answer.query.bin == "tote"
    assert answer.value is None
    assert "GNAT21" in answer.sources
