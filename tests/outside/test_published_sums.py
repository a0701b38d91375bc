"""Our formulas against answers that others printed; each row names its source by its code in the lexicon.

T numbers are those of the list of checks that the figures were gathered in. "derived": our own arithmetic on
published inputs. "from memory": the page was not seen again. T6 prints 110/122.5 = 0.90, the answer for a
goal of 20 (130 - 20 = 110), though the page speaks of 30 as well.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from assistant import formulas as f

GRASS = f.Ingredient(10, 77, 45, 2.4)
LEAVES = f.Ingredient(6.8, 35, 50, 0.75)
LB_PER_GAL = 453.59237 / 3.785411784
LB_PER_YD3 = 0.45359237 / 0.764554857984


def as_is(mass: float, carbon: float, nitrogen: float) -> f.Ingredient:
    """A material whose percentages are of the fresh mass."""
    return f.Ingredient(mass, 0, carbon, nitrogen)


HAY_SCRAPS_COFFEE = [as_is(50, 40, 1), as_is(10, 10, 1), as_is(2, 25, 1)]

SUMS: list[tuple[str, Callable[[], float], float, float, str]] = [
    ("T1 moisture", lambda: f.moisture(10, 2.3), 77.0, 0.05, "CWMI-moist"),
    ("T2 leaves for 60 %", lambda: f.second_for_moisture(10, 77, 35, 60), 6.8, 0.05, "CWMI-moist"),
    ("T3 blend", lambda: f.blend_moisture([(10, 77), (6.8, 35)]), 60.0, 0.05, "derived from CWMI-moist"),
    ("T4 leaves for C:N 30", lambda: f.second_for_c_to_n(GRASS, LEAVES, 30), 3.474, 0.0005, "from memory"),
    ("T5 C:N of the blend", lambda: f.blend_c_to_n([GRASS, LEAVES]), 36.73, 0.005, "from memory"),
    ("T6 litter's share", lambda: f.share_for_mean_ratio(7.5, 130, 20), 0.898, 0.0005, "NCEXT-2nd"),
    ("T6 straw's share", lambda: 1 - f.share_for_mean_ratio(7.5, 130, 20), 0.102, 0.0005, "NCEXT-2nd"),
    (
        "T7 carbon",
        lambda: sum(f.element_mass(i.mass, 0, i.carbon) for i in HAY_SCRAPS_COFFEE),
        21.5,
        1e-9,
        "ROD",
    ),
    (
        "T7 nitrogen",
        lambda: sum(f.element_mass(i.mass, 0, i.nitrogen) for i in HAY_SCRAPS_COFFEE),
        0.62,
        1e-9,
        "ROD",
    ),
    ("T7 C:N", lambda: f.blend_c_to_n(HAY_SCRAPS_COFFEE), 34.7, 0.05, "ROD"),
    ("T8 2 grass, 1 leaves", lambda: f.mean_ratio([(1, 20), (1, 20), (1, 60)]), 33.33, 0.005, "PARTS"),
    ("T9 grass, needles, manure", lambda: f.mean_ratio([(2, 20), (1, 110), (1, 15)]), 41.25, 1e-9, "PARTS"),
    ("T10 half and half", lambda: f.mean_ratio([(0.5, 20), (0.5, 40)]), 30, 1e-9, "KLICK"),
    (
        "T11 stalks for manure",
        lambda: f.second_for_mean_ratio(5, 25, 60, 30),
        0.833,
        0.0005,
        "derived from KLICK",
    ),
    ("T12 manure and stalks", lambda: f.mean_ratio([(2, 15), (1, 65)]), 31.67, 0.005, "derived from COOP"),
    ("T13 carbon from ash", lambda: f.carbon_from_ash(10, 1.8), 50.0, 1e-9, "CWMI-carbon"),
    ("T14 carbon from C:N", lambda: f.carbon_from_ratio(2.4, 19), 45.6, 1e-9, "CWMI-cn"),
    ("T15 water to add", lambda: f.water_to_add(10, 40, 60), 5.0, 1e-9, "derived from CWMI-moist"),
    ("T16 cardboard to dry it", lambda: f.second_for_moisture(10, 87, 8, 70), 2.742, 0.0005, "derived"),
    ("T17 loss of dry matter", lambda: f.loss_by_ash(10, 18), 0.4444, 0.00005, "derived"),
    ("T17 loss of solids", lambda: f.volatile_loss_by_ash(10, 18), 0.4938, 0.00005, "derived"),
    ("T22 lb/gal to kg/m3", lambda: 3.8 * LB_PER_GAL, 455, 0.5, "EPA16"),
    ("T23 lb/yd3 to kg/m3", lambda: 396 * LB_PER_YD3, 235, 0.5, "EPA16"),
    ("T23 lb/yd3 to lb/gal", lambda: f.convert(396, LB_PER_YD3, LB_PER_GAL), 1.96, 0.005, "EPA16"),
    ("T24 banana peel", lambda: f.waste_of(118, 36), 66.4, 0.05, "SR28 inputs"),
    ("T25 dry matter of a leek", lambda: f.dry_mass(89, 83.0), 15.1, 0.05, "SR28"),
    ("T26 eggshell", lambda: f.waste_of(50, 12), 6.8, 0.05, "SR28 inputs"),
    ("T27 surface for 4 lb a week", lambda: f.surface_for(4, 1), 4, 1e-9, "WIDNR"),
    ("T28 worms at 2 to 1", lambda: f.worms_for_food(0.25, 2), 0.5, 1e-9, "GTC"),
    ("T29 food for 1.25 lb", lambda: f.feed_a_day(1.25, 0.5), 0.62, 0.0051, "STOCK"),
    ("W16 food for 3.75 lb", lambda: f.feed_a_day(3.75, 0.5), 1.87, 0.0051, "STOCK"),
    ("W16 food for 10 lb", lambda: f.feed_a_day(10, 0.5), 5, 1e-9, "STOCK"),
    ("W14 worms in 2 ft3", lambda: f.stock_for(2, 0.25), 0.5, 1e-9, "GTC"),
    ("W15 low stock", lambda: f.stock_for(2.5, 0.5), 1.25, 1e-9, "STOCK"),
    ("W15 middle stock", lambda: f.stock_for(2.5, 1.5), 3.75, 1e-9, "STOCK"),
    ("W15 high stock", lambda: f.stock_for(2.5, 4), 10, 1e-9, "STOCK"),
    ("T30 doubling for a year", lambda: f.doubled(10, 360, 60), 640, 1e-6, "STOCK"),
    ("W17 doubling for two", lambda: f.doubled(10, 720, 60), 40_960, 1e-6, "STOCK (prints about 40 t)"),
    ("T31 young a week", lambda: f.young_per_week(3.8, 83.2, 3.3), 10.43, 0.005, "SPEC1"),
    ("T32 cocoons a week", lambda: f.per_week(1.65), 11.55, 1e-9, "VIL89 input"),
    ("T33 half as fast in the cool", lambda: f.rate_at(0.03, 10, 20, 2), 0.015, 1e-12, "KATT98"),
    ("T34 rate from loss", lambda: f.rate_from_loss(0.33, 12), 0.0334, 0.00005, "KUM10 inputs"),
    ("T38 newspaper for 2 ft3", lambda: f.stock_for(2, 2.5), 5, 1e-9, "GTC"),
]


@pytest.mark.parametrize(
    ("reckon", "printed", "within"), [row[1:4] for row in SUMS], ids=[f"{row[0]} ({row[4]})" for row in SUMS]
)
def test_printed_answer(reckon: Callable[[], float], printed: float, within: float) -> None:
    assert reckon() == pytest.approx(printed, abs=within)


def test_a_mix_by_true_sum_differs_from_the_home_shortcut() -> None:
    """NCEXT-2nd and KLICK average ratios; with unlike nitrogen that is not the C:N of the mix (CWMI-2)."""
    manure, stalks = f.Ingredient(2, 81, 2.4 * 15, 2.4), f.Ingredient(1, 12, 0.7 * 65, 0.7)
    true = f.blend_c_to_n([manure, stalks])
    assert true == pytest.approx((2 * 0.19 * 36 + 0.88 * 45.5) / (2 * 0.19 * 2.4 + 0.88 * 0.7))
    assert abs(true - f.mean_ratio([(2, 15), (1, 65)])) > 1
