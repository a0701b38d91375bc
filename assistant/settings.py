"""Where the keeper's files live."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from assistant.errors import UsageError


def log_folder(given: str | None) -> Path:
    """The log's folder: as given, else BINSIDE_LOG, else in the user's data folder."""
    chosen = given or os.environ.get("BINSIDE_LOG")
    if chosen:
        folder = Path(chosen).expanduser()
        if folder.exists() and not folder.is_dir():
            raise UsageError(f"--log wants a folder, and {chosen} is a file")
        return folder
    return _data_home() / "binside"


def _data_home() -> Path:
    """The user's data folder by the custom of the system; UsageError where there is none to be found."""
    if sys.platform == "win32" and os.environ.get("LOCALAPPDATA"):
        return Path(os.environ["LOCALAPPDATA"])
    given = os.environ.get("XDG_DATA_HOME", "")
    if os.path.isabs(given):
        return Path(given)
    home = Path(os.path.expanduser("~"))
    if not home.is_absolute():
        raise UsageError("no home folder is known: say where the log lives with --log FOLDER or BINSIDE_LOG")
    return home / ("Library/Application Support" if sys.platform == "darwin" else ".local/share")
