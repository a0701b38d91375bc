"""What the screen shows, as lines of plain text, read from Textual's own SVG; and snapshots in files."""

from __future__ import annotations

import os
from pathlib import Path
from xml.etree import ElementTree

from textual.app import App

SVG = "{http://www.w3.org/2000/svg}"
CELL, ROW = 12.2, 24.4
"""Width and height of a cell in Textual's SVG, pixels."""
SNAPSHOTS = Path(__file__).parent / "snapshots"


def seen(app: App[None]) -> list[str]:
    """The rows of the screen; a part keeps its column, so that what stands side by side lines up."""
    drawing = ElementTree.fromstring(app.export_screenshot(simplify=True))
    rows: dict[int, str] = {}
    for text in drawing.iter(f"{SVG}text"):
        if text.get("clip-path"):
            row = round((float(text.get("y", 0)) - 20) / ROW)
            column = round(float(text.get("x", 0)) / CELL)
            rows[row] = rows.get(row, "").ljust(column) + (text.text or "").replace("\u00a0", " ")
    return [rows.get(row, "").rstrip() for row in range(max(rows) + 1)]


def same_as_before(app: App[None], name: str) -> None:
    """Compare with the snapshot of that name; SNAPSHOTS=write in the environment draws it anew."""
    file = SNAPSHOTS / f"{name}.txt"
    now = "\n".join(seen(app)) + "\n"
    if os.environ.get("SNAPSHOTS") == "write":
        file.parent.mkdir(exist_ok=True)
        file.write_text(now, encoding="utf-8")
    assert now == file.read_text(encoding="utf-8")
