"""Spreadsheets (.csv): any headings in, the contract's fields out.

Source: RFC 4180 for the rows; the columns written are those of the record contract, section 2. A row that
already speaks the contract's spellings (a kind, an amount with a unit of its list) becomes a record; any
other row is put in words and read like a note.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from assistant.errors import FileError
from assistant.exchange import cells
from assistant.exchange.clean import one_line
from assistant.exchange.days import find_day
from assistant.exchange.gathered import Found, gathered, record_of
from assistant.exchange.headings import PHRASES, UNITS, Column, columns_of
from assistant.exchange.incoming import Incoming, Page
from assistant.exchange.outgoing import Outgoing
from assistant.exchange.said import dated, file_day
from assistant.exchange.worded import FIGURES, Cells, figure, in_words, named_cells
from assistant.records import KINDS, Entry

_FIELDS = """
id said_on kind state bin tier to_tier spot item amount low high unit level price currency when text start end
unsure note_id at
"""
WRITTEN = tuple(_FIELDS.split())
LOOKED_AT = 10
"""Rows among which the headings are looked for."""

_SLASHED = re.compile(r"^\s*(\d{1,2})[/-](\d{1,2})[/-]\d{2,4}\b")
UNSURE_APART = "; "


@dataclass(frozen=True, slots=True)
class Preview:
    """How a spreadsheet was understood: what parts its cells, its columns, how many rows stand below them."""

    delimiter: str
    columns: tuple[Column, ...]
    rows: int
    doubts: tuple[str, ...] = ()

    def told(self) -> list[str]:
        """The same in plain lines, safe to show."""
        return [one_line(column.told()) for column in self.columns] + [f"{self.rows} rows"]


def preview(page: Page) -> Preview:
    """How the sheet would be read; FileError where it would not."""
    delimiter, columns, rows, doubts = _opened(page)
    return Preview(delimiter, columns, len(rows), tuple(doubts))


def read(page: Page) -> list[Incoming]:
    """A note or a record for each row, in the order of the sheet; doubts name rows that cannot be read."""
    delimiter, columns, rows, doubts = _opened(page)
    day_first, unsettled = _day_order(columns, rows)
    if unsettled:
        doubts.append("the days could be month/day or day/month; read as month/day")
    out: list[Incoming] = []
    found: list[Found] = []
    above: str | None = None
    for number, row in rows:
        named, spare = named_cells(columns, row, delimiter)
        if spare:
            doubts.append(
                f"line {number}: {spare} more cell{'s' if spare > 1 else ''} than headings, kept as words"
            )
        said_on, trouble = _said_on(named, above, day_first, page)
        if said_on is None:
            doubts.append(f"line {number}: {trouble}; the row is left out")
            continue
        above = said_on
        row_found = _found(named, said_on)
        if row_found is not None:
            found.append(row_found)
            continue
        out += gathered(found, page.name)
        found = []
        if text := in_words(named):
            out.append(Incoming(text, said_on, page.name, doubts=(trouble,) if trouble else ()))
    out += gathered(found, page.name)
    if not out:
        raise FileError(
            f"{one_line(page.name)}: no row that can be read" + (f"; {doubts[0]}" if doubts else "")
        )
    return [replace(out[0], doubts=(*doubts, *out[0].doubts)), *out[1:]]


def write(out: Outgoing) -> str:
    """A row a record, under the contract's names; no cell can be taken for a formula."""
    return cells.written([WRITTEN, *(_row(entry) for entry in out.entries)])


def _opened(page: Page) -> tuple[str, tuple[Column, ...], list[cells.Row], list[str]]:
    """Delimiter, columns, the rows below the headings, and doubts."""
    named = cells.named_delimiter(page.text)
    body = "\n" + page.text.partition("\n")[2] if named else page.text  # line numbers stay those of the file
    best: tuple[int, int, str, int] | None = None
    for delimiter in named or cells.DELIMITERS:
        rows, _ = cells.rows_of(body[:100_000], delimiter, LOOKED_AT)
        for place, (_, row) in enumerate(rows):
            known = sum(column.field is not None for column in columns_of(row))
            score = (known, len(row), delimiter, place)
            if known >= (2 if place else 1) and (best is None or score[:2] > best[:2]):
                best = score
    if best is None:
        first = one_line(page.text.strip().partition("\n")[0], 60)
        raise FileError(
            f"{one_line(page.name)}: no heading is known in '{first}'; name columns date, bin, note and so on"
        )
    _, _, delimiter, place = best
    try:
        rows, doubts = cells.rows_of(body, delimiter)
    except ValueError as error:
        raise FileError(f"{one_line(page.name)}: {error}") from None
    if place:
        doubts.append(f"what stands above the headings in line {rows[place][0]} is left out")
    return delimiter, columns_of(rows[place][1]), rows[place + 1 :], doubts


def _day_order(columns: Sequence[Column], rows: Sequence[cells.Row]) -> tuple[bool | None, bool]:
    """Whether 3/5 is the third of May, settled by the whole column; and whether that stays open."""
    at = next((i for i, column in enumerate(columns) if column.field == "said_on"), None)
    pairs = [
        (int(m[1]), int(m[2]))
        for _, row in rows
        if at is not None and at < len(row) and (m := _SLASHED.match(row[at]))
    ]
    first, second = any(a > 12 for a, _ in pairs), any(b > 12 for _, b in pairs)
    if first != second:
        return first, False
    return None if first else False, bool(pairs) and not first


def _said_on(named: Cells, above: str | None, day_first: bool | None, page: Page) -> tuple[str | None, str]:
    """The row's day (where empty that of the row above, else the file's), and what was odd about it."""
    cell = named.get("said_on", "").strip()
    if not cell:
        if above:
            return above[:10], ""
        day, doubts = file_day(page)
        return day, "; ".join(doubts)
    day_found = find_day(f"{cell} {named.get('time', '')}".strip(), page.today, day_first=day_first)
    if day_found is None or day_found.said_on is None:
        return None, f"'{one_line(cell, 40)}' is not a day"
    said_on, doubts = dated(day_found, page)
    return said_on, "; ".join(doubts)


def _found(named: Cells, said_on: str) -> Found | None:
    """The row as a record where it speaks the contract's spellings, else None."""
    kind, unit = "_".join(named.get("kind", "").lower().split()), named.get("unit", "").strip()
    figures = {name: figure(named[name]) for name in FIGURES if name in named}
    if kind not in KINDS or None in figures.values() or any(name in named for name in PHRASES):
        return None
    if ("amount" in figures) != bool(unit) or (unit and unit not in UNITS):
        return None
    best, price = figures.get("amount"), figures.get("price")
    data: dict[str, Any] = {name: named.get(name) for name in ("bin", "spot", "item", "when")}
    data |= {name: _count(figures.get(name)) for name in ("tier", "to_tier", "start", "end")}
    data |= {"kind": kind, "state": named.get("state"), "level": figures.get("level")}
    data["amount"] = best is not None and {
        "low": figures.get("low", best),
        "best": best,
        "high": figures.get("high", best),
        "unit": unit,
    }
    data["price"] = price is not None and {"value": price, "currency": named.get("currency")}
    own_words = named.get("note", "") if not named[""] else ""
    data["text"] = own_words or ("" if "id" in named else in_words(named))
    data["unsure"] = [doubt for doubt in named.get("unsure", "").split(UNSURE_APART) if doubt]
    try:
        record = record_of(data)
    except ValueError:
        return None
    if record.state == "done" and not record.when and "when" not in named and "id" not in named:
        record = replace(record, when=said_on[:10])
    return Found(record, named.get("id", ""), named.get("note_id"), said_on, figures.get("at"))


def _count(value: float | None) -> int | float | None:
    """A whole number as int; one that is not whole stays, and is refused as a count."""
    return int(value) if value is not None and value.is_integer() else value


def _row(entry: Entry) -> list[str]:
    """The entry's cells in the order of `WRITTEN`; words are guarded, figures are left figures."""
    data = entry.record.to_json()
    amount, price = data["amount"] or {}, data["price"] or {}
    data |= {name: amount.get(name) for name in ("low", "high", "unit")} | {"amount": amount.get("best")}
    data |= {"price": price.get("value"), "currency": price.get("currency")}
    data |= {"id": entry.id, "said_on": entry.said_on, "note_id": entry.note, "at": entry.at}
    data["unsure"] = UNSURE_APART.join(data["unsure"])
    return [
        "" if v is None else cells.guarded(v) if isinstance(v, str) else str(v)
        for v in map(data.get, WRITTEN)
    ]
