"""The contract's rules as small cases: a note, a set-up, and the slots that matter of every record in it.

`rules.tsv` holds the cases that run as tests, `rules_open.tsv` those that the reading does not pass yet. Row:
the rule's number in section 5, the set-up's name, the note, and the records: `kind state, slot value, ... ;`
with `-` for null, `a or b` for items that are both right, amounts as `best`, `low/best/high` or `~best`
(where only `best` matters), and `unsure` alone where a word of doubt must be there; `none` for no record.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.reading.notesets import read
from tests.reading.slots import item_right
from tests.reading.tables import brief

HERE = Path(__file__).parent
NOW = "2026-03-10T19:00:00"  # a Tuesday
SETUPS: dict[str, list[dict[str, Any]]] = {
    "tub": [{"name": "tub"}],
    "stack": [{"name": "cellar stack", "tiers": 3, "also": ["the stack"]}],
    "two": [{"name": "cellar stack", "tiers": 3}, {"name": "tote", "tiers": 1}],
}
STATES = ("done", "planned", "expected", "ruled_out")


@dataclass(frozen=True)
class Case:
    """One row of a list of rules."""

    rule: int
    setup: str
    note: str
    wanted: str

    def read(self) -> list[dict[str, Any]]:
        """The records that the note gives, without remarks."""
        note = {"text": self.note, "now": NOW, "setup": SETUPS[self.setup]}
        return [r for r in read(note) if r["kind"] != "remark"]

    def holds(self) -> bool:
        """Whether the note gives the wanted records and no other, in any order."""
        return matched([wanted_record(part) for part in parts(self.wanted)], self.read())

    def __str__(self) -> str:
        return f"{self.rule}: {self.note}"


def cases(name: str) -> list[Case]:
    """The rows of `rules.tsv` or `rules_open.tsv`."""
    with (HERE / name).open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE)
        return [Case(int(row["rule"]), row["setup"], row["note"], row["records"]) for row in rows]


def parts(wanted: str) -> list[str]:
    """One text a record."""
    return [] if wanted == "none" else wanted.split(" ; ")


def wanted_record(text: str) -> dict[str, str]:
    """Slot -> value as written; kind and state stand first, with no names."""
    head, *slots = text.split(", ")
    kind, _, state = head.partition(" ")
    if state not in ("", *STATES):
        raise ValueError(f"{text}: {state} is no state")
    given = dict(slot.partition(" ")[::2] for slot in slots)
    return {"kind": kind, "state": state or "done"} | given


def matched(wanted: Sequence[Mapping[str, str]], read: Sequence[Mapping[str, Any]]) -> bool:
    """Whether every wanted record has one of those read to itself, and none is left over."""
    if not wanted or not read:
        return not wanted and not read
    first, *rest = wanted
    return any(_fits(first, r) and matched(rest, [*read[:i], *read[i + 1 :]]) for i, r in enumerate(read))


def _fits(wanted: Mapping[str, str], read: Mapping[str, Any]) -> bool:
    return all(_slot_fits(slot, value, read[slot]) for slot, value in wanted.items())


def _slot_fits(slot: str, value: str, read: Any) -> bool:
    if slot == "unsure":
        return bool(read)
    if slot == "item":
        return any(item_right(None if one == "-" else one, read) for one in value.split(" or "))
    if value == "-":
        return read is None
    if slot == "amount":
        return read is not None and _amount_fits(value, read)
    if slot == "price":
        return read is not None and math.isclose(read["value"], float(value))
    if slot == "when":
        return str(read)[:10] == value
    return str(read) == value


def _amount_fits(value: str, read: Mapping[str, Any]) -> bool:
    figures, _, unit = value.partition(" ")
    low, best, high = figures.split("/") if "/" in figures else [figures] * 3
    if figures.startswith("~"):
        return read["unit"] == unit and math.isclose(read["best"], float(figures[1:]), rel_tol=1e-6)
    said = (read["low"], read["best"], read["high"])
    return read["unit"] == unit and all(
        math.isclose(a, float(b), rel_tol=1e-6) for a, b in zip(said, (low, best, high), strict=True)
    )


def report() -> int:
    """Print what fails in both lists, and the open cases that hold by now; 1 where a closed one fails."""
    failing = [case for case in cases("rules.tsv") if not case.holds()]
    still = cases("rules_open.tsv")
    for case in (*failing, *(case for case in still if not case.holds())):
        print(f"\nrule {case.rule} ({case.setup}): {case.note}\n  should be {case.wanted}")
        for record in case.read():
            print(f"  was read  {brief(record)}")
    for case in (case for case in still if case.holds()):
        print(f"\nrule {case.rule} holds by now, move it to rules.tsv: {case.note}")
    total = len(cases("rules.tsv"))
    print(f"\n{total - len(failing)} of {total} cases hold; {len(still)} more are open")
    return int(bool(failing))
