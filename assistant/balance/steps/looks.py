"""What the keeper saw and measured: the last look of each sort, and what it corrects."""

from __future__ import annotations

from assistant.balance.portions import Portion
from assistant.balance.state import Gap, Look
from assistant.balance.steps.post import Held, Post, known_before, matching, places_near
from assistant.balance.trade import celsius_of


def level(post: Post) -> None:
    """A level of its kind's scale, or a figure."""
    amount = post.record.amount
    value = post.record.level if post.record.level is not None else amount.best if amount else None
    _keep(post, "", value)


def figure(post: Post) -> None:
    """A measured figure in its own unit."""
    amount = post.record.amount
    _keep(post, "", amount.best if amount else post.record.level)


def smell(post: Post) -> None:
    """A smell, in a word."""
    _keep(post, "", post.record.item)


def sighting(post: Post) -> None:
    """Organisms seen, one series for each."""
    _keep(post, post.books.trade.converter.name_of(post.record.item, "organism"), post.record.level)


def estimate(post: Post) -> None:
    """How many worms are thought to be in there."""
    amount = post.record.amount
    name = post.books.trade.converter.name_of(post.record.item or "worms", "organism")
    _keep(post, name, amount.best if amount else None)


def temperature(post: Post) -> None:
    """Degrees C, of the bed or the air; the bed sets how fast the bin's clock runs from then on."""
    celsius = celsius_of(post.record.amount)
    item = post.record.item or "bed"
    if post.place is None or post.bin is None:
        post.books.room.append(Look(post.day, post.entry.id, celsius, post.record.amount))
        return
    _keep(post, item, celsius)
    if celsius is not None and item == "bed":
        trade = post.books.trade
        post.bin.clock = post.bin.clock.read(post.day, trade.factor(celsius), trade.reading_holds)


def leftover(post: Post) -> None:
    """Food seen uneaten: the newest pocket of it stands at that share, older ones at no more than that.

    What had been reckoned is kept beside what was seen.
    """
    record, bin_ = post.record, post.bin
    if not bin_:
        return
    _keep(post, record.item or "", record.level)
    found = matching(post, ("food", "bedding") if record.item else ("food",))
    if not found:
        if record.item and record.level != 0 and known_before(post):
            _doubt_unknown(post, record.item)
        return
    if record.level is None:
        return
    newest = max(_days_before(post, found), default=0)
    for held in found:
        _correct(post, held, record.level, newest)


def _doubt_unknown(post: Post, item: str) -> None:
    """Food was seen that should not be there: none went in, or it was gone before."""
    like = post.books.trade.converter.like
    worked = (one.of for place in places_near(post) for one in reversed(place.worked))
    gone = next((of for of in worked if like(item, of.name, of.role)), None)
    if gone:
        post.doubt(f"{item} seen uneaten, though an earlier look had it gone", gone.record)
    else:
        post.doubt(f"{item} seen uneaten, but there is no record of it going in")


def _days_before(post: Post, found: list[Held]) -> list[int]:
    """The days on which these heaps were fed before today: what goes in with a look is not what was seen."""
    days = {portion.of.day for place, role, name in found for portion in place.held[role][name]}
    return [day for day in days if day < post.day]


def _correct(post: Post, held: Held, share: float, newest: int) -> None:
    """Set the portions of a heap to what was seen of them, and keep what had been reckoned."""
    assert post.bin is not None
    place, role, name = held
    clock = post.bin.clock.at(post.day)
    alive: list[Portion] = []
    for portion in place.held[role][name]:
        was_above = portion.left.best > share * portion.here.best
        if portion.of.day == newest or (portion.of.day < newest and was_above):
            now = portion.at(clock)
            reckoned = now.left.best / now.here.best if now.here.best else 0.0
            if portion.of.day == newest or reckoned > share:
                post.bin.gaps.append(Gap(post.day, post.entry.id, portion.of.record, reckoned, share))
                portion = now.seen(share, clock)
        (alive if portion.left.slow > 0 else place.worked).append(portion)
    if alive:
        place.held[role][name] = alive
    else:
        del place.held[role][name]


def _keep(post: Post, item: str, value: float | str | None) -> None:
    if post.place:
        look = Look(post.day, post.entry.id, value, post.record.amount)
        post.place.looks.setdefault((post.record.kind, item), []).append(look)
