"""A file's name made from what a keeper calls a bin: never a path, never a name that a system reserves.

Source: Microsoft, "Naming Files, Paths, and Namespaces" (reserved names and characters); POSIX (slash, NUL).
"""

from __future__ import annotations

import re
import unicodedata

LONGEST = 120
"""Octets of the longest name, its ending included."""

_RESERVED = re.compile(r"^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)$", re.IGNORECASE)


def file_name(called: str, ending: str = "") -> str:
    """A name for a file about what is called `called`, with `ending` (".csv"); "bin" where none is left."""
    kept = (
        c if c.isalnum() or c in " -_" or unicodedata.category(c).startswith("M") else "-" for c in called
    )
    name = re.sub(r"-{2,}", "-", " ".join("".join(kept).split())).strip(" -")
    room = LONGEST - len(ending.encode("utf-8", "replace"))
    name = name.encode("utf-8", "replace")[:room].decode("utf-8", "ignore").rstrip(" -")
    if not name or _RESERVED.match(name):
        name = f"bin {name}".strip()
    return name + ending
