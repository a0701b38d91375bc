"""The cache saves time and never decides: stale, broken or unwritable, the data are read anew."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from lexicon import compiled


class Gather:
    """Counts how often the sources are read."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self, folder: Path) -> dict[str, Any]:
        self.times += 1
        return {"rows": (folder / "a.csv").read_text(encoding="utf-8")}


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "data"
    (folder / "words").mkdir(parents=True)
    (folder / "a.csv").write_text("form\none\n", encoding="utf-8")
    return folder


def cached(place: Path) -> Path:
    return next((place.parent / "cache" / "binside").iterdir())


def test_a_fresh_cache_is_used(place: Path) -> None:
    gather = Gather()
    first, second = compiled.fetch(place, gather), compiled.fetch(place, gather)
    assert first == second and gather.times == 1
    assert cached(place).suffix == ".json"


def test_a_changed_source_is_read_anew(place: Path) -> None:
    gather = Gather()
    compiled.fetch(place, gather)
    (place / "words" / "b.csv").write_text("form\n", encoding="utf-8")
    compiled.fetch(place, gather)
    (place / "a.csv").write_text("form\ntwo\n", encoding="utf-8")
    assert "two" in compiled.fetch(place, gather)["rows"]
    assert gather.times == 3


@pytest.mark.parametrize("cut", [0, 1, 9, 30, -1])
def test_a_torn_cache_is_passed_over(place: Path, cut: int) -> None:
    gather = Gather()
    whole = compiled.fetch(place, gather)
    file = cached(place)
    file.write_bytes(file.read_bytes()[:cut])
    assert compiled.fetch(place, gather) == whole and gather.times == 2


def test_a_flipped_bit_in_the_cache_is_passed_over(place: Path) -> None:
    gather = Gather()
    whole = compiled.fetch(place, gather)
    file = cached(place)
    data = bytearray(file.read_bytes())
    data[-5] ^= 1
    file.write_bytes(data)
    assert compiled.fetch(place, gather) == whole and gather.times == 2


def test_bytes_that_are_no_text_are_passed_over(place: Path) -> None:
    gather = Gather()
    compiled.fetch(place, gather)
    cached(place).write_bytes(b"\xff\xfe\x00")
    compiled.fetch(place, gather)
    assert gather.times == 2


def test_works_where_the_cache_cannot_be_written(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = place.parent / "file"
    blocked.write_text("no folder", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    gather = Gather()
    assert compiled.fetch(place, gather) == compiled.fetch(place, gather)
    assert gather.times == 2


def test_works_where_a_file_stands_in_the_way(place: Path) -> None:
    gather = Gather()
    compiled.fetch(place, gather)
    file = cached(place)
    file.unlink()
    file.mkdir()
    compiled.fetch(place, gather)
    assert gather.times == 2 and os.listdir(file.parent) == [file.name]


def test_works_with_no_home(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", "nowhere")
    gather = Gather()
    compiled.fetch(place, gather)
    compiled.fetch(place, gather)
    assert gather.times == 2 and not Path("nowhere").exists()
