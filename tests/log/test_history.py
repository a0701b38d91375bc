"""Amend, drop, undo and redo against a model that keeps whole states; operations that arrive in any order."""

from __future__ import annotations

import random
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from filled import NOW, a_record, clock, fill, segment, state
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from simdisk import SimDisk

from assistant.log import Log
from assistant.log.history import History
from assistant.records import Record


class Undoing(RuleBasedStateMachine):
    """The model: a stack of states, each as {words: level}, and those taken off it."""

    @initialize()
    def begin(self) -> None:
        self.disk = SimDisk(random.Random(0))
        self.log = self.open()
        self.done: list[tuple[dict[str, float], str | None]] = [({}, None)]
        self.undone: list[tuple[dict[str, float], str | None]] = []
        self.number = 0

    def open(self) -> Log:
        return Log.open(Path("log"), clock=clock, disk=self.disk, segment_bytes=3_000)

    def step(self, entries: dict[str, float], setting: str | None = None) -> None:
        self.done.append((entries, setting or self.done[-1][1]))
        self.undone = []

    def ids(self) -> dict[str, str]:
        return {entry.record.text: entry.id for entry in self.log.entries()}

    @rule(count=st.integers(0, 3))
    def keep(self, count: int) -> None:
        self.number += 1
        words = [f"{self.number}.{place}" for place in range(count)]
        self.log.keep(self.log.new_note("", NOW), [a_record(word, level=0.0) for word in words])
        self.step(self.done[-1][0] | dict.fromkeys(words, 0.0))

    @precondition(lambda self: self.done[-1][0])
    @rule(data=st.data(), add=st.booleans())
    def change(self, data: st.DataObject, add: bool) -> None:
        self.number += 1
        chosen = data.draw(
            st.lists(st.sampled_from(sorted(self.done[-1][0])), min_size=1, max_size=3, unique=True)
        )
        amended, dropped = chosen[:1], chosen[1:]
        added = [f"{self.number}.0"] * add
        ids = self.ids()
        self.log.change(
            amended={ids[word]: a_record(word, level=float(self.number)) for word in amended},
            dropped=[ids[word] for word in dropped],
            added=[a_record(word, level=0.0) for word in added],
            note=self.log.new_note("", NOW),
        )
        entries = {word: level for word, level in self.done[-1][0].items() if word not in dropped}
        self.step(entries | dict.fromkeys(amended, float(self.number)) | dict.fromkeys(added, 0.0))

    @precondition(lambda self: self.done[-1][0])
    @rule(data=st.data(), drop=st.booleans())
    def amend_or_drop(self, data: st.DataObject, drop: bool) -> None:
        self.number += 1
        word = data.draw(st.sampled_from(sorted(self.done[-1][0])))
        entries = dict(self.done[-1][0])
        if drop:
            self.log.drop([self.ids()[word]])
            del entries[word]
        else:
            self.log.amend(self.ids()[word], a_record(word, level=float(self.number)))
            entries[word] = float(self.number)
        self.step(entries)

    @rule()
    def setting(self) -> None:
        self.number += 1
        self.log.set_setting("a", str(self.number))
        self.step(self.done[-1][0], str(self.number))

    @rule(times=st.integers(1, 4))
    def undo(self, times: int) -> None:
        for _ in range(times):
            assert (self.log.undo() is None) == (len(self.done) == 1)
            if len(self.done) > 1:
                self.undone.append(self.done.pop())

    @rule(times=st.integers(1, 4))
    def redo(self, times: int) -> None:
        for _ in range(times):
            assert (self.log.redo() is None) == (not self.undone)
            if self.undone:
                self.done.append(self.undone.pop())

    @rule()
    def reopen(self) -> None:
        before = state(self.log)
        self.log.close()
        self.log = self.open()
        assert state(self.log) == before

    @invariant()
    def they_agree(self) -> None:
        entries = {entry.record.text: entry.record.level for entry in self.log.entries()}
        assert (entries, self.log.setting("a")) == self.done[-1]
        assert {
            entry.record.text for entry in self.log.entries(kind="feed", bin="cellar stack")
        } == entries.keys()
        for entry in self.log.entries():
            versions = self.log.versions(entry.id)
            assert versions[-1][0] == entry and [one.version for one, _ in versions] == [
                *range(1, len(versions) + 1)
            ]


TestUndoing = Undoing.TestCase
TestUndoing.settings = settings(max_examples=60, stateful_step_count=30, deadline=None)


def operations(seed: int) -> list[Any]:
    """The operations of a random life of one log."""
    rng = random.Random(seed)
    disk = SimDisk(rng)
    log = Log.open(Path("log"), clock=clock, disk=disk)
    for number in range(25):
        ids = [entry.id for entry in log.entries()]
        does = rng.choice(
            ["keep", "keep", "amend", "drop", "undo", "undo", "redo", "setting", "bins", "source"]
        )
        if does == "keep" or (does in ("amend", "drop") and not ids):
            log.keep(log.new_note(str(number), NOW), [a_record(f"{number}.{place}") for place in range(3)])
        elif does == "amend":
            log.amend(rng.choice(ids), a_record(str(number)), note=log.new_note("so", NOW))
        elif does == "drop":
            log.drop([rng.choice(ids)])
        elif does == "setting":
            log.set_setting("a", number)
        elif does == "bins":
            log.set_bins(())
        elif does == "source":
            log.remember_source(str(number), "x")
        else:
            getattr(log, does)()
    history = log._history
    return list(history._operations.values())


def told(history: History) -> Any:
    ids = list(history._events)
    return (
        {id: history.versions(id) for id in ids},
        dict(history.entries.live),
        history.notes(),
        history.register("settings", "a"),
        history.register("bins"),
        [history.register("sources", str(number)) for number in range(25)],
        history.last_step(),
        history.last_undone(),
        {
            field: history.entries.index.having(field, ["feed", "kale", "cellar stack"])
            for field in ("bin", "kind")
        },
        history.entries.index.between("2026-11-25", "2026-11-25"),
    )


@pytest.mark.parametrize("seed", range(40))
def test_operations_in_any_order_come_to_the_same(seed: int) -> None:
    rng = random.Random(seed)
    given = operations(seed)
    one = History()
    one.take(given)
    for _ in range(4):
        rng.shuffle(given)
        other = History()
        rest = list(given)
        while rest:
            size = rng.randrange(1, 6)
            other.take(rest[:size])
            rest = rest[size:]
        assert told(other) == told(one)


def test_an_entry_that_two_machines_brought_in_is_one_entry() -> None:
    def adds(id: str, at: str, words: str) -> Any:
        note = {"id": "n", "said_on": "2026-11-25", "text": "fed"}
        added = {"id": "e", "note": "n", "record": {"kind": "feed", "text": words}}
        return {"id": id, "at": at, "wall": 0, "notes": [note], "added": [added]}

    first, second = adds("1", "a", "here"), adds("2", "b", "there")
    amends = {"id": "3", "at": "c", "wall": 0, "amended": {"e": {"kind": "bed"}}}
    back = {"id": "4", "at": "d", "wall": 0, "undoes": "1"}
    for order in permutations([first, second, amends, back]):
        history = History()
        for operation in order:
            history.take([operation])
        assert [version.record for version in history.versions("e")] == [
            second["added"][0]["record"],
            {"kind": "bed"},
        ]
        assert len(history.notes()) == 1 and len(history.entries.live) == 1
    history.take([{"id": "5", "at": "e", "wall": 0, "undoes": "2"}])
    assert history.versions("e") == [] == history.notes()


@pytest.fixture
def device(monkeypatch: pytest.MonkeyPatch) -> Any:
    return lambda name: monkeypatch.setattr("assistant.log.log.device_name", lambda: name)


def test_two_machines_meet_in_one_folder(tmp_path: Path, device: Any) -> None:
    shared, away = tmp_path / "shared", tmp_path / "away"
    device("aaaaaaaa")
    kept = fill(shared, 2)
    away.mkdir()
    (away / segment(shared).name).write_bytes(segment(shared).read_bytes())
    device("bbbbbbbb")
    wrong = clock().replace(year=2019)  # a machine whose clock is years behind
    with Log.open(away, clock=lambda: wrong) as log:
        first, second = kept["note 0: two cups"]
        log.amend(first.id, a_record("0 a, amended away"))
        log.drop([second.id])
        log.keep(log.new_note("away", wrong), [a_record("away")])
        there = state(log)
    device("aaaaaaaa")
    with Log.open(shared, clock=clock) as log:
        log.keep(log.new_note("at home", NOW), [a_record("at home")])
        theirs = next(away.glob("bbbbbbbb-*.jsonl"))
        (shared / theirs.name).write_bytes(theirs.read_bytes())
        assert [entry.record.text for entry in log.entries()] == [
            "away", "0 a, amended away", "1 a", "1 b", "at home",
        ]  # fmt: skip
        at_home = state(log)
        assert "the clock says" not in " ".join(log.warnings)
    ours = next(shared.glob("aaaaaaaa-*.jsonl"))
    (away / ours.name).write_bytes(ours.read_bytes())
    device("bbbbbbbb")
    with Log.open(away, clock=lambda: wrong) as log:
        assert state(log) == at_home != there


@given(st.lists(st.sampled_from(["here", "there", "undo here", "undo there", "send", "fetch"]), max_size=20))
@settings(max_examples=40, deadline=None)
def test_machines_that_exchange_files_now_and_then_end_alike(
    tmp_path_factory: pytest.TempPathFactory, steps: list[str]
) -> None:
    folders = {"here": tmp_path_factory.mktemp("here"), "there": tmp_path_factory.mktemp("there")}
    names = {"here": "aaaaaaaa", "there": "bbbbbbbb"}
    with pytest.MonkeyPatch.context() as patch:
        logs = {}
        for place, folder in folders.items():
            patch.setattr("assistant.log.log.device_name", lambda place=place: names[place])
            logs[place] = Log.open(folder, clock=clock)

        def copy(source: str, aim: str) -> None:
            for path in folders[source].glob(f"{names[source]}-*.jsonl"):
                (folders[aim] / path.name).write_bytes(path.read_bytes())

        for number, step in enumerate(steps):
            if step == "send":
                copy("here", "there")
            elif step == "fetch":
                copy("there", "here")
            elif step.startswith("undo"):
                logs[step.removeprefix("undo ")].undo()
            else:
                logs[step].keep(logs[step].new_note(str(number), NOW), [Record("remark", text=str(number))])
        copy("here", "there")
        copy("there", "here")
        ends = []
        for place, folder in folders.items():
            patch.setattr("assistant.log.log.device_name", lambda place=place: names[place])
            ends += [state(logs[place]), state(Log.open(folder, clock=clock))]
    assert all(end == ends[0] for end in ends)
