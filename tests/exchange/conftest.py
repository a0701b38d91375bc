"""A clock and a way to put a file down, for every test of the files in and out."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

NOW = datetime(2026, 3, 6, 12, 0, 0)
SAVED = datetime(2026, 3, 4, 9, 30, 0)


@pytest.fixture
def now() -> datetime:
    return NOW


@pytest.fixture
def put(tmp_path: Path) -> Callable[[str, str | bytes], Path]:
    """Write a file that was last saved at `SAVED`."""

    def write(name: str, data: str | bytes) -> Path:
        path = tmp_path / name
        path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
        os.utime(path, (SAVED.timestamp(), SAVED.timestamp()))
        return path

    return write
