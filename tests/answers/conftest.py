from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # the scenario is a module of these tests

from scenario import NOW, SETUP, entries

from assistant.answers import Answer, Facts, Query, ask
from assistant.reading import Reader
from lexicon import load


@pytest.fixture(scope="session")
def reader() -> Reader:
    return Reader()


@pytest.fixture(scope="session")
def facts() -> Facts:
    return Facts(entries(), SETUP, NOW, load())


@pytest.fixture(scope="session")
def asked(reader: Reader, facts: Facts) -> Callable[..., Answer]:
    """`asked(question, before=None)`: the answer from the scenario."""

    def run(question: str, before: Query | None = None) -> Answer:
        return ask(question, facts, reader, before)

    return run
