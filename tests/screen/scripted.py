"""A session whose reading is a few lines of rules, over a real log, real balances and real dues.

A note is cut at commas; each part that begins with a verb of KINDS is a record. The rest is in `say`.
"""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from assistant.errors import BinsideError
from assistant.log import Log
from assistant.records import Amount, Bin, Record, SetUp
from assistant.session import ASK_BINS, Reply, Session
from lexicon import Caution

NOW = datetime(2026, 6, 14, 18, 30)
BINS = (Bin("cellar stack", 3, ("the stack",)), Bin("tub"))
PART = re.compile(
    r"(?P<verb>fed|wet|planned) ?(?P<count>\d+)? ?(?P<unit>handfuls?|cups?)? ?(?:of )?(?P<item>[a-z ]*?)"
    r"(?: in tier (?P<tier>\d))?(?P<guess> maybe)?$"
)
KINDS = {"fed": "feed", "wet": "moisture", "planned": "feed"}


class Scripted(Session):
    """See the module. `gate` holds the thread in `say` while it is cleared; `failing` is raised by `say`."""

    def __init__(self, folder: Path, clock: Callable[[], datetime] = lambda: NOW) -> None:
        super().__init__(Log.open(folder, clock=clock), clock)
        self.gate = threading.Event()
        self.gate.set()
        self.failing: Exception | None = None
        self.heard: list[str] = []
        self.threads: set[int] = set()
        self.inside = 0
        self.most_inside = 0

    def warm(self) -> None:
        """Nothing to warm."""

    def say(self, text: str) -> Reply:
        """Keep a note; "why" is a question, "caution" cautions, "where" leaves a doubt."""
        self.inside += 1
        self.most_inside = max(self.inside, self.most_inside)
        try:
            self.gate.wait(20)
            return self._say(text)
        finally:
            self.inside -= 1

    def _say(self, text: str) -> Reply:
        self.heard.append(text)
        if self.failing:
            raise self.failing
        if not text.strip():
            raise BinsideError("nothing to record: the note is empty")
        if text.startswith("why"):
            return Reply("question", f"Because [b]you[/b] asked: {text}")
        note = self.log.new_note(text, self.clock(), reader="scripted")
        entries = tuple(self.log.keep(note, records(text)))
        doubt = ASK_BINS if not self.log.bins() else "Which bin was that?" if "where" in text else None
        cautions = (Caution("c", "wear a mask with dry lime", "X", (), (), ()),) if "caution" in text else ()
        return Reply(
            "note", "kept" if not entries else "ignored", note, entries, doubt=doubt, cautions=cautions
        )


def records(text: str) -> list[Record]:
    """The records of a note, by the rules of the module."""
    found, start = [], 0
    for part in text.split(", "):
        if match := PART.match(part):
            found.append(_record(match, start))
        start += len(part) + 2
    return found


def _record(match: re.Match[str], start: int) -> Record:
    kind = KINDS[match["verb"]]
    return Record(
        kind,
        "planned" if match["verb"] == "planned" else "done",
        "cellar stack",
        int(match["tier"]) if match["tier"] else None,
        item=match["item"] or None if kind == "feed" else None,
        amount=Amount.exactly(float(match["count"]), (match["unit"] or "piece").rstrip("s"))
        if match["count"]
        else None,
        level=4.0 if kind == "moisture" else None,
        when=None if match["verb"] == "planned" else NOW.date().isoformat(),
        text=match[0],
        start=start,
        end=start + len(match[0]),
        unsure=("the item",) if match["guess"] else (),
    )


@contextmanager
def opened(folder: Path, bins: SetUp = BINS) -> Iterator[Scripted]:
    """A scripted session over the log in `folder`, with bins where it has none yet."""
    session = Scripted(folder)
    if bins and not session.log.bins():
        session.log.set_bins(bins)
    yield session
    session.log.close()


@contextmanager
def stuck(folder: Path) -> Iterator[Scripted]:
    """A session that takes a very long time to read a note."""
    with opened(folder) as session:
        session.gate.clear()
        yield session
