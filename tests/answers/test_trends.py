"""The median of pairwise slopes against numpy, and what must hold of any trend."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.answers.trends import direction, slope

points = st.lists(st.tuples(st.integers(0, 400), st.integers(1, 5)), min_size=2, max_size=12)


@given(points)
def test_slope_against_numpy(found: list[tuple[int, int]]) -> None:
    x, y = np.array(found, dtype=float).T
    i, j = np.triu_indices(len(x), 1)
    apart = x[j] != x[i]
    theirs = (y[j] - y[i])[apart] / (x[j] - x[i])[apart]
    mine = slope([(float(a), float(b)) for a, b in found])
    if theirs.size:
        assert mine == pytest.approx(float(np.median(theirs)))
    else:
        assert mine is None


@given(points)
def test_turned_round(found: list[tuple[int, int]]) -> None:
    """Upside down, what rose falls; moved in time, it stays."""
    other = {"rising": "falling", "falling": "rising", "steady": "steady", None: None}
    mine = direction([(float(x), float(y)) for x, y in found], 0.5)
    assert direction([(float(x), float(-y)) for x, y in found], 0.5) == other[mine]
    assert direction([(float(x + 1000), float(y)) for x, y in found], 0.5) == mine


def test_one_odd_look_does_not_sway_it() -> None:
    steady = [(float(day), 3.0) for day in range(0, 70, 7)]
    steady[4] = (28.0, 5.0)
    assert direction(steady, 0.5) == "steady"


def test_one_look_is_no_trend() -> None:
    assert direction([(1.0, 3.0)], 0.5) is None
    assert direction([(1.0, 3.0), (1.0, 4.0)], 0.5) is None
