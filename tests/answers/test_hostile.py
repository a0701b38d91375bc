"""Whatever is asked, an answer comes: no text breaks it, and no question raises on an empty log."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scenario import NOW
from test_questions import ROWS

from assistant.answers import Answer, Facts, ask
from assistant.reading import Reader
from lexicon import load

WORDS = (
    "how much many did I last feed first next why should the tower top tray tote bottom before after since "
    "what "
    "when where which bin coffee wet worms week march 3 pounds in and is it more than better due planned not"
).split()


@given(st.lists(st.sampled_from(WORDS), max_size=14))
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_words(asked: Callable[..., Answer], words: list[str]) -> None:
    answer = asked(" ".join(words))
    assert answer.text
    json.dumps(answer.to_json(), allow_nan=False)


@given(st.text(max_size=60))
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text(asked: Callable[..., Answer], text: str) -> None:
    assert asked(text).text


@pytest.mark.parametrize("question", [row[0] for row in ROWS])
def test_an_empty_log_says_so(question: str, reader: Reader) -> None:
    answer = ask(question, Facts([], (), NOW, load()), reader)
    assert answer.records == ()
    assert answer.text


def test_ten_thousand_words(asked: Callable[..., Answer]) -> None:
    assert asked("how much did I feed " * 2000).text
