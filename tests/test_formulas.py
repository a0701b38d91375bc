"""Formulas hold together: inverses, limits, plain errors. Printed answers: tests/outside/."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import formulas as f

percents = st.floats(1, 95)
masses = st.floats(0.01, 1000)


@given(masses, percents, percents, st.floats(0.01, 0.99))
def test_a_second_material_reaches_its_moisture_goal(
    mass: float, first: float, second: float, way: float
) -> None:
    goal = first + (second - first) * way
    if abs(second - first) < 0.5:
        return
    other = f.second_for_moisture(mass, first, second, goal)
    assert f.blend_moisture([(mass, first), (other, second)]) == pytest.approx(goal)


@given(masses, percents, st.floats(0.01, 0.99))
def test_water_reaches_its_goal(mass: float, has: float, way: float) -> None:
    goal = has + (99 - has) * way
    water = f.water_to_add(mass, has, goal)
    assert f.moisture(mass + water, f.dry_mass(mass, has)) == pytest.approx(goal)


@given(masses, st.floats(0.01, 0.99), st.floats(10, 25), st.floats(40, 600))
def test_a_second_material_reaches_its_c_to_n_goal(mass: float, way: float, low: float, high: float) -> None:
    first, second = f.Ingredient(mass, 80, 3 * low, 3), f.Ingredient(1, 10, 0.1 * high, 0.1)
    goal = low + (high - low) * way
    other = f.second_for_c_to_n(first, second, goal)
    blend = [first, f.Ingredient(other, 10, second.carbon, second.nitrogen)]
    assert f.blend_c_to_n(blend) == pytest.approx(goal, rel=1e-6)


@given(st.floats(0.0001, 0.2), st.floats(0.1, 400))
def test_rate_and_loss_are_inverse(rate: float, days: float) -> None:
    lost = 1 - f.left_after(rate, days)
    if lost < 1 - 1e-9:
        assert f.rate_from_loss(lost, days) == pytest.approx(rate, rel=1e-4)
    assert f.left_after(rate, f.half_life(rate)) == pytest.approx(0.5)


@given(st.floats(1, 1e5), st.floats(10, 400), st.floats(20, 400))
def test_doubling_is_its_own_inverse(start: float, doubling: float, days: float) -> None:
    assert f.doubling_days(start, f.doubled(start, days, doubling), days) == pytest.approx(doubling, rel=1e-6)


@given(masses, percents)
def test_dry_matter_and_water_make_the_whole(mass: float, percent: float) -> None:
    assert f.dry_mass(mass, percent) + f.water_mass(mass, percent) == pytest.approx(mass)


@given(st.floats(-40, 120))
def test_degrees_there_and_back(degrees: float) -> None:
    assert f.fahrenheit(f.celsius(degrees)) == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize(
    "reckon",
    [
        lambda: f.moisture(0, 0),
        lambda: f.moisture(2, 3),
        lambda: f.blend_moisture([]),
        lambda: f.second_for_moisture(10, 77, 60, 50),
        lambda: f.water_to_add(10, 80, 60),
        lambda: f.blend_c_to_n([f.Ingredient(1, 0, 40, 0)]),
        lambda: f.second_for_c_to_n(f.Ingredient(1, 80, 45, 3), f.Ingredient(1, 10, 45, 1), 90),
        lambda: f.mean_ratio([]),
        lambda: f.share_for_mean_ratio(20, 20, 20),
        lambda: f.loss_by_ash(18, 10),
        lambda: f.volatile_loss_by_ash(0, 0),
        lambda: f.rate_from_loss(1, 10),
        lambda: f.rate_from_loss(0.5, 0),
        lambda: f.half_life(0),
        lambda: f.doubled(1, 10, 0),
        lambda: f.doubling_days(2, 1, 10),
        lambda: f.waste_of(100, 100),
        lambda: f.convert(1, 2, 0),
    ],
)
def test_what_cannot_be_reckoned_says_so_in_a_sentence(reckon: object) -> None:
    with pytest.raises(ValueError, match=r"^[^\n]{10,}$"):
        reckon()  # type: ignore[operator]


def test_heat_rule_is_about_both_heat_and_time() -> None:
    assert f.held_long_enough(55, 3, 55, 3)
    assert not f.held_long_enough(54.9, 3, 55, 3)
    assert not f.held_long_enough(60, 2, 55, 3)
