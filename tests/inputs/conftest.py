from __future__ import annotations

from pathlib import Path

import pytest

from tests.inputs.program import TUB, Desk


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Desk:
    """A fresh log with one bin, the tub."""
    desk = Desk(tmp_path / "log", monkeypatch, capsys)
    desk.bins(TUB)
    return desk
