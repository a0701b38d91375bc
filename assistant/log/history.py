"""What the operations come to: folded in the order of their stamps, whatever the order in which they arrive.

Each entry, setting and source has its own short list of the operations that touch it, so that one more
operation, an undo, or one that arrives late from another device, costs only the entries that it names.
"""

from __future__ import annotations

from bisect import insort
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from functools import lru_cache
from operator import itemgetter
from typing import Any, Literal, NamedTuple

from assistant.log.operations import Operation, is_step, note_from_line, order, target
from assistant.log.tables import Entries
from assistant.log.versions import Version
from assistant.records import Note


class Event(NamedTuple):
    """One thing an operation does to one entry."""

    order: tuple[str, str]
    place: int
    does: Literal["add", "amend", "drop"]
    data: Any
    by: str


class History:
    """All operations and the state that they give."""

    def __init__(self) -> None:
        self.entries = Entries()
        self._operations: dict[str, Operation] = {}
        self._steps: list[Operation] = []
        self._flags: list[Operation] = []
        self._flag_of: dict[str, Operation] = {}
        """The last undo or redo of an operation."""
        self._events: dict[str, list[Event]] = {}
        self._notes: dict[str, Note] = {}
        self._note_said_in: defaultdict[str, list[str]] = defaultdict(list)
        """The operations that carry a note: it stands while one of them does."""
        self._registers: defaultdict[tuple[str, str], list[Operation]] = defaultdict(list)

    def take(self, operations: Iterable[Operation]) -> None:
        """Fold in operations that were not there before."""
        touched: list[str] = []
        for operation in sorted(operations, key=order):
            self._operations[operation["id"]] = operation
            if aim := target(operation):
                _place(self._flags, operation)
                flag = self._flag_of.get(aim)
                if flag is None or order(flag) < order(operation):
                    self._flag_of[aim] = operation
                if aim in self._operations:
                    touched.extend(id for id, _ in _events(self._operations[aim]))
            else:
                touched.extend(self._take_step(operation))
        for id in dict.fromkeys(touched):  # in order: neighbours in memory are quicker to walk
            self._show(id)
        if touched:
            self.entries.entry_table().clear_cache()

    def operations(self) -> Mapping[str, Operation]:
        """Every operation, by its id."""
        return self._operations

    def versions(self, entry_id: str) -> list[Version]:
        """What an entry was, first to last, undone operations left out; empty where there is none."""
        return self._fold(entry_id)[0]

    def stands(self, operation_id: str) -> bool:
        """Whether an operation is not undone."""
        flag = self._flag_of.get(operation_id)
        return flag is None or "redoes" in flag

    def notes(self) -> list[Note]:
        """The notes that are not taken back, in order of their date, then of keeping."""
        return sorted((self._notes[id] for id in self._notes if self.note_stands(id)), key=self._note_place)

    def note(self, note_id: str) -> Note | None:
        """A note, also one that was taken back."""
        return self._notes.get(note_id)

    def note_stands(self, note_id: str) -> bool:
        """Whether a note is kept and not taken back."""
        return any(map(self.stands, self._note_said_in.get(note_id, ())))

    def register(self, slot: Literal["bins", "settings", "sources"], key: str = "") -> Any:
        """The last value that stands for the bins, a setting or a source; None where none."""
        for operation in reversed(self._registers.get((slot, key), ())):
            if self.stands(operation["id"]):
                return operation[slot][key] if slot != "bins" else operation["bins"]
        return None

    def last_step(self) -> Operation | None:
        """The last operation that undo can take back."""
        return next((step for step in reversed(self._steps) if self.stands(step["id"])), None)

    def last_undone(self) -> Operation | None:
        """The operation that was undone last, where nothing else was done since."""
        since = order(self._steps[-1]) if self._steps else ("", "")
        for flag in reversed(self._flags):
            if order(flag) < since:
                return None
            aim = target(flag)
            if aim and self._flag_of[aim] is flag and "undoes" in flag:
                return self._operations.get(aim)
        return None

    def last_wall(self) -> int:
        """What the machine's clock said at the last operation, in milliseconds."""
        last = max((kind[-1] for kind in (self._steps, self._flags) if kind), key=order, default=None)
        return last["wall"] if last else 0

    def _note_place(self, note: Note) -> tuple[Any, ...]:
        first = min(map(self._operations.__getitem__, self._note_said_in[note.id]), key=order)
        return instant(note.said_on, first.get("zone", 0)), order(first), note.id

    def _take_step(self, operation: Operation) -> Iterator[str]:
        """Put an operation where it belongs; gives the entries that it touches."""
        id = operation["id"]
        if is_step(operation):
            _place(self._steps, operation)
        for line in operation.get("notes", ()):
            note = note_from_line(line)
            self._notes[note.id] = note
            self._note_said_in[note.id].append(id)
        for key in operation.get("settings", ()):
            _place(self._registers["settings", key], operation)
        for digest in operation.get("sources", ()):
            _place(self._registers["sources", digest], operation)
        if "bins" in operation:
            _place(self._registers["bins", ""], operation)
        for entry_id, event in _events(operation):
            events = self._events.get(entry_id)
            if events is None:
                self._events[entry_id] = [event]
            else:
                insort(events, event, key=itemgetter(0, 1))
            yield entry_id

    def _show(self, entry_id: str) -> None:
        versions, live = self._fold(entry_id)
        if live:
            self.entries.put(versions[-1])
        else:
            self.entries.remove(entry_id)

    def _fold(self, entry_id: str) -> tuple[list[Version], bool]:
        """The versions of an entry, and whether it is live."""
        versions: list[Version] = []
        live = False
        for event in self._events.get(entry_id, ()):
            if self._flag_of and not self.stands(event.order[1]):
                continue
            number = len(versions) + 1
            if event.does == "drop":
                live = False
            elif event.does == "amend":
                if versions:
                    versions.append(versions[-1]._replace(record=event.data, number=number, by=event.by))
            elif not live:
                note, added, live = self._notes[event.by], event.data, True
                operation = self._operations[event.order[1]]
                place = instant(note.said_on, operation.get("zone", 0)), event.order, event.place
                version = Version(entry_id, note, added.get("at"), added["record"], number, event.by, place)
                versions.append(version)
        return versions, live


@lru_cache(maxsize=1024)  # the records of one note ask one after the other
def instant(said_on: str, zone: int) -> str:
    """An ISO date or date-time in UTC, as a text that sorts; one without an offset is local time."""
    try:
        moment = datetime.fromisoformat(said_on)
        offset = moment.utcoffset() if moment.tzinfo else timedelta(minutes=zone)
        return (moment.replace(tzinfo=None) - (offset or timedelta())).isoformat(timespec="microseconds")
    except (ValueError, OverflowError):
        return said_on


def _events(operation: Operation) -> Iterator[tuple[str, Event]]:
    at = order(operation)
    by = operation.get("by", "")
    for number, added in enumerate(operation.get("added", ())):
        yield added["id"], Event(at, number, "add", added, added["note"])
    for id, record in operation.get("amended", {}).items():
        yield id, Event(at, 0, "amend", record, by)
    for id in operation.get("dropped", ()):
        yield id, Event(at, 0, "drop", None, by)


def _place(operations: list[Operation], operation: Operation) -> None:
    """Put an operation where it belongs; nearly always at the end."""
    if operations and order(operations[-1]) > order(operation):
        insort(operations, operation, key=order)
    else:
        operations.append(operation)
