"""Reads the data files of a folder and checks every row; a bad one is a LexiconError with file and row."""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NoReturn, TypeAlias

from lexicon.errors import LexiconError
from lexicon.inflection import inflect

Table: TypeAlias = tuple[list[str], list[list[str]]]  # columns, rows of stripped strings

THING = ("name", "forms", "class", "moisture", "nitrogen", "c_to_n", "density", "piece", "refuse", "note")
SANE = {  # column -> the least and the most that a figure can be, in the unit of that column
    "moisture": (0.0, 100.0),
    "nitrogen": (0.0, 20.0),
    "c_to_n": (1.0, 2000.0),
    "density": (5.0, 3000.0),
    "piece": (0.001, 50_000.0),
    "refuse": (0.0, 100.0),
}
# columns that tell two rows of one form apart
SENSES = ("kind", "act", "topic", "sense", "meant", "applies_to", "dimension", "role", "mark")
EXACT = "="  # before a form: its other number is not a form ("=lime" the mineral is never "limes")
_NUMBER = r"-?\d+(?:\.\d+)?"
_CELL = re.compile(rf"({_NUMBER})(?: \(({_NUMBER})-({_NUMBER})\))?(?: ([A-Za-z][\w-]*))?")


class _Sheet:
    """One CSV file: its columns and its rows, and the way to complain about one of them.

    With `declared` columns it has these and no others; without, it has at least a column `form`.
    """

    def __init__(self, file: Path, folder: Path, declared: tuple[str, ...] | None) -> None:
        self.name = file.relative_to(folder).as_posix()
        with file.open(encoding="utf-8", newline="") as lines:
            reader = csv.reader(lines, strict=True)
            try:
                self.columns = next(reader, [])
                self.rows = [(reader.line_num, [cell.strip() for cell in row]) for row in reader if any(row)]
            except (csv.Error, UnicodeDecodeError) as fault:
                self.fail(reader.line_num, str(fault))
        for column in declared or ("form",):
            if column not in self.columns:
                self.fail(1, f"column {column!r} is missing")
        for column in self.columns if declared else ():
            if column not in (declared or ()):
                self.fail(1, f"unknown column {column!r}")
        for line, row in self.rows:
            if len(row) != len(self.columns):
                self.fail(line, f"{len(row)} cells where the header has {len(self.columns)}")

    def fail(self, line: int, why: str) -> NoReturn:
        raise LexiconError(f"{self.name}, row {line}: {why}")

    def records(self) -> Iterator[tuple[int, dict[str, str]]]:
        for line, row in self.rows:
            yield line, dict(zip(self.columns, row, strict=True))

    def plain(self) -> Table:
        return self.columns, [row for _, row in self.rows]


def _figure(
    sheet: _Sheet, line: int, column: str, cell: str, codes: set[str]
) -> tuple[float, float, float, str]:
    """`best`, or `best (low-high)`, then a source code."""
    found = _CELL.fullmatch(cell)
    if not found:
        sheet.fail(line, f"{column} {cell!r} is not 'best (low-high) SOURCE'")
    best = float(found[1])
    low, high = float(found[2] or best), float(found[3] or best)
    least, most = SANE[column]
    if not least <= low <= best <= high <= most:
        sheet.fail(line, f"{column} {cell!r} is not between {least:g} and {most:g}, in order")
    _cited(sheet, line, found[4] or "", codes)
    return low, best, high, found[4]


def _cited(sheet: _Sheet, line: int, cell: str, codes: set[str]) -> None:
    """A source cell: one code of sources.csv, or several with `;`."""
    if not cell:
        sheet.fail(line, "a figure has no source")
    for code in cell.split(";"):
        if code.strip() not in codes:
            sheet.fail(line, f"source {code.strip()!r} is not in sources.csv")


def split_forms(cell: str) -> list[str]:
    """The forms of a `;` separated cell, as written."""
    return [form.strip() for form in cell.split(";") if form.strip()]


def _things(sheet: _Sheet, codes: set[str]) -> list[list[Any]]:
    """Rows of a thing table as [name, forms, class, figures, note]; no form belongs to two of them."""
    owner: dict[str, int] = {}
    given: list[list[str]] = []
    rows = []
    for at, (line, row) in enumerate(sheet.records()):
        written = [row["name"], *split_forms(row["forms"])]
        for form in written:
            bare = form.removeprefix(EXACT)
            if not bare or bare != bare.lower():
                sheet.fail(line, f"form {form!r} is empty or not lower case")
            if bare in owner:
                other = sheet.rows[owner[bare]][0]
                sheet.fail(line, f"form {bare!r} is already in row {other}")
            owner[bare] = at
        if not row["class"]:
            sheet.fail(line, f"{row['name']!r} has no class")
        given.append(written)
        figures = {c: _figure(sheet, line, c, row[c], codes) for c in SANE if row[c]}
        rows.append([row["name"], [], row["class"], figures, row["note"]])
    for at, (written, made) in enumerate(zip(given, rows, strict=True)):
        made[1] = _with_other_numbers(written, at, owner)
    return rows


def _with_other_numbers(written: list[str], at: int, owner: dict[str, int]) -> list[str]:
    """The forms as written, then their other numbers, save those that another row already has."""
    forms = [form.removeprefix(EXACT) for form in written]
    for form in written:
        for other in () if form.startswith(EXACT) else inflect(form):
            if owner.setdefault(other, at) == at and other not in forms:
                forms.append(other)
    return forms


def _check_unique(sheet: _Sheet) -> None:
    """The first column names a row; with a column after it that tells senses apart, the two together."""
    key = [i for i, column in enumerate(sheet.columns) if i and column in SENSES]
    seen: dict[tuple[str, ...], int] = {}
    for line, row in sheet.rows:
        if not row[0]:
            sheet.fail(line, f"{sheet.columns[0]} is empty")
        for form in split_forms(row[0]):
            mark = (form, *(row[i] for i in key))
            if seen.setdefault(mark, line) != line:
                sheet.fail(line, f"{form!r} is already in row {seen[mark]}")


def _check_limits(sheet: _Sheet, codes: set[str]) -> None:
    """low <= best <= high wherever given, and a source for them."""
    for line, row in sheet.records():
        try:
            given = [float(row[c]) for c in ("low", "best", "high") if row[c]]
        except ValueError:
            sheet.fail(line, "low, best and high are numbers or empty")
        if given != sorted(given):
            sheet.fail(line, "low, best and high are not in order")
        if given:
            _cited(sheet, line, row["source"], codes)


def _check_measures(sheet: _Sheet, codes: set[str]) -> None:
    """Figures are numbers with a source; no form measures the same dimension twice."""
    seen: dict[tuple[str, str], int] = {}
    for line, row in sheet.records():
        try:
            given = [float(row[c]) for c in ("base", "low", "high") if row[c]]
        except ValueError:
            sheet.fail(line, "base, low and high are numbers or empty")
        if any(value <= 0 for value in given):
            sheet.fail(line, "base, low and high are above nothing")
        if given:
            _cited(sheet, line, row["source"], codes)
        for form in (row["name"], *split_forms(row["forms"])):
            mark = form, row["dimension"]
            if mark in seen:
                sheet.fail(line, f"form {form!r} is already in row {seen[mark]}")
            seen[mark] = line


def _cautions(file: Path, folder: Path, codes: set[str]) -> list[dict[str, Any]]:
    """The entries of cautions.toml, each with `id`, `text`, `source`, `items`, `kinds` and `words`."""
    name = file.relative_to(folder).as_posix()
    if not file.exists():
        return []
    try:
        entries = tomllib.loads(file.read_text(encoding="utf-8")).get("caution", [])
    except tomllib.TOMLDecodeError as fault:
        raise LexiconError(f"{name}: {fault}") from None
    made = []
    for at, entry in enumerate(entries, 1):
        if not entry.get("id") or not entry.get("text"):
            raise LexiconError(f"{name}, entry {at}: a caution needs an id and a text")
        if not set(str(entry.get("source", "")).split(";")) <= codes:
            raise LexiconError(f"{name}, entry {at}: source {entry.get('source')!r} is not in sources.csv")
        lists = {key: [str(word) for word in entry.get(key, ())] for key in ("items", "kinds", "words")}
        text = " ".join(entry["text"].split())
        made.append({"id": entry["id"], "text": text, "source": entry["source"], **lists})
    return made


def gather(folder: Path, topics: Mapping[str, str], schema: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Everything in `folder` as plain data: `things` by topic, `tables` by name, `cautions`."""
    sheets = {}
    for file in sorted([*folder.glob("*.csv"), *folder.glob("words/*.csv")]):
        declared = THING if file.name in topics.values() else schema.get(file.stem)
        sheets[file.stem] = _Sheet(file, folder, declared)
    for name in (*schema, *(Path(file).stem for file in topics.values())):
        if name not in sheets:
            raise LexiconError(f"{name}.csv is missing")
    codes = {row[0] for _, row in sheets["sources"].rows}
    things = {topic: _things(sheets.pop(Path(file).stem), codes) for topic, file in topics.items()}
    for name, sheet in sheets.items():
        _check_unique(sheet)
        if {"low", "best", "high", "source"} <= set(sheet.columns):
            _check_limits(sheet, codes)
        if name == "measures":
            _check_measures(sheet, codes)
    tables = {name: sheet.plain() for name, sheet in sheets.items()}
    cautions = _cautions(folder / "cautions.toml", folder, codes)
    return {"things": things, "tables": tables, "cautions": cautions}
