"""What a place is made of: dry matter, water, carbon, nitrogen, and the castings that should be in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from assistant import formulas
from assistant.balance.conversion import Substance
from assistant.balance.portions import Portion
from assistant.balance.rules import Limit
from assistant.balance.spread import NOTHING, Spread
from assistant.balance.state import Flow, Place
from assistant.balance.trade import Trade

PRODUCT, CASTINGS, LIQUID = "product", "castings", "leachate"
"""Names of the lexicon; water is weighed as the liquid that comes out of a bin."""


@dataclass(frozen=True, slots=True)
class Makeup:
    """What was put in and is still there, in kg; of what is worked through, the castings are.

    `c_to_n` and `moisture` (%) take each material's own range at its best weight; None where not known.
    Water is what went in less what was drained, where measured: what dries off is not in it. `missing` names
    what could not be counted.
    """

    dry: Spread
    water: Spread
    carbon: Spread
    nitrogen: Spread
    castings: Spread
    c_to_n: Spread | None
    moisture: Spread | None
    missing: tuple[str, ...]


class _Part(NamedTuple):
    """One material's share of the whole; the ends of carbon and water are at the best weight."""

    dry: Spread = NOTHING
    water: Spread = NOTHING
    carbon: Spread = NOTHING
    nitrogen: Spread = NOTHING
    castings: Spread = NOTHING
    carbon_ends: Spread = NOTHING
    water_ends: Spread = NOTHING


class _Mass(NamedTuple):
    """Fresh kg of one material: `low` is little of it that went fast, `high` much of it that went slowly."""

    left: Spread
    worked: Spread
    most_worked: Spread
    """What is worked through from the least to the most, whatever the rest: the range of castings."""

    def plus(self, other: _Mass) -> _Mass:
        """The sum, end by end."""
        return _Mass(*(one.plus(more) for one, more in zip(self, other, strict=True)))


def makeup(trade: Trade, portions: Iterable[Portion], place: Place) -> Makeup:
    """What a place is made of, its `portions` as they stand on the day that is asked for."""
    lost, made = trade.rules.need("solids_lost"), trade.rules.need("metabolic_water")
    masses: dict[str, _Mass] = {}
    materials: dict[str, Substance] = {}
    missing: dict[str, None] = {}
    for portion in [*portions, *place.worked]:
        name, mass = portion.of.name, _mass(portion)
        materials[name] = portion.of.substance
        if mass:
            masses[name] = masses[name].plus(mass) if name in masses else mass
        else:
            missing[name] = None
    parts: list[_Part] = []
    for name, mass in masses.items():
        part = _of_mass(materials[name], mass, lost, made)
        parts.append(part or _Part())
        if part is None or (part.nitrogen == NOTHING and materials[name].topic != "amendment"):
            missing[name] = None
    for name, flows in ((CASTINGS, place.castings), (LIQUID, place.water)):
        for flow in flows:
            part = _of_flow(trade, name, flow)
            parts.append(part or _Part())
            if part is None:
                missing[flow.kind] = None
    return _whole(parts, tuple(missing))


def _mass(portion: Portion) -> _Mass | None:
    """A portion's uneaten and worked-through mass; None where it cannot be weighed."""
    kilos = portion.of.kilograms
    if kilos is None:
        return None
    left, worked = kilos.times(Spread(*portion.left)), kilos.times(Spread(*portion.worked))
    return _Mass(left, worked, kilos.times(portion.worked.spread))


def _of_mass(of: Substance, mass: _Mass, lost: Limit, made: Limit) -> _Part | None:
    """A material's share of the whole; None where its moisture is not known."""
    if of.moisture is None:
        return None
    kilos = mass.left.plus(mass.worked)
    kept = mass.left.plus(mass.worked.scaled(1 - lost.value))
    gone = _dry(of, mass.worked).scaled(lost.value)
    made_water = gone.scaled(made.value)
    water = Spread(*(formulas.water_mass(kg, m) for kg, m in zip(kilos, _ends(of), strict=True)))
    at_best = Spread(*(formulas.water_mass(kilos.best, m) for m in _ends(of)))
    part = _Part(
        _ordered(_dry(of, kept)),
        _ordered(water.plus(made_water)),
        castings=_dry(of, mass.most_worked).scaled(1 - lost.value),
        water_ends=at_best.plus(Spread.exactly(made_water.best)),
    )
    if of.nitrogen is None or of.c_to_n is None:
        return part
    dry, dry_kept = _dry(of, kilos), _dry(of, kept)
    nitrogen = _share(dry, of.nitrogen.low, of.nitrogen.best, of.nitrogen.high)
    ratio = Spread(of.c_to_n.low, of.c_to_n.best, of.c_to_n.high)
    carbon = _share(dry_kept, of.nitrogen.low, of.nitrogen.best, of.nitrogen.high).times(ratio)
    stays = dry_kept.best / dry.best if dry.best else 0.0
    ends = ratio.scaled(nitrogen.best * stays)
    return part._replace(nitrogen=_ordered(nitrogen), carbon=_ordered(carbon), carbon_ends=ends)


def _of_flow(trade: Trade, name: str, flow: Flow) -> _Part | None:
    """Castings or liquid that came in or went out, counted with its sign; None where it cannot be weighed."""
    if flow.amount is None:
        return None
    kilos = trade.converter.kilograms(flow.amount, name, PRODUCT)
    if kilos is None:
        return None
    if name == LIQUID:
        signed = kilos.signed(flow.sign)
        return _Part(water=signed, water_ends=Spread.exactly(signed.best))
    of = trade.converter.substance(name, PRODUCT)
    if of.moisture is None:
        return None
    dry = _dry(of, kilos).signed(flow.sign)
    water = Spread(*(formulas.water_mass(kg, m) for kg, m in zip(kilos, _ends(of), strict=True)))
    wet = water.signed(flow.sign)
    part = _Part(dry, wet, castings=dry, water_ends=Spread.exactly(wet.best))
    if of.nitrogen is None or of.c_to_n is None:
        return part
    nitrogen = _share(_dry(of, kilos), of.nitrogen.low, of.nitrogen.best, of.nitrogen.high)
    carbon = nitrogen.times(Spread(of.c_to_n.low, of.c_to_n.best, of.c_to_n.high)).signed(flow.sign)
    return part._replace(
        nitrogen=nitrogen.signed(flow.sign), carbon=carbon, carbon_ends=Spread.exactly(carbon.best)
    )


def _whole(parts: Iterable[_Part], missing: tuple[str, ...]) -> Makeup:
    sums = _Part()
    for part in parts:
        sums = _Part(*(one.plus(other) for one, other in zip(sums, part, strict=True)))
    c_to_n = moisture = None
    if sums.nitrogen.best > 0 and sums.carbon_ends.low >= 0:
        c_to_n = sums.carbon_ends.scaled(1 / sums.nitrogen.best)
    if sums.dry.best > 0 and sums.water_ends.low >= 0:
        fresh = [(water + sums.dry.best, sums.dry.best) for water in sums.water_ends]
        moisture = Spread(*(formulas.moisture(wet, dry) for wet, dry in fresh))
    return Makeup(*sums[:5], c_to_n, moisture, missing)


def _ends(of: Substance) -> Spread:
    assert of.moisture is not None
    return Spread(of.moisture.low, of.moisture.best, of.moisture.high)


def _dry(of: Substance, kilos: Spread) -> Spread:
    """Dry matter: the most where there is least water."""
    low, best, high = _ends(of)
    return Spread(
        formulas.dry_mass(kilos.low, high),
        formulas.dry_mass(kilos.best, best),
        formulas.dry_mass(kilos.high, low),
    )


def _share(dry: Spread, low: float, best: float, high: float) -> Spread:
    return dry.times(Spread(low, best, high)).scaled(1 / formulas.WHOLE)


def _ordered(spread: Spread) -> Spread:
    """The same figures with the ends in order: a fast loss leaves more that is worked through."""
    return Spread(min(spread), spread.best, max(spread))
