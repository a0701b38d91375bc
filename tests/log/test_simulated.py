"""The main gate of the log: random lives on a simulated disk (see simdisk.py and simulator.py)."""

from __future__ import annotations

import pytest
import simulator

import assistant.log


def test_a_thousand_lives_lose_nothing_that_was_acknowledged() -> None:
    told = simulator.live(assistant.log, range(1_000))
    assert told["schedules"] == 1_000
    # the disks did do their worst: without cuts, kills and errors the run would prove nothing
    assert told["cuts"] > 2_000 and told["kills"] > 1_000 and told["errors"] > 2_000


@pytest.mark.long
def test_ten_thousand_lives_lose_nothing_that_was_acknowledged() -> None:
    assert simulator.live(assistant.log, range(1_000, 11_000))["schedules"] == 10_000
