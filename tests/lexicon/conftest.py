"""A copy of the lexicon that a test may break."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

import lexicon

HOME = Path(lexicon.__file__).parent


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The shipped data files, copied."""
    return Path(
        shutil.copytree(HOME, tmp_path / "lexicon", ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    )


@pytest.fixture
def append(folder: Path) -> Callable[[str, str], int]:
    """Put a line at the end of a data file; gives its number."""

    def put(file: str, line: str) -> int:
        path = folder / file
        text = path.read_text(encoding="utf-8")
        path.write_text(f"{text}{line}\n", encoding="utf-8")
        return text.count("\n") + 1

    return put
