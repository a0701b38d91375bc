"""Checks of condition: what the last looks say about wetness, warmth, acidity, pests, food and ripeness."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.balance.rules import Limit
from assistant.balance.state import Event, Look, Place
from assistant.balance.wording import MOISTURE, SIGHTING, ago_words, amount_words, figure
from assistant.formulas import fahrenheit
from assistant.outlook.view import Due, View

SOUR, ALKALINE = "sweeten it with a little calcium carbonate", "look for what makes it so alkaline"


def moisture(view: View) -> Iterator[Due]:
    """Wet or dry at the last look. The scale is the keeper's; EE349 for a figure in percent."""
    for place, look in _last_looks(view, "moisture"):
        percent = look.amount is not None and look.amount.unit == "percent"
        rule = view.rule("bin_moisture" if percent else "moisture_level", *view.species)
        side = rule.side(float(look.value)) if isinstance(look.value, float | int) else None
        if side is None:
            continue
        wet = side == "above"
        said = amount_words(look.amount) if look.amount else MOISTURE.get(round(float(look.value or 0)), side)
        cure = _since(place, look, ("bed", "drain", "turn") if wet else ("water",))
        if cure:
            if view.today - cure.day < view.rule("look_again").value:
                continue
            what = "look again how wet it is"
        else:
            what = "add dry bedding, and look at the drainage" if wet else "add a little water"
        why = f"{said} at the last look, {ago_words(view.today - look.day)}"
        yield view.due(what, why, (look.record,), "drifting", rule.source, place)


def temperature(view: View) -> Iterator[Due]:
    """The bed outside what its worms bear. EE349 and SPEC1 for Eisenia fetida, which stands in for others."""
    for place, look in _last_looks(view, "temperature", "bed"):
        limits, most = (
            view.rule("bin_temperature", *view.species),
            view.rule("bin_temperature_most", *view.species),
        )
        if not isinstance(look.value, float | int) or not look.amount:
            continue
        side = limits.side(look.value)
        if side is None:
            continue
        deadly = look.value > most.most
        what = "warm it" if side == "below" else "cool it now" if deadly else "cool it"
        limit = most.most if deadly else limits.most if side == "above" else limits.least
        said = f"{amount_words(look.amount)} in the bed {ago_words(view.today - look.day)}"
        why = f"{said}; the limit is {_degrees(limit, look.amount.unit)}"
        yield view.due(what, why, (look.record,), "drifting", (most if deadly else limits).source, place)


def acidity(view: View) -> Iterator[Due]:
    """A pH outside what worms bear. EE349, KAP80."""
    rule = view.rule("ph", "bin")
    for place, look in _last_looks(view, "ph"):
        side = rule.side(look.value) if isinstance(look.value, float | int) else None
        if side:
            what = ALKALINE if side == "above" else SOUR
            said = f"pH {figure(float(look.value or 0))} {ago_words(view.today - look.day)}"
            why = f"{said}; worms bear {_band(rule)}"
            yield view.due(what, why, (look.record,), "drifting", rule.source, place)


def pests(view: View) -> Iterator[Due]:
    """Flies or mites that do not grow fewer from look to look. Common practice, no source."""
    things, rules = view.books.trade.converter, view.books.trade.rules
    for place in view.places:
        for (kind, item), looks in place.looks.items():
            thing = things.thing(item, ("organism",)) if kind == "sighting" else None
            rule = rules.find("rising", (thing.klass,)) if thing else None
            fresh = [look for look in looks if isinstance(look.value, float | int) and _fresh(view, look)]
            if rule and len(fresh) > 1 and _rising(fresh, rule):
                levels = ", then ".join(
                    SIGHTING.get(round(float(look.value or 0)), "some") for look in fresh[-3:]
                )
                what = f"see to the {item}: cover the food, feed less, let the top dry"
                yield view.due(
                    what, levels, tuple(look.record for look in fresh[-3:]), "drifting", rule.source, place
                )


def slow_food(view: View) -> Iterator[Due]:
    """Food seen nearly whole after many days. Common practice, no source."""
    share, days = view.rule("slow_food"), view.rule("slow_food_days")
    fed = {event.record: event for event in view.events("feed")}
    for gap in view.bin.gaps:
        event = fed.get(gap.portion)
        fresh = view.today - gap.day <= days.value
        if event and fresh and gap.seen >= share.value and gap.day - event.day >= days.value:
            seen = f"{figure(gap.seen * 100)} % there {ago_words(view.today - gap.day)}"
            why = f"{event.item or 'food'} given {ago_words(view.today - event.day)} was {seen}"
            records = (gap.record, gap.portion)
            yield view.due("hold the next feeding there", why, records, "drifting", share.source)


def ripe(view: View) -> Iterator[Due]:
    """A tray said to be finished and not harvested since."""
    rule = view.rule("ready", "progress")
    for place, look in _last_looks(view, "progress", fresh=False):
        done = view.will("harvest", place) or _since(place, look, ("harvest",))
        if isinstance(look.value, float | int) and look.value >= rule.value and not done:
            why = f"said to be ready {ago_words(view.today - look.day)}"
            yield view.due("harvest it", why, (look.record,), "drifting", rule.source, place)


def _last_looks(view: View, kind: str, item: str = "", fresh: bool = True) -> Iterator[tuple[Place, Look]]:
    for place in view.places:
        look = place.last_look(kind, item)
        if look and (not fresh or _fresh(view, look)):
            yield place, look


def _fresh(view: View, look: Look) -> bool:
    """Whether a look is new enough to be a reason today."""
    return view.today - look.day <= view.rule("reading_fresh").value


def _since(place: Place, look: Look, kinds: Sequence[str]) -> Event | None:
    """What was done about it, that day or later."""
    event = place.last_event(*kinds)
    return event if event and event.day >= look.day else None


def _rising(looks: Sequence[Look], rule: Limit) -> bool:
    """At or above the rule's level, and no lower than the look before; high enough is reason by itself."""
    before, now = (float(look.value or 0) for look in looks[-2:])
    return now >= rule.least and now >= before and (now > before or now >= rule.most)


def _degrees(celsius: float, unit: str) -> str:
    """A limit in the unit in which the keeper reads it."""
    return f"{figure(fahrenheit(celsius) if unit == 'degF' else celsius)} {unit}"


def _band(rule: Limit) -> str:
    return f"{figure(rule.least)} to {figure(rule.most)}"
