"""Ranks of tiers ("top", "second", "bottom"), the positions they mean, and the bins of a spread place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

TOP, BOTTOM, MIDDLE = 1, 1000, 500
"""Ranks; the position of the last two needs the number of tiers, which the bin that holds then gives."""

_NAMED = {"top": TOP, "bottom": BOTTOM, "middle": MIDDLE}


def ranks_of(said: Sequence[int | str]) -> tuple[int, ...]:
    """The ranks that words of the lexicon and numbers mean."""
    return tuple(r if isinstance(r, int) else _rank(r) for r in said)


def _rank(word: str) -> int:
    return _NAMED.get(word) or (int(word) if word.isdigit() else TOP)


def position(rank: int, tiers: int) -> int | None:
    """The position from the top that a rank means in a bin of `tiers`; None where it has no such tier."""
    if rank == BOTTOM:
        return tiers
    if rank == MIDDLE:
        return (tiers + 1) // 2 if tiers % 2 else None
    if rank < 0:
        rank = tiers + 1 + rank
    return rank if 1 <= rank <= tiers else None


def iter_bins(word: str) -> Iterator[str]:
    """The bins that a spread place names."""
    yield from (w for w in word.split("|") if w not in ("both", "every"))
