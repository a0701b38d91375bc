"""The order of trays, and new bins."""

from __future__ import annotations

from assistant.balance.state import BinState, Shift
from assistant.balance.steps.post import Post, new_tray


def start(post: Post) -> None:
    """A new bin set up."""
    if post.bin:
        post.bin.started = post.day


def restack(post: Post) -> None:
    """Trays change places.

    The records of one note speak of the order before it and take effect together (a swap is two of them;
    contract, section 5.23); a position said twice opens a new round. What else follows in the note speaks
    of the new order.
    """
    bin_, record, entry = post.bin, post.record, post.entry
    if not bin_:
        return
    shift = bin_.shift
    if not shift or (shift.note, shift.day) != (entry.note, post.day) or record.tier in shift.said:
        shift = Shift(entry.note, post.day, tuple(bin_.order), ())
        bin_.past.append((post.day, shift.before))
    bin_.shift = shift._replace(moves=(*shift.moves, (record.tier, record.to_tier, entry.id)))
    _arrange(bin_, bin_.shift, post)


def _arrange(bin_: BinState, shift: Shift, post: Post) -> None:
    """The order after all moves of a shift: trays go where they were sent, the rest keep their order."""
    sent: list[tuple[int, str]] = []
    rest = list(shift.before)
    for was, now, record in shift.moves:
        if was is not None and not 0 < was <= len(shift.before):
            post.doubt(f"there is no tray at position {was} to move")
            continue
        tray = record if was is None else shift.before[was - 1]
        if tray in rest:
            rest.remove(tray)
        if now is not None:
            sent.append((now, tray))
    for now, tray in sorted(sent):
        rest.insert(now - 1, tray)
    for tray in rest:
        if tray not in bin_.places:
            new_tray(bin_, 1, tray)
    bin_.order = rest
