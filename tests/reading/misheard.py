"""Clean notes as a speech recogniser may have heard them, to measure what mending brings back.

Two ways, drawn alike on every run: the confusions of the lexicon's mishearings, cut down to the words that
differ and put wherever the meant word stands; and slips of sound that no list holds, a real word where one
comes out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache
from random import Random
from typing import Any

from lexicon import load
from tests.reading.notesets import read
from tests.reading.scoring import Score, score_note

Json = Mapping[str, Any]
Heard = Callable[[str, Random], str | None]

_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_SEEN = frozenset("SHM")
"""Tags of the confusions that were met in real texts; P marks those made up by sound."""
_SHARE = 0.1
"""How many of the words that can be misheard are: a recogniser gets about one word in ten or twenty wrong."""

_SOUNDS = tuple(
    pair
    for a, b in (
        *(("p", "b"), ("t", "d"), ("k", "g"), ("c", "g"), ("f", "v"), ("s", "z"), ("m", "n"), ("ch", "sh")),
        *(
            ("ee", "ea"),
            ("ea", "e"),
            ("i", "e"),
            ("a", "e"),
            ("o", "u"),
            ("oo", "u"),
            ("ai", "a"),
            ("ou", "o"),
        ),
        *(
            ("ph", "f"),
            ("ck", "k"),
            ("ll", "l"),
            ("tt", "t"),
            ("nn", "n"),
            ("th", "f"),
            ("l", "r"),
            ("le", "el"),
        ),
    )
    for pair in ((a, b), (b, a))
)
"""Spelled sounds that are taken for one another."""


def told(clean: Score) -> Iterator[str]:
    """Whole F1 of scored notes misheard in every way, beside that of the clean ones."""
    notes = [scored.note for scored in clean.notes]
    of = sum(len(_WORD.findall(note["text"])) for note in notes)
    for way, heard in ((way, make(notes)) for way, make in WAYS.items()):
        changes = [changed(note, heard) for note in notes]
        wrong = sum(count for _, count in changes)
        pairs = zip(notes, changes, strict=True)
        whole = Score([score_note(note, read(note, text)) for note, (text, _) in pairs]).whole.f1
        lost = f"whole F1 {clean.whole.f1:.3f} -> {whole:.3f} ({whole - clean.whole.f1:+.3f})"
        yield f"misheard {way}: {wrong} of {of} words, {lost}"


def changed(note: Json, heard: Heard) -> tuple[str, int]:
    """The note's text with some of its words taken for others, and how many; the set-up's names are left."""
    draw = Random(note["id"])
    count = 0
    named = {w for bin_ in note.get("setup") or () for w in _words(repr(bin_))}

    def put(word: re.Match[str]) -> str:
        nonlocal count
        said = word.group().lower()
        other = heard(said, draw) if said not in named else None
        if other is None or draw.random() >= _SHARE:
            return word.group()
        count += 1
        return other

    return _WORD.sub(put, note["text"]), count


def listed(tags: Iterable[str]) -> Heard:
    """Words by the lexicon's confusions that bear one of `tags`."""
    pairs: dict[str, list[str]] = {}
    trade = _trade()
    for row in load().table("mishearings"):
        if row["tag"] in tags:
            for meant, heard in _differing(_words(row["meant"]), _words(row["heard"])):
                if meant in trade:
                    pairs.setdefault(meant, []).append(heard)
    return lambda word, draw: draw.choice(pairs[word]) if word in pairs else None


def either(one: Heard, other: Heard) -> Heard:
    """Words that are misheard in either of two ways."""
    return lambda word, draw: one(word, draw) or other(word, draw)


def _differing(meant: Sequence[str], heard: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The one word of a confusion that was taken for others, without those that were heard right."""
    while meant and heard and meant[0] == heard[0]:
        meant, heard = meant[1:], heard[1:]
    while meant and heard and meant[-1] == heard[-1]:
        meant, heard = meant[:-1], heard[:-1]
    if len(meant) == 1 and heard:
        yield meant[0], " ".join(heard)


def by_sound(notes: Iterable[Json]) -> Heard:
    """Words of the trade with one sound taken for another; `notes` lend words that a recogniser knows."""
    known = {w for note in notes for w in _words(note["text"])}
    known |= {w for row in load().table("plain") for w in row["form"].split(";")}
    trade = _trade()

    @cache
    def slips(word: str) -> tuple[str, ...]:
        if len(word) < 4 or word not in trade:
            return ()
        all_ = tuple(sorted(set(_slips(word))))
        return tuple(s for s in all_ if s in known) or all_

    return lambda word, draw: draw.choice(slips(word)) if slips(word) else None


def _trade() -> frozenset[str]:
    """The words, small ones apart, that name what goes into, lives in or comes out of a bin, and measures."""
    lexicon = load()
    names = [f for things in lexicon.things.values() for thing in things.values() for f in thing.forms]
    tables = (("measures", "forms"), ("tiernouns", "form"), ("moisture", "form"), ("smells", "form"))
    told = [f for table, column in tables for row in lexicon.table(table) for f in row[column].split(";")]
    names += [f for f in told if " " not in f]
    small = {w for row in lexicon.table("function") for w in row["form"].split(";")}
    return frozenset(w for name in names for w in _words(name) if len(w) > 2) - small


def _slips(word: str) -> Iterator[str]:
    for sound, other in _SOUNDS:
        for at in re.finditer(sound, word):
            yield word[: at.start()] + other + word[at.end() :]


def _words(text: str) -> list[str]:
    return [m.group().lower() for m in _WORD.finditer(text)]


WAYS: dict[str, Callable[[Sequence[Json]], Heard]] = {
    "seen": lambda notes: listed(_SEEN),
    "listed": lambda notes: listed(_SEEN | {"P"}),
    "by sound": by_sound,
    "all": lambda notes: either(listed(_SEEN | {"P"}), by_sound(notes)),
}
"""The ways to mishear a set of notes, by name."""
