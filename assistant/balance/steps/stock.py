"""What is kept beside the bins: bedding and scraps made ready, castings, leachate, worms, and money."""

from __future__ import annotations

from assistant.balance.spread import NONE
from assistant.balance.state import Gone, Money
from assistant.balance.steps.post import Post, tray

LEACHATE, CASTINGS = "leachate", "castings"


def drain(post: Post) -> None:
    """Liquid let off: out of the bin, where one is named, and into the stock of leachate."""
    if post.place:
        post.place.water.append(post.flow(-1))
    post.books.stocks.setdefault(LEACHATE, []).append(post.flow(1))


def harvest(post: Post) -> None:
    """Castings out of a tier: into another one, else into stock.

    With no amount given, all that is worked through there goes with it, and how far it was counts no more.
    """
    record, bin_, place = post.record, post.bin, post.place
    if not bin_ or not place:
        return
    if record.amount:
        place.castings.append(post.flow(-1))
    elif record.tier is not None or len(bin_.order) == 1:
        _all_worked_out(post)
        place.looks.pop(("progress", ""), None)
    if record.to_tier is not None:
        tray(bin_, record.to_tier).castings.append(post.flow(1))
    else:
        post.books.stocks.setdefault(CASTINGS, []).append(post.flow(1))


def prepare(post: Post) -> None:
    """Stock made ready, not yet in a bin."""
    into_stock(post, 1)


def buy(post: Post) -> None:
    """Bought: into stock, money out."""
    into_stock(post, 1)
    _pay(post, -1)


def sell(post: Post) -> None:
    """Sold: out of stock, money in."""
    into_stock(post, -1)
    _pay(post, 1)


def give(post: Post) -> None:
    """Given away: out of stock."""
    into_stock(post, -1)


def draw(post: Post) -> None:
    """What goes into a bin comes out of stock, where there is a stock of it."""
    flows = post.books.stocks.get(_stock_name(post))
    if flows:
        flows.append(post.flow(-1))


def _stock_name(post: Post) -> str:
    converter = post.books.trade.converter
    item = post.record.item or ("worms" if post.record.kind.startswith("worms") else None)
    return converter.name_of(item, converter.topic_of(item, "product"))


def into_stock(post: Post, sign: int) -> None:
    """Put down what came into stock (`sign` 1) or left it (-1)."""
    post.books.stocks.setdefault(_stock_name(post), []).append(post.flow(sign))


def _pay(post: Post, sign: int) -> None:
    price = post.record.price
    if price:
        paid = Money(post.day, post.entry.id, sign, price.value, post.record.item)
        post.books.money.setdefault(price.currency, []).append(paid)


def _all_worked_out(post: Post) -> None:
    """Everything worked through in a tray leaves it."""
    assert post.bin is not None and post.place is not None
    place, clock = post.place, post.bin.clock.at(post.day)
    taken = [*place.worked]
    place.worked = []
    for names in place.held.values():
        for name, portions in names.items():
            now = [portion.at(clock) for portion in portions]
            taken += [portion._replace(left=NONE) for portion in now]
            names[name] = [portion._replace(worked=NONE) for portion in now]
    post.bin.gone += [Gone(post.day, post.entry.id, "harvest", portion) for portion in taken]
