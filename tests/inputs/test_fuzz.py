"""Random and mutated notes through reading and storing: nothing fails, nothing breaks a record's promises.

Made from our own example notes: cut, spliced, garbled, strewn with odd characters, from seeds that stay.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from assistant.log import Log
from tests.log.simdisk import SimDisk
from tests.reading import notesets
from tests.reading.test_properties import NOW, ODD, SETUP, WORDS, check

NOTES = [n["text"] for path in sorted(notesets.OURS.glob("*.jsonl")) for n in notesets.lines_of(path)]
A_LOG = 500
"""Notes kept in one log before it is opened again and counted."""

Change = Callable[[random.Random, str], str]


def cut(dice: random.Random, text: str) -> str:
    """A piece of it, from any character to any other."""
    a, b = sorted(dice.randrange(len(text) + 1) for _ in range(2))
    return text[a:b]


def spliced(dice: random.Random, text: str) -> str:
    """The beginning of one and the end of another."""
    other = dice.choice(NOTES)
    return text[: dice.randrange(len(text) + 1)] + other[dice.randrange(len(other) + 1) :]


def shuffled(dice: random.Random, text: str) -> str:
    """A few words changed for others, doubled, lost or moved."""
    words = text.split()
    for _ in range(dice.randrange(1, 8)):
        if not words:
            break
        k = dice.randrange(len(words))
        put = ([], [words[k]] * 2, [dice.choice(WORDS)], [dice.choice(ODD)], [dice.choice(words)])
        words[k : k + 1] = dice.choice(put)
    return " ".join(words)


def garbled(dice: random.Random, text: str) -> str:
    """Some characters changed for any others that Unicode has."""
    chars = list(text)
    for _ in range(dice.randrange(1, 10)):
        odd = chr(dice.choice((dice.randrange(0x80), dice.randrange(0x3000), dice.randrange(0x110000))))
        if chars and not 0xD800 <= ord(odd) < 0xE000:  # half a character cannot come in: input is decoded
            chars[dice.randrange(len(chars))] = odd
    return "".join(chars)


def plain(dice: random.Random, text: str) -> str:
    """No capitals and no marks, as dictation gives it."""
    return "".join(c for c in text.lower() if c.isalnum() or c in " '")


def noise(dice: random.Random, text: str) -> str:
    """Words and odd things in no order at all."""
    return " ".join(dice.choice(WORDS if dice.random() < 0.7 else ODD) for _ in range(dice.randrange(60)))


CHANGES: tuple[Change, ...] = (cut, spliced, shuffled, garbled, plain, noise)


def mutant(seed: int) -> str:
    """The note of a seed: one of ours after one to three changes."""
    dice = random.Random(seed)
    text = dice.choice(NOTES)
    for _ in range(dice.randrange(1, 4)):
        text = dice.choice(CHANGES)(dice, text)
    return text


def lives(seeds: range) -> None:
    """Read each note and keep it; then open the log anew: all is there as it was read."""
    disk, folder = SimDisk(random.Random(seeds.start)), Path("/log")
    kept: dict[str, int] = {}
    with Log.open(folder, disk=disk) as log:
        for seed in seeds:
            text, now = mutant(seed), NOW + timedelta(minutes=seed % 100_000)
            records = notesets.reader().read(text, SETUP, now).records
            try:
                check(text, records)
                note = log.new_note(text, now)
                log.keep(note, records)
            except Exception as error:
                error.add_note(f"seed {seed}: {text!r}")
                raise
            kept[note.id] = len(records)
    with Log.open(folder, disk=disk) as log:
        assert {note.id: len(log.entries_of(note.id)) for note in log.notes()} == kept
        for seed, note in zip(seeds, log.notes(), strict=True):
            assert (note.text, datetime.fromisoformat(note.said_on)) == (
                mutant(seed),
                NOW + timedelta(minutes=seed % 100_000),
            )


@pytest.mark.parametrize("first", range(0, 3_000, A_LOG))
def test_three_thousand_mutants_are_read_and_kept(first: int) -> None:
    lives(range(first, first + A_LOG))


@pytest.mark.long
def test_a_hundred_thousand_mutants_are_read_and_kept() -> None:
    for first in range(0, 100_000, A_LOG):
        lives(range(first, first + A_LOG))
