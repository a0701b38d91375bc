"""The sums of the trade as pure functions: moisture, C:N, loss, stocking, feeding, cocoons, units.

Conventions. `moisture` is percent of the fresh mass (wet basis); `carbon`, `nitrogen` and `ash` are percent
of the dry mass. Masses are in any one unit, kept throughout a call. Trade figures (a density, a rate, a goal)
are arguments: they live in `lexicon/`. ValueError, in one plain sentence, where the figures allow no answer.

Sources are named by the codes of `lexicon/sources.csv`; "algebra" rearranges the formula named beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

WHOLE = 100.0
"""A whole, in percent."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One part of a mix: fresh `mass`, `moisture` in % of it, `carbon` and `nitrogen` in % of dry mass."""

    mass: float
    moisture: float
    carbon: float
    nitrogen: float

    @property
    def c_to_n(self) -> float:
        """Carbon over nitrogen, by mass."""
        return divide(self.carbon, self.nitrogen, "a material without nitrogen has no C:N")


# Moisture


def moisture(wet: float, dry: float) -> float:
    """Moisture in %, of a sample weighed `wet` and again after drying (105-110 C for 24 h). CWMI-moist."""
    if dry < 0 or dry > wet:
        raise ValueError("the dried sample weighs more than the wet one")
    return WHOLE * divide(wet - dry, wet, "a sample that weighs nothing has no moisture")


def blend_moisture(parts: Iterable[tuple[float, float]]) -> float:
    """Moisture in %, of a mix of (mass, moisture %). CWMI-moist."""
    held = list(parts)
    water = sum(mass * percent for mass, percent in held)
    return divide(water, sum(mass for mass, _ in held), "a mix that weighs nothing has no moisture")


def second_for_moisture(mass: float, first: float, second: float, goal: float) -> float:
    """Mass of a material of moisture `second` % that brings `mass` at `first` % to `goal` %. CWMI-moist.

    ValueError where the goal does not lie between the two.
    """
    if not min(first, second) <= goal <= max(first, second):
        raise ValueError(f"{goal:g} % does not lie between {first:g} % and {second:g} %")
    if goal == first:
        return 0.0
    return divide(mass * (goal - first), second - goal, "the second material already stands at the goal")


def water_to_add(mass: float, has: float, goal: float) -> float:
    """Mass of water that brings `mass` at `has` % to `goal` %; algebra from CWMI-moist (water is 100 %)."""
    return second_for_moisture(mass, has, WHOLE, goal)


# Dry matter, carbon, nitrogen


def dry_mass(mass: float, percent: float) -> float:
    """Dry matter in `mass` of a material with `percent` moisture."""
    return mass * (WHOLE - percent) / WHOLE


def water_mass(mass: float, percent: float) -> float:
    """Water in `mass` of a material with `percent` moisture."""
    return mass * percent / WHOLE


def element_mass(mass: float, percent: float, share: float) -> float:
    """Carbon or nitrogen in `mass`, where it is `share` % of the dry matter."""
    return dry_mass(mass, percent) * share / WHOLE


def blend_c_to_n(parts: Iterable[Ingredient]) -> float:
    """C:N of a mix, each part weighed by its dry matter. Symbols CWMI-2."""
    held = list(parts)
    carbon = sum(element_mass(part.mass, part.moisture, part.carbon) for part in held)
    nitrogen = sum(element_mass(part.mass, part.moisture, part.nitrogen) for part in held)
    return divide(carbon, nitrogen, "a mix without nitrogen has no C:N")


def second_for_c_to_n(first: Ingredient, second: Ingredient, goal: float) -> float:
    """Fresh mass of `second` (its own `mass` is not used) that brings `first` to C:N `goal`; from CWMI-2.

    ValueError where the goal does not lie between the two.
    """
    low, high = sorted((first.c_to_n, second.c_to_n))
    if not low <= goal <= high:
        raise ValueError(f"C:N {goal:g} does not lie between {low:.3g} and {high:.3g}")
    if goal == first.c_to_n:
        return 0.0
    need = element_mass(first.mass, first.moisture, first.nitrogen) * (goal - first.c_to_n)
    gives = element_mass(1.0, second.moisture, second.nitrogen) * (second.c_to_n - goal)
    return divide(need, gives, "the second material already stands at the goal")


def carbon_from_ratio(nitrogen: float, c_to_n: float) -> float:
    """Carbon, % of dry mass, from nitrogen % and C:N. CWMI-cn."""
    return nitrogen * c_to_n


def carbon_from_ash(ash: float, solids_to_carbon: float) -> float:
    """Carbon, % of dry mass, from ash %; `solids_to_carbon` is volatile solids over carbon. CWMI-carbon."""
    return divide(WHOLE - ash, solids_to_carbon, "the share of carbon in volatile solids is missing")


def mean_ratio(parts: Iterable[tuple[float, float]]) -> float:
    """C:N of a mix of (parts, C:N) by plain averaging, the home shortcut. KLICK, PARTS, COOP, NCEXT-2nd.

    Exact only where every material holds the same nitrogen by weight; `blend_c_to_n` is the true sum.
    """
    held = list(parts)
    total = sum(weight for weight, _ in held)
    return divide(sum(weight * ratio for weight, ratio in held), total, "a mix of no parts has no C:N")


def share_for_mean_ratio(first: float, second: float, goal: float) -> float:
    """Share (0 to 1) of the first of two materials whose averaged C:N is `goal`. NCEXT-2nd."""
    if not min(first, second) <= goal <= max(first, second):
        raise ValueError(f"C:N {goal:g} does not lie between {first:g} and {second:g}")
    return divide(goal - second, first - second, "both materials have the same C:N")


def second_for_mean_ratio(mass: float, first: float, second: float, goal: float) -> float:
    """Mass of the second material that brings `mass` at C:N `first` to an averaged `goal`. KLICK."""
    share = share_for_mean_ratio(first, second, goal)
    return divide(mass * (1 - share), share, "no amount of the second material reaches the goal")


# Loss and growth


def loss_by_ash(before: float, after: float) -> float:
    """Share (0 to 1) of dry matter lost, from ash % before and after (ash is kept); grit breaks it."""
    if before > after:
        raise ValueError("ash fell: something without ash was added, or grit taken out")
    return 1 - divide(before, after, "a material without ash cannot be measured by ash")


def volatile_loss_by_ash(before: float, after: float) -> float:
    """Share (0 to 1) of volatile solids lost, from ash % before and after. Ash is conserved."""
    if before > after:
        raise ValueError("ash fell: something without ash was added, or grit taken out")
    kept, had = before * (WHOLE - after), after * (WHOLE - before)
    return 1 - divide(kept, had, "a material of no ash, or of nothing else, cannot be measured by ash")


def rate_at(rate: float, celsius: float, reference: float, q10: float) -> float:
    """A rate known at `reference` C, at `celsius`: times `q10` for every 10 degrees. KATT98 (5 to 35 C)."""
    return rate * math.pow(q10, (celsius - reference) / 10)


def left_after(rate: float, days: float) -> float:
    """Share (0 to 1) left after `days` of first-order loss at `rate` a day. Form: PEACH22, MASON06."""
    return math.exp(-rate * days)


def rate_from_loss(lost: float, days: float) -> float:
    """First-order rate a day, from the share (0 to 1) lost in `days`; inverse of `left_after`."""
    if not 0 <= lost < 1 or days <= 0:
        raise ValueError("a rate needs a share lost of 0 to under 1 and some days")
    return -math.log(1 - lost) / days


def half_life(rate: float) -> float:
    """Days until half is gone, at a first-order `rate` a day."""
    return divide(math.log(2), rate, "what does not shrink has no half-life")


def doubled(start: float, days: float, doubling: float) -> float:
    """A population that doubles every `doubling` days, after `days`; room and food end this soon. STOCK."""
    return start * 2 ** divide(days, doubling, "a doubling time of nought says nothing")


def doubling_days(before: float, after: float, days: float) -> float:
    """Days to double, from two counts `days` apart; inverse of `doubled`."""
    if before <= 0 or after <= before or days <= 0:
        raise ValueError("only a population that grew between two days has a doubling time")
    return days * math.log(2) / math.log(after / before)


def young_per_week(cocoons: float, hatch: float, each: float) -> float:
    """Young per adult a week: cocoons a week, `hatch` % of them, `each` hatchlings a cocoon. SPEC1."""
    return cocoons * hatch / WHOLE * each


def per_week(per_day: float) -> float:
    """A daily figure, for a week."""
    return per_day * 7


# Stocking, feeding, size


def surface_for(scraps_a_week: float, scraps_per_area: float) -> float:
    """Bin surface, in the area unit of `scraps_per_area` (mass a week on one unit of area). WIDNR."""
    return divide(scraps_a_week, scraps_per_area, "the load on the surface is missing")


def stock_for(size: float, per_size: float) -> float:
    """Worms or bedding (mass) for a surface or a space, at so much mass on one unit of it. STOCK, GTC."""
    return size * per_size


def worms_for_food(food_a_day: float, worms_to_food: float) -> float:
    """Worms (mass) for so much food a day, at worms : food by mass. GTC."""
    return food_a_day * worms_to_food


def feed_a_day(worms: float, share: float) -> float:
    """Food (mass a day) for so many worms (mass) that eat `share` of their own mass a day. STOCK, EUG."""
    return worms * share


def waste_of(edible: float, refuse: float) -> float:
    """Mass of the part thrown away, from the edible mass and `refuse` % of the whole as bought. SR28."""
    return divide(edible * refuse, WHOLE - refuse, "a food that is all refuse has no edible part")


# Units


def convert(value: float, unit: float, into: float) -> float:
    """A value from one unit to another of the same dimension, each given by its size in the base unit."""
    return divide(value * unit, into, "a unit without a size cannot be converted into")


def celsius(fahrenheit: float) -> float:
    """Degrees Celsius from degrees Fahrenheit (the definition of the scale: 32 F is 0 C, 212 F is 100 C)."""
    return (fahrenheit - 32) * 100 / (212 - 32)


def fahrenheit(celsius: float) -> float:
    """Degrees Fahrenheit from degrees Celsius; inverse of `celsius`."""
    return celsius * (212 - 32) / 100 + 32


def held_long_enough(celsius: float, days: float, least_celsius: float, least_days: float) -> bool:
    """Whether a heat rule's figures are met (so hot, so long): its wording, no laboratory result. CFR257."""
    return celsius >= least_celsius and days >= least_days


def divide(value: float, by: float, otherwise: str) -> float:
    """`value / by`, or ValueError with the sentence `otherwise` where `by` is nought."""
    if by == 0:
        raise ValueError(otherwise)
    return value / by
