"""One conversation: a line in, a reply out. Strings the layers together and keeps the one open doubt.

    Session(log, clock).say("fed the tower two cups of kale") -> Reply

Nothing here draws, prints or reads a terminal; the screen, the plain dialogue and the commands all use it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

from assistant import wording
from assistant.errors import BinsideError
from assistant.records import Entry, Note, Record, SetUp
from lexicon import Caution, load

if TYPE_CHECKING:
    from assistant.answers import Answer, Facts, Query
    from assistant.balance import Balances
    from assistant.log import Log
    from assistant.outlook import Due
    from assistant.reading import Reader

Sort: TypeAlias = Literal["note", "question", "both", "correction", "wish", "bins"]
LIMIT = 5_000_000
"""Characters that one line may have; a longer note is imported from a file."""

ASK_BINS = "Which bins do you have? For example: three trays stacked in the cellar, and a tub under the sink."
Marks: TypeAlias = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Reply:
    """What came of a line: the `sort` of line, the words to show, and what they rest on.

    `entries` are new or changed records; `dropped` those taken back; `doubt` one short question back, None
    where nothing is open; `cautions` are shown once each.
    """

    sort: Sort
    text: str
    note: Note | None = None
    entries: tuple[Entry, ...] = ()
    dropped: tuple[Entry, ...] = ()
    answer: Answer | None = None
    doubt: str | None = None
    cautions: tuple[Caution, ...] = ()


class Standing:
    """What a log says as of now: what answers look at, what each tier holds, what needs doing."""

    def __init__(self, log: Log, clock: Callable[[], datetime] = datetime.now) -> None:
        self.log, self.clock = log, clock
        self._facts: Facts | None = None

    def facts(self) -> Facts:
        """What the answers look at; kept while the log and the minute stay the same."""
        from assistant.answers import Facts

        entries, bins, now = (
            tuple(self.log.entries()),
            self.log.bins(),
            self.clock().replace(second=0, microsecond=0),
        )
        if self._facts is None or (self._facts.entries, self._facts.setup, self._facts.now) != (
            entries,
            bins,
            now,
        ):
            self._facts = Facts(entries, bins, now, load())
        return self._facts

    def balances(self) -> Balances:
        """What each tier holds now."""
        from assistant.balance import fold

        return fold(self.log.entries(), self.log.bins(), self.clock().date(), load())

    def due(self) -> tuple[Due, ...]:
        """What needs doing."""
        from assistant.outlook import due

        return tuple(due(self.log.entries(), self.log.bins(), self.clock().date(), load()))

    def _cautions(self, entries: Sequence[Entry], text: str) -> tuple[Caution, ...]:
        from assistant.outlook import cautions

        shown = list(self.log.setting("cautions shown") or ())
        found = tuple(cautions([e.record for e in entries], text if entries else "", load(), shown))[:1]
        if found:
            self.log.set_setting("cautions shown", [*shown, *(c.id for c in found)], quiet=True)
        return found


class Session(Standing):
    """The conversation over one log. `clock` gives the keeper's local time."""

    def __init__(self, log: Log, clock: Callable[[], datetime] = datetime.now) -> None:
        super().__init__(log, clock)
        self._last: Note | None = None
        self._mended: list[Note] = []
        self._open: tuple[str, ...] = ()
        self._query: Query | None = None

    def sharing(self, other: Session) -> Session:
        """This session with the reader of another, which need not be built again."""
        self.__dict__["reader"], self._facts = other.reader, other._facts
        return self

    @cached_property
    def reader(self) -> Reader:
        """The reading; built on first use, about a second."""
        from assistant.reading import Reader

        return Reader()

    def warm(self) -> None:
        """Build what the first line would otherwise wait for; for a thread behind the first frame."""
        self.reader.read("fed the bin", (), self.clock())

    def say(self, text: str) -> Reply:
        """Take a line: a note, a question, a correction or a wish, and do it. BinsideError says why not."""
        from assistant.answers import sort_of

        _bounded(text)
        if not self.log.bins() and (reply := self._bins_said(text)):
            return reply
        if self._open and (reply := self._settled(text)):
            return reply
        sort = (
            sort_of(text, self.reader.sketch(text, self.log.bins(), self.clock()))
            if len(text) < 1_000
            else "note"
        )
        if sort == "wish":
            return self._wish(text)
        if sort == "question":
            return self.ask(text)
        if sort == "correction" and self._last is not None:
            return self._correct(text)
        reply = self.note(text)
        if sort == "both":
            asked = self.ask(text)
            return replace(reply, sort="both", text=f"{reply.text}\n{asked.text}", answer=asked.answer)
        return reply

    # notes

    def note(self, text: str, source: str = "typed", marks: Marks = (), said_on: str | None = None) -> Reply:
        """Read a note and keep it with its records; acknowledged on return. `said_on` is ISO."""
        _bounded(text)
        said = datetime.fromisoformat(said_on) if said_on else self.clock()
        records = self.reader.read(text, self.log.bins(), said).records
        note = self.log.new_note(text, said.isoformat(timespec="seconds"), source, self._version, marks)
        entries = self.log.keep(note, records, at=places_in_recording(records, marks))
        self._last, self._mended = note, []
        return self._receipt("note", note, entries)

    @property
    def _version(self) -> str:
        from assistant.reading.reader import VERSION

        return VERSION

    def _receipt(
        self, sort: Sort, note: Note, entries: Sequence[Entry], dropped: Sequence[Entry] = ()
    ) -> Reply:
        lines = [wording.line(entry) for entry in entries] + [
            f"taken back: {wording.line(entry)}" for entry in dropped
        ]
        if not lines:
            lines = [
                "Kept as you said it; nothing in it to record." if sort == "note" else "Nothing changed."
            ]
        cautions = self._cautions(entries, note.text)
        return Reply(
            sort, "\n".join(lines), note, tuple(entries), tuple(dropped), None, self._doubt(entries), cautions
        )

    def _doubt(self, entries: Sequence[Entry]) -> str | None:
        """One short question where the note cannot be placed without an answer."""
        bins = self.log.bins()
        lost = [e for e in entries if e.record.bin is None and "which bin is not said" in e.record.unsure]
        self._open = tuple(e.id for e in lost)
        if not bins and entries:
            return ASK_BINS
        if not lost:
            return None
        return f"Which bin was that: {', '.join(b.name for b in bins[:-1])} or {bins[-1].name}?"

    def _settled(self, text: str) -> Reply | None:
        """The answer to the open doubt, where the line is nothing but a place."""
        if len(text.split()) > 8:
            return None
        sketch = self.reader.sketch(text, self.log.bins(), self.clock())
        places = [p for p in sketch.places if p.bin]
        if not places or sketch.amounts or sketch.layers.get("thing"):
            return None
        bin_, tier = sketch.walk.targets(places[0])[0]
        amended = {}
        for id_ in self._open:
            record = self.log.entry(id_).record
            rest = tuple(w for w in record.unsure if w != "which bin is not said")
            amended[id_] = replace(
                record, bin=bin_, tier=tier if record.tier is None else record.tier, unsure=rest
            )
        note = self.log.new_note(text, self.clock().isoformat(timespec="seconds"), "typed", self._version)
        entries = self.log.change(amended=amended, dropped=(), added=(), note=note)
        self._open = ()
        return self._receipt("correction", note, entries)

    # corrections

    def _correct(self, text: str) -> Reply:
        """Read the last note again with the correction behind it; what then reads otherwise is amended."""
        assert self._last is not None
        before = self._last
        said = datetime.fromisoformat(before.said_on)
        earlier = [n.text for n in self._mended]
        new = list(
            self.reader.corrected(before.text, "\n".join([*earlier, text]), self.log.bins(), said).records
        )
        amended, dropped, added = changes(self.log.entries_of(before.id), new)
        note = self.log.new_note(
            text, self.clock().isoformat(timespec="seconds"), "correction", self._version
        )
        gone = [self.log.entry(id_) for id_ in dropped]
        if not (amended or dropped or added):
            return Reply(
                "correction",
                "I could not tell what to change: say it with the food, the tray or the bin.",
                before,
            )
        entries = self.log.change(amended=amended, dropped=dropped, added=added, note=note)
        self._mended.append(note)
        return self._receipt("correction", note, entries, gone)

    def undo(self) -> Reply:
        """Take back the last thing kept."""
        said = self.log.undo()
        if said is None:
            raise BinsideError("nothing to undo")
        self._last, self._mended, self._open = None, [], ()
        return Reply("wish", said)

    def drop(self, entry: Entry) -> Reply:
        """Take one record back."""
        self.log.drop([entry.id])
        return Reply("correction", f"taken back: {wording.line(entry)}", dropped=(entry,))

    def amend(self, entry: Entry, record: Record) -> Reply:
        """Put another version in a record's place; the old one stays in the log."""
        new = self.log.amend(entry.id, record)
        return Reply("correction", wording.line(new), entries=(new,))

    # questions, wishes, bins

    def ask(self, question: str) -> Reply:
        """Answer a question from the log."""
        from assistant.answers import ask

        answer = ask(question, self.facts(), self.reader, self._query)
        self._query = answer.query
        return Reply("question", answer.text, answer=answer, cautions=self._cautions((), question))

    def _wish(self, text: str) -> Reply:
        words = text.lower().split()
        if "undo" in words or "back" in words:
            return self.undo()
        if "redo" in words:
            return Reply("wish", self.log.redo() or "nothing to put back")
        from assistant.balance import table

        return Reply("wish", table(self.balances(), 76))

    def _bins_said(self, text: str) -> Reply | None:
        """A set-up told in words, on a first start."""
        from assistant.reading.bins import bins_in

        found = bins_in(text)
        if not found:
            return None
        return self.set_bins(found)

    def set_bins(self, bins: SetUp) -> Reply:
        """Keep a set-up and say it back; SetupError where a bin's name cannot be one."""
        from assistant.reading.bins import check_names

        check_names(bins)
        self.log.set_bins(bins)
        return Reply("bins", "Your bins: " + "; ".join(wording.bin_line(b) for b in bins) + ".")


def _bounded(text: str) -> None:
    if not text.strip(" \t\r\n\x00\u200b"):
        raise BinsideError("nothing to record: the note is empty")
    if len(text) > LIMIT:
        raise BinsideError(
            f"{len(text):,} characters are too many for one note: "
            "save it as a .txt file and use 'binside import'"
        )


def places_in_recording(records: Sequence[Record], marks: Marks) -> list[float | None]:
    """The second of the recording at which each record was said; None for a note without times."""
    if not marks:
        return [None] * len(records)
    starts = [start for start, _ in marks]
    return [marks[max(0, bisect_right(starts, r.start) - 1)][1] for r in records]


def changes(old: Sequence[Entry], new: Sequence[Record]) -> tuple[dict[str, Record], list[str], list[Record]]:
    """What turns the entries of a note into its new reading: amended by id, dropped ids, added records.

    Records are paired by kind and by where they stand in the note; those that read the same are left alone.
    """
    left = list(new)
    amended: dict[str, Record] = {}
    dropped: list[str] = []
    for entry in old:
        same = [r for r in left if r.kind == entry.record.kind and abs(r.start - entry.record.start) <= 2]
        if not same:
            same = [r for r in left if r.kind == entry.record.kind and r.item == entry.record.item]
        if not same:
            dropped.append(entry.id)
            continue
        left.remove(same[0])
        if _says(same[0]) != _says(entry.record):
            amended[entry.id] = same[0]
    return amended, dropped, left


def _says(record: Record) -> Record:
    return replace(record, text="", start=0, end=0, unsure=())
