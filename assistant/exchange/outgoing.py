"""What a file is written from: the log's entries and notes, the set-up, what is due."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol, TypeAlias

from assistant.records import Entry, Note, SetUp


class DueLike(Protocol):
    """Something that needs doing: what, where, on which day (ISO, None where no day is set) and why."""

    @property
    def what(self) -> str: ...  # noqa: D102
    @property
    def bin(self) -> str | None: ...  # noqa: D102
    @property
    def tier(self) -> int | None: ...  # noqa: D102
    @property
    def day(self) -> str | None: ...  # noqa: D102
    @property
    def why(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Outgoing:
    """All that a writer may draw on; `notes` by id, `now` the clock."""

    entries: Sequence[Entry]
    notes: Mapping[str, Note]
    setup: SetUp
    due: Sequence[DueLike]
    now: datetime


Writer: TypeAlias = Callable[[Outgoing], str]


def place(bin_name: str | None, tier: int | None) -> str:
    """ "cellar stack, tier 2"; empty where neither is known."""
    return ", ".join(part for part in (bin_name or "", f"tier {tier}" if tier else "") if part)
