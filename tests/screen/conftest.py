from __future__ import annotations

import sys
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # helpers of these tests

from chat import Chat, started


@pytest.fixture
def chat(tmp_path: Path) -> Callable[..., AbstractAsyncContextManager[Chat]]:
    """`async with chat(size) as it`: the screen over a scripted session in a fresh log."""

    @asynccontextmanager
    async def run(size: tuple[int, int] = (100, 30), **settings: bool) -> AsyncIterator[Chat]:
        async with started(tmp_path / "log", size, **settings) as it:
            yield it

    return run
