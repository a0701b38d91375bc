"""The names by which a set-up's bins and tiers may be called in a note."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from assistant.reading.numbers import cardinal
from assistant.records import Bin, SetUp

Split = Callable[[str], list[str]]


@dataclass(frozen=True, slots=True)
class Alias:
    """A name as words, the bin and the tier it stands for.

    `strength`: "full" holds anywhere; "head" wants an article before it; "loose" wants to stand as a subject
    or with a word for a bin after it; "letter" wants a capital in the raw text.
    """

    words: tuple[str, ...]
    bin: str
    tier: int | None = None
    strength: str = "full"


def aliases(setup: SetUp, split: Split, nouns: frozenset[str]) -> dict[str, list[Alias]]:
    """Every alias of a set-up by its first word, the longest first. `nouns` are the words for a bin."""
    found: dict[tuple[str, ...], Alias] = {}
    many = len(setup) > 1
    for alias in [
        *_given(setup, split, nouns),
        *(_derived(setup, split, nouns) if many else _lone(setup, split, nouns)),
    ]:
        if alias.words and alias.words not in found:
            found[alias.words] = alias
    table: dict[str, list[Alias]] = {}
    for alias in found.values():
        table.setdefault(alias.words[0], []).append(alias)
    for group in table.values():
        group.sort(key=lambda a: -len(a.words))
    return table


def _given(setup: SetUp, split: Split, nouns: frozenset[str]) -> Iterator[Alias]:
    for bin_ in setup:
        for name in (bin_.name, *bin_.also):
            if len(name) == 1 and name.isalpha():  # "bin A"; "a" alone is an article
                yield Alias((name.lower(),), bin_.name, None, "letter")
                yield from (Alias((noun, name.lower()), bin_.name) for noun in nouns if " " not in noun)
                continue
            for words in _spellings(split(name)):
                yield Alias(words, bin_.name, None, "loose" if _is_number(words) else "full")
        for tier, names in bin_.tier_names:
            for name in names:
                yield from (Alias(words, bin_.name, tier) for words in _spellings(split(name)))


def _is_number(words: tuple[str, ...]) -> bool:
    return len(words) == 1 and cardinal(words[0]) is not None


def _spellings(words: list[str]) -> Iterator[tuple[str, ...]]:
    """A name without its article, and with its number in figures or in words."""
    while words and words[0] in ("the", "my", "our"):
        words = words[1:]
    if not words:
        return
    yield tuple(words)
    for i, word in enumerate(words):
        value = cardinal(word)
        if value is None:
            continue
        for other in _NUMBERS.get(value, ()):
            if other != word:
                yield (*words[:i], other, *words[i + 1 :])


_NUMBERS = {
    n: (str(n), w)
    for n, w in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve".split(),
    )
}


def _lone(setup: SetUp, split: Split, nouns: frozenset[str]) -> Iterator[Alias]:
    """With one bin every word for a bin with an article means it: "the tower"."""
    for bin_ in setup:
        words = split(bin_.name)
        if len(words) > 1:
            yield Alias(tuple(words[-1:]), bin_.name, None, "head")


def _derived(setup: SetUp, split: Split, nouns: frozenset[str]) -> Iterator[Alias]:
    """Shorter names that single one bin out: last word, first words, the letter or number it ends in."""
    split_names = [(bin_, split(bin_.name)) for bin_ in setup]
    heads = Counter(words[-1] for _, words in split_names)
    stems = Counter(tuple(words[:-1]) for _, words in split_names if len(words) > 1)
    fronts = Counter(words[0] for _, words in split_names)
    for bin_, words in split_names:
        if len(words) == 1:
            yield from _one_word(bin_, words[0])
            continue
        if heads[words[-1]] == 1 and len(words[-1]) > 1 and not _is_number(tuple(words[-1:])):
            yield Alias(tuple(words[-1:]), bin_.name, None, "head")
        if words[-1] in nouns:
            yield Alias(tuple(words[:-1]), bin_.name, None, "loose")
        if fronts[words[0]] == 1 and words[0] not in nouns:
            yield Alias(tuple(words[:1]), bin_.name, None, "loose")
        if stems[tuple(words[:-1])] > 1:
            last = words[-1]
            yield from (
                Alias(tail, bin_.name, None, "letter" if len(last) == 1 and last.isalpha() else "loose")
                for tail in _spellings([last])
            )
            if last.isdecimal() and words[0][0] != "t":  # "R1" for "row 1"; "T1" is a tier
                yield Alias((words[0][0] + last,), bin_.name)
            yield from (Alias(("number", *tail), bin_.name) for tail in _spellings([last]))
            yield from (Alias(("#", *tail), bin_.name) for tail in _spellings([last]))


def _one_word(bin_: Bin, word: str) -> Iterator[Alias]:
    """ "the euro tub" for a bin called "euros"."""
    if word.endswith("s") and len(word) > 3:
        yield Alias((word[:-1],), bin_.name, None, "loose")


def plural_stems(setup: SetUp, split: Split) -> dict[str, tuple[str, ...]]:
    """The plural word that names several bins at once ("totes") -> their names, in set-up order."""
    groups: dict[str, list[str]] = {}
    for bin_ in setup:
        for word in _stem(split(bin_.name)):
            groups.setdefault(
                word + ("" if word.endswith("s") else "es" if word.endswith("x") else "s"), []
            ).append(bin_.name)
    return {word: tuple(names) for word, names in groups.items() if len(names) > 1}


def _stem(words: list[str]) -> Iterable[str]:
    return {words[-1], words[-2]} - {"the", "my", "our", "a"} if len(words) > 1 else ()
