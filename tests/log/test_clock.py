"""The clock that only goes forward and the ids.

Sources: RFC 9562, section 5.7 and appendix A.6 (UUIDv7); the rules of the hybrid logical clock are those of
Kulkarni, Demirbas and others, "Logical Physical Clocks" (OPODIS 2014), figure 5.
"""

from __future__ import annotations

import uuid
from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from assistant.log.clock import HybridClock, Ids, milliseconds, uuid7, zone

NOW = datetime(2026, 11, 25, 9, 30)
MOMENTS = st.lists(st.integers(-(10**9), 10**9), min_size=1, max_size=40)


class Hand:
    """A clock whose hand the test moves."""

    def __init__(self) -> None:
        self.at = NOW

    def __call__(self) -> datetime:
        return self.at


def test_the_layout_is_that_of_the_standard() -> None:
    # RFC 9562, appendix A.6: 2022-02-22 19:22:22 UTC, rand_a CC3, rand_b 18C4DC0C0C07398F
    made = uuid7(0x017F22E279B0, 0xCC3, 0x18C4DC0C0C07398F)
    assert str(made) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert milliseconds(datetime.fromisoformat("2022-02-22T14:22:22-05:00")) == 0x017F22E279B0


@given(MOMENTS)
def test_ids_sort_in_the_order_of_their_making_whatever_the_clock_says(steps: list[int]) -> None:
    hand = Hand()
    ids = Ids(hand, random=lambda size: b"\xff" * size)
    made = []
    for step in steps:
        hand.at = NOW + timedelta(milliseconds=step)
        made += [ids(), ids()]
    assert made == sorted(set(made))
    assert all(uuid.UUID(one).version == 7 for one in made)


def test_more_ids_in_a_millisecond_than_the_counter_holds() -> None:
    ids = Ids(Hand())
    made = [ids() for _ in range(10_000)]
    assert made == sorted(set(made))


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(-(10**12), 10**12)), max_size=60))
def test_stamps_grow_on_every_machine_and_pass_what_was_seen(steps: list[tuple[int, int]]) -> None:
    hands = [Hand(), Hand(), Hand()]
    clocks = [HybridClock(hand) for hand in hands]
    seen = [""] * 3
    for machine, step in steps:
        hands[machine].at = NOW + timedelta(milliseconds=step)
        stamp = clocks[machine].tick()
        assert stamp > seen[machine]
        other = (machine + 1) % 3
        clocks[other].seen(stamp)
        seen[machine], seen[other] = stamp, max(stamp, seen[other])


def test_the_time_of_the_machine_is_in_the_stamp_while_it_goes_forward() -> None:
    clock = HybridClock(Hand())
    assert int(clock.tick()[:12], 16) == milliseconds(NOW)
    assert clock.tick()[:12] == clock.tick()[:12]


def test_a_count_that_is_full_goes_on_in_the_next_millisecond() -> None:
    clock = HybridClock(Hand())
    clock.seen(f"{milliseconds(NOW):012x}ffffff")
    assert clock.tick() == f"{milliseconds(NOW) + 1:012x}000000"


def test_the_zone_is_that_of_the_moment() -> None:
    assert zone(datetime.fromisoformat("2026-07-01T12:00:00-04:00")) == -240
    assert zone(datetime.fromisoformat("2026-07-01T12:00:00+05:45")) == 345
    assert zone(datetime.fromisoformat("2026-07-01T12:00:00Z")) == 0
    assert zone(datetime(1, 1, 1)) in range(-1440, 1440)


def test_years_that_no_machine_lives_in() -> None:
    assert milliseconds(datetime(1, 1, 1)) == 0
    assert milliseconds(datetime(9999, 12, 31, 23, 59)) < 1 << 48
    assert (
        len(HybridClock(lambda: datetime.max).tick()) == len(HybridClock(lambda: datetime.min).tick()) == 18
    )
