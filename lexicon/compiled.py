"""A cache of the checked data in the user's cache folder. It is only ever a saving of time: stale, broken or
unwritable, it is passed over without a word."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from zlib import crc32


def _home() -> Path | None:
    """The user's cache folder by the custom of the system, or None where there is none."""
    given = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME")
    if not given:
        given = os.path.expanduser("~/Library/Caches" if sys.platform == "darwin" else "~/.cache")
    return Path(given) if os.path.isabs(given) else None


def _stamp(folder: Path) -> str:
    """Name, size and time of change of every file, the loader's own included."""
    seen = []
    for place in (folder, folder / "words"):
        with os.scandir(place) as entries:
            for entry in entries:
                if entry.name.endswith((".csv", ".toml", ".py")):
                    state = entry.stat()
                    seen.append(f"{entry.name}:{state.st_size}:{state.st_mtime_ns}")
    return " ".join(sorted(seen))


def _saved(file: Path, stamp: str) -> Any | None:
    """The data in `file` if it was made from these sources and is whole, else None."""
    try:
        head, _, body = file.read_text(encoding="utf-8").partition("\n")
        if head == f"{crc32(body.encode()):08x} {stamp}":
            return json.loads(body)
    except (OSError, ValueError):
        pass
    return None


def _save(file: Path, stamp: str, data: Any) -> None:
    """Write `data` in one step; a place that cannot be written is left alone."""
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    draft = file.with_suffix(f".{os.getpid()}")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        draft.write_text(f"{crc32(body.encode()):08x} {stamp}\n{body}", encoding="utf-8")
        os.replace(draft, file)
    except OSError:
        draft.unlink(missing_ok=True) if draft.parent.is_dir() else None


def fetch(folder: Path, gather: Callable[[Path], dict[str, Any]]) -> dict[str, Any]:
    """The data of `folder`: from the cache where fresh, else by `gather`, which is then kept."""
    home = _home()
    if home is None:
        return gather(folder)
    stamp = _stamp(folder)
    file = home / "binside" / f"lexicon-{crc32(str(folder).encode()):08x}.json"
    data: dict[str, Any] | None = _saved(file, stamp)
    if data is None:
        data = gather(folder)
        _save(file, stamp, data)
    return data
