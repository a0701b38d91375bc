"""What the worker hands to the widgets: plain values, every text in them safe to show."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.records import Entry, Note, SetUp


@dataclass(frozen=True, slots=True)
class Line:
    """One record of a receipt. `note` is None where there is none; `gone` where the record was taken back."""

    entry: Entry
    note: Note | None
    text: str
    gone: bool = False


@dataclass(frozen=True, slots=True)
class Said:
    """What came of a line: warnings of the log, lines of the receipt, words, cautions, a question back.

    `theme` names the colours that the log keeps, empty where there is nothing to change.
    """

    lines: tuple[Line, ...] = ()
    text: str = ""
    cautions: tuple[str, ...] = ()
    doubt: str = ""
    warnings: tuple[str, ...] = ()
    theme: str = ""


@dataclass(frozen=True, slots=True)
class Tray:
    """One tier: its place in words, what stands on record of it, what is due there, what does not add up."""

    label: str
    facts: tuple[str, ...] = ()
    due: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stack:
    """One bin, its tiers from the top."""

    name: str
    trays: tuple[Tray, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """Every bin, what is due or in doubt of no bin in particular, and the set-up as it now is."""

    stacks: tuple[Stack, ...] = ()
    loose: Tray = field(default_factory=lambda: Tray("beside the bins"))
    bins: SetUp = ()
