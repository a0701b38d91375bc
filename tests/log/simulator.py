"""Random lives of a log on a simulated disk, held against every history that could explain what is seen.

Two logs (a screen and a command line) write to one disk, are killed, meet errors and power cuts. The rule:
what was acknowledged is there, what was refused is not, and what was neither is there whole or not at all.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from types import ModuleType
from typing import Any

from simdisk import Killed, PowerCut, Rates, SimDisk
from worlds import Change, World

from assistant.errors import LogError
from assistant.records import Bin, Note, Record

DEEDS = ["keep"] * 6 + ["undo"] * 3 + ["amend", "redo"] * 2
DEEDS += ["drop", "change", "bins", "setting", "all", "source"]


class Found(AssertionError):
    """The log broke the rule."""


@dataclass
class Deeds:
    """What a keeper may do next, at random."""

    rng: random.Random
    number: int = 0
    sources: list[str] = field(default_factory=list)
    """The digests of the files that were imported, or nearly."""

    def choose(self, log: Any, now: datetime) -> tuple[str, Any, Callable[[World], Change | None]]:
        """Something to do, and what it means in a world (None: nothing)."""
        self.number += 1
        number, rng = self.number, self.rng
        words = {entry.record.text: entry for entry in log.entries()}
        note = log.new_note(f"note {number}", now, "typed" if rng.random() < 0.8 else "a.txt")
        if rng.random() < 0.05:
            note = replace(note, text=note.text + "x" * 3_000)
        added = tuple((f"r{number}.{i}", float(i)) for i in range(rng.randrange(4)))
        some = rng.sample(sorted(words), min(len(words), rng.randrange(1, 3)))
        levels = tuple((word, number + 0.5) for word in some)
        name = rng.choice(DEEDS)
        if name in ("amend", "drop", "change") and not some:
            name = "keep"
        if name == "undo":
            return name, log.undo, lambda w: (aim := w.last_step()) and Change(undoes=aim, number=number)
        if name == "redo":
            return name, log.redo, lambda w: (aim := w.last_undone()) and Change(redoes=aim, number=number)
        call, change = self._deed(log, name, note, added, some, levels, words)
        change = replace(change, number=number)
        return name, call, lambda world: change

    def _deed(
        self,
        log: Any,
        name: str,
        note: Note,
        added: tuple[tuple[str, float], ...],
        some: list[str],
        levels: tuple[tuple[str, float], ...],
        words: dict[str, Any],
    ) -> tuple[Any, Change]:
        records = [Record("leftover", text=text, level=level) for text, level in added]
        amended = {words[w].id: replace(words[w].record, level=level) for w, level in levels}
        text, value = (note.text,), f"value {self.number}"
        if name == "amend":
            (id, record), *_ = amended.items()
            return lambda: log.amend(id, record, note=note), Change(text, levels[:1])
        if name == "drop":
            return lambda: log.drop([words[w].id for w in some]), Change(dropped=tuple(some))
        if name == "change":
            rest = [words[w].id for w in some[1:]]
            return (
                lambda: log.change(
                    amended=dict([*amended.items()][:1]), dropped=rest, added=records, note=note
                ),
                Change(text, levels[:1], added, tuple(some[1:])),
            )
        if name == "bins":
            return lambda: log.set_bins((Bin(value),)), Change(value=("bins", value))
        if name == "setting":
            key = self.rng.choice("abc")
            return lambda: log.set_setting(key, value), Change(value=(key, value))
        if name == "all":
            self.sources.append(value)
            second = replace(note, id=note.id[:-1] + "-", text=note.text + "b")
            batch = [(second, (), (), ()), (note, records, (), ())]
            batch = [_note_records(log)(*said) for said in batch]
            return (
                lambda: log.keep_all(batch, source=(value, "a.txt")),
                Change((second.text, note.text), added=added, source=value),
            )
        if name == "source":
            return lambda: log.remember_source("only", "b.txt"), Change(source="only")
        return lambda: log.keep(note, records), Change(text, added=added)


@dataclass
class Life:
    """One schedule. `log_class` is the Log under test, which may carry a planted fault."""

    log_class: Any
    seed: int
    steps: int = 25
    worlds: list[World] = field(default_factory=lambda: [World()])

    def __post_init__(self) -> None:
        self.rng = random.Random(self.seed)
        self.disk = SimDisk(self.rng)
        self.logs: list[Any] = [None, None]
        self.now = datetime(2026, 11, 25, 9)
        self.deeds = Deeds(self.rng)
        pick = self.rng.choice
        self.rates = Rates(
            cut=pick((0, 0.002, 0.008)),
            kill=pick((0, 0.001, 0.005, 0.03)),
            error=pick((0, 0.004, 0.02)),
            short=pick((0, 0.2)),
        )
        self.segment_bytes = pick((600, 2_000, 1_000_000))

    def run(self) -> None:
        for _ in range(self.steps):
            self.now += timedelta(milliseconds=self.rng.choice((0, 0, 1, 60_000, -90_000)))
            which = self.rng.randrange(2)
            if self.rng.random() < 0.03:
                self.off()
            elif self.rng.random() < 0.05:
                self.quit(which)
            else:
                self.step(which)
        self.off()
        self.look(self.opened())

    def step(self, which: int) -> None:
        """Let one of the logs do something on a disk that may fail."""
        self.disk.rates = self.rates
        try:
            if self.logs[which] is None:
                self.logs[which] = self.opened()
            self.logs[which].refresh()
        except LogError:
            return
        except (PowerCut, Killed) as end:
            self.end(which, end)
            return
        finally:
            self.disk.rates = Rates()
        log = self.logs[which]
        self.look(log)
        self.act(which, log, self.logs[1 - which])

    def act(self, which: int, log: Any, other: Any = None) -> None:
        name, call, meaning = self.deeds.choose(log, self.now)
        if other and self.rng.random() < 0.3:
            self.act(1 - which, other)  # behind the back of the first
            if self.logs[which] is None:
                return
        changes = [meaning(world) for world in self.worlds]
        self.disk.rates = self.rates
        try:
            done = call()
        except LogError:
            if log.closed:
                self.perhaps(changes)
                self.logs[which] = None
            if self.rng.random() < 0.2:  # trouble seldom comes alone
                self.off()
            return
        except (PowerCut, Killed) as end:
            self.perhaps(changes)
            self.end(which, end)
            return
        finally:
            self.disk.rates = Rates()
        if name in ("undo", "redo"):
            pairs = [
                (w, c) for w, c in zip(self.worlds, changes, strict=True) if (c is None) == (done is None)
            ]
        else:
            pairs = list(zip(self.worlds, changes, strict=True))
        if not pairs:
            raise Found(f"seed {self.seed}: {name} said {done!r}")
        self.worlds = [World((*w.every(), c)) if c else w for w, c in pairs]
        self.look(log)

    def perhaps(self, changes: list[Change | None]) -> None:
        """An operation of which it was not said whether it was kept."""
        before, self.worlds = self.worlds, []
        for world, change in zip(before, changes, strict=True):
            for seen in (True, False) if change else ():
                self.worlds.append(replace(world, open=(*world.open, (change, seen))))
            if not change:
                self.worlds.append(world)

    def end(self, which: int, end: BaseException) -> None:
        if isinstance(end, PowerCut):
            self.off()
        else:
            self.logs[which] = None

    def off(self) -> None:
        """Cut the power: of what is open, any part may be left."""
        self.disk.power_cut()
        self.logs = [None, None]
        self.worlds = list(dict.fromkeys(World(left) for world in self.worlds for left in world.left()))

    def quit(self, which: int) -> None:
        if self.logs[which]:
            self.logs[which].close()
            self.logs[which] = None

    def opened(self) -> Any:
        log = self.log_class.open(
            Path("log"), clock=lambda: self.now, disk=self.disk, segment_bytes=self.segment_bytes
        )
        log._ids._random = self.rng.randbytes  # so that a seed gives the same life again
        return log

    def look(self, log: Any) -> None:
        """Keep the histories that explain what the log says; there must be one."""
        by_id = {note.id: note.text for note in log.notes()}
        entries = {e.record.text: (e.record.level, by_id[e.note], e.version) for e in log.entries()}
        notes = sorted(by_id.values())
        values = {key: value for key in "abc" if (value := log.setting(key)) is not None}
        if bins := log.bins():
            values["bins"] = bins[0].name
        sources = {source for source in self.deeds.sources if log.has_source(source)}
        seen = entries, notes, values, sources
        self.worlds = [world for world in self.worlds if world.seen() == seen]
        if not self.worlds:
            raise Found(f"seed {self.seed}: no history explains {seen}")


def _note_records(log: Any) -> Any:
    import sys

    return sys.modules[type(log).__module__].NoteRecords


def live(package: ModuleType, seeds: range) -> dict[str, int]:
    """Run schedules one after the other; what the disks did to them. Found names the seed that failed."""
    told = dict.fromkeys(("schedules", "calls", "cuts", "kills", "errors"), 0)
    for seed in seeds:
        life = Life(package.Log, seed)
        life.run()
        told["schedules"] += 1
        for what in ("calls", "cuts", "kills", "errors"):
            told[what] += getattr(life.disk, what)
    return told
