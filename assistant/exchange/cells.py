"""The cells of a spreadsheet: delimiters, rows, and text that no spreadsheet takes for a formula.

Sources: RFC 4180 (CSV); OWASP, "CSV Injection" (cells that begin with = + - @ tab or carriage return, and
their full-width forms).
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

DELIMITERS = ",;\t|"
MOST_BROKEN = 100
"""Rows that may be unreadable before the file is given up."""

_FORMULA = re.compile(r"^'*[ ]*[=+\-@\t\r\n＝＋－＠]")
_GUARDED = re.compile(r"^'+[ ]*[=+\-@\t\r\n＝＋－＠]")
_SEP_LINE = re.compile(r"^\s*sep=(.)\s*$", re.IGNORECASE)

Row = tuple[int, list[str]]  # number of its first line, its cells


def guarded(cell: str) -> str:
    """The cell with an apostrophe ahead where a spreadsheet could take it for a formula."""
    return "'" + cell if _FORMULA.match(cell) else cell


def unguarded(cell: str) -> str:
    """What `guarded` was given."""
    return cell[1:] if _GUARDED.match(cell) else cell


def named_delimiter(text: str) -> str | None:
    """The delimiter of a first line `sep=;`, as spreadsheets write it (common practice, no source)."""
    found = _SEP_LINE.match(text.partition("\n")[0][:20])
    return found[1] if found else None


def rows_of(text: str, delimiter: str, most: int | None = None) -> tuple[list[Row], list[str]]:
    """Rows with a word in them and a doubt for each row that cannot be read; `most` ends it early for a look.

    A broken row costs only its first line: reading goes on with the next. ValueError past `MOST_BROKEN`.
    """
    lines = text.split("\n")
    rows: list[Row] = []
    doubts: list[str] = []
    position = 0

    def feed() -> Iterator[str]:
        nonlocal position
        while position < len(lines):
            position += 1
            yield lines[position - 1] + "\n"

    with _long_cells(len(text) + 1):
        while position < len(lines) and (most is None or len(rows) < most):
            begun = position
            try:
                for cells in csv.reader(feed(), delimiter=delimiter, strict=True):
                    if any(cell.strip() for cell in cells):
                        rows.append((begun + 1, [unguarded(cell) for cell in cells]))
                    begun = position
                    if len(rows) == most:
                        break
            except csv.Error:
                doubts.append(
                    f"line {begun + 1}: its quotes do not close where they should; the row is left out"
                )
                position = begun + 1
                if most is not None and len(doubts) > most:
                    break
                if len(doubts) > MOST_BROKEN:
                    told = f"more than {MOST_BROKEN} rows cannot be read, the first in {doubts[0]}"
                    raise ValueError(told) from None
    return rows, doubts


def written(rows: Sequence[Sequence[str]]) -> str:
    """Rows as RFC 4180 text: commas, quotes where needed, CRLF line ends."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue()


@contextmanager
def _long_cells(limit: int) -> Iterator[None]:
    """The csv module's limit on a cell, lifted for one reading: it belongs to the whole process."""
    before = csv.field_size_limit(max(limit, csv.field_size_limit()))
    try:
        yield
    finally:
        csv.field_size_limit(before)
