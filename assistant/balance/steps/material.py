"""Food, bedding, grit and water: put in, moved, taken out."""

from __future__ import annotations

from assistant.balance.portions import Portion, PutIn, Role
from assistant.balance.state import Gone, Place
from assistant.balance.steps.post import ROLES, Held, Post, known_before, matching, tray
from assistant.balance.steps.stock import draw
from assistant.records import Amount


def feed(post: Post) -> None:
    """A pocket of food."""
    _put(post, "food")


def bed(post: Post) -> None:
    """A layer of bedding."""
    _put(post, "bedding")


def amend(post: Post) -> None:
    """Grit, lime or another amendment."""
    _put(post, "amendment")


def water(post: Post) -> None:
    """Water in."""
    if post.place:
        post.place.water.append(post.flow(1))


def move(post: Post) -> None:
    """From one tier to another: portions, worms or castings, whichever the item is."""
    record, bin_ = post.record, post.bin
    if record.to_tier is None or bin_ is None or post.place is None:
        return
    target = tray(bin_, record.to_tier)
    held = matching(post, ROLES) if record.item else []
    topic = post.books.trade.converter.topic_of(record.item, "")
    if held:
        for taken in _take(post, held):
            target.put(taken)
    elif topic == "organism":
        name = post.books.trade.converter.name_of(record.item, topic)
        post.place.worms.setdefault(name, []).append(post.flow(-1))
        target.worms.setdefault(name, []).append(post.flow(1))
    elif topic == "product":
        post.place.castings.append(post.flow(-1))
        target.castings.append(post.flow(1))
    elif known_before(post):
        what = record.item or "material"
        post.doubt(
            f"{what} moved, but nothing of that name is on record there: the sums leave it where it was"
        )


def remove(post: Post) -> None:
    """Taken out for good."""
    topic = post.books.trade.converter.topic_of(post.record.item, "")
    held = matching(post, ROLES)
    if held and post.bin:
        post.bin.gone += [Gone(post.day, post.entry.id, "remove", taken) for taken in _take(post, held)]
    elif topic in ROLES and known_before(post):
        post.doubt(f"{post.record.item or 'something'} taken out, but there is no record of it going in")


def refresh(post: Post) -> None:
    """All bedding out of a tier, or of all where none is named; what goes in is a record of its own."""
    if not post.bin or not post.place:
        return
    places = [post.place] if post.record.tier else list(post.bin.places.values())
    for place in places:
        held = [Held(place, "bedding", name) for name in place.held["bedding"]]
        post.bin.gone += [
            Gone(post.day, post.entry.id, "refresh", taken) for taken in _take_share(post, held, 1.0)
        ]


def _put(post: Post, role: Role) -> None:
    record, trade = post.record, post.books.trade
    if not post.place or not post.bin:
        return
    converter = trade.converter
    topic = converter.topic_of(record.item, role)
    put_in = PutIn(
        post.entry.id,
        post.day,
        role,
        record.item,
        converter.name_of(record.item, topic),
        record.spot,
        record.amount,
        converter.weight(record.amount.unit, record.item, topic) if record.amount else None,
        converter.substance(record.item, topic),
    )
    post.place.put(Portion(put_in, post.bin.clock.at(post.day)))
    draw(post)


def _take(post: Post, held: list[Held]) -> list[Portion]:
    """The amount of the record out of these heaps; all of them where it says none."""
    amount = post.record.amount
    share = 1.0 if amount is None else _share(post, held, amount)
    if share > 1.0:
        post.doubt(
            f"more {post.record.item or 'food'} taken than is on record there: all of it counts as taken"
        )
    return _take_share(post, held, min(share, 1.0))


def _share(post: Post, held: list[Held], amount: Amount) -> float:
    """Which share of what lies there `amount` is: in its own unit, else by weight, else all."""
    assert post.bin is not None
    clock = post.bin.clock.at(post.day)
    now = [portion.at(clock) for place, role, name in held for portion in place.held[role][name]]
    own = [portion.units_left for portion in now]
    if all(one and one.unit == amount.unit for one in own):
        there, wanted = sum(one.best for one in own if one), amount.best
    else:
        kilos = [portion.kilograms(portion.left) for portion in now]
        item, topic = post.record.item, held[0].role
        weight = post.books.trade.converter.kilograms(amount, item, topic)
        if weight is None or not all(kilos):
            post.doubt("how much of it this was cannot be told: all of it counts as taken")
            return 1.0
        there, wanted = sum(one.best for one in kilos if one), weight.best
    if there <= 0:
        return 0.0 if wanted == 0 else float("inf")
    return wanted / there


def _take_share(post: Post, held: list[Held], share: float) -> list[Portion]:
    """Split `share` off every portion of these heaps; what is worked through stays where it is."""
    assert post.bin is not None
    clock, taken = post.bin.clock.at(post.day), []
    for place, role, name in held:
        stays = []
        for portion in place.held[role][name]:
            rest, part = portion.split(share, clock)
            taken.append(part)
            stays.append(rest)
        _keep(place, role, name, stays)
    return taken


def _keep(place: Place, role: Role, name: str, portions: list[Portion]) -> None:
    """Put back what is left of a heap; portions with nothing uneaten are set aside as worked through."""
    alive = [portion for portion in portions if portion.left.slow > 0]
    place.worked += [portion for portion in portions if portion.left.slow <= 0]
    if alive:
        place.held[role][name] = alive
    else:
        place.held[role].pop(name, None)
