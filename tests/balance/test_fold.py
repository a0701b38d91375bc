"""What each kind of record does to the balances."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import exp
from typing import Any

import pytest

from assistant.balance import Balances, rows, with_entry
from assistant.balance.contents import standing
from assistant.balance.portions import Portion
from assistant.balance.rows import BalanceRow
from assistant.balance.steps import STEPS
from assistant.balance.stocks import purses, stocks
from assistant.records import KINDS, Bin
from lexicon import Lexicon

FED = {"kind": "feed", "item": "coffee grounds", "tier": 1}


def row(books: Balances, tier: int | None, name: str = "cellar stack") -> BalanceRow:
    return next(one for one in rows(books) if one.bin == name and one.tier == tier)


def portions(books: Balances, tier: int, name: str = "cellar stack") -> list[Portion]:
    bin_ = books.bins[name]
    return bin_.places[bin_.order[tier - 1]].portions()


def test_every_kind_of_record_has_a_step() -> None:
    assert set(STEPS) == KINDS


def test_amounts_stay_in_the_keepers_own_units(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (3, "handful")}, FED | {"amount": (2, 3, 4, "handful")}, FED)
    log.note("2026-03-01", {"kind": "feed", "item": "carrot", "tier": 1, "amount": (1, "lb")}, FED)
    food = row(log.fold("2026-03-01"), 1).food
    assert [(one.low, one.best, one.high, one.unit) for one in food.put_in] == [
        (5, 6, 7, "handful"),
        (1, 1, 1, "lb"),
    ]
    assert food.uncounted == ("r3", "r5")
    assert set(food.records) == {"r1", "r2", "r3", "r4", "r5"}


def test_weight_comes_from_the_lexicons_density_and_says_so(log: Any, lexicon: Lexicon) -> None:
    log.note("2026-03-01", FED | {"amount": (1, "quart")})
    density = lexicon.things["food"]["coffee grounds"].figures["density"]
    [portion] = portions(log.fold("2026-03-01"), 1)
    kilos = portion.kilograms(portion.left)
    assert kilos is not None and portion.of.weight is not None
    assert kilos.best == pytest.approx(0.946352946e-3 * density.best)  # a US quart, NIST Handbook 44
    assert kilos.low == pytest.approx(0.946352946e-3 * density.low)
    assert density.source in portion.of.weight.sources and "kg/m3" in portion.of.weight.basis


@pytest.mark.parametrize("state", ["planned", "expected", "ruled_out"])
def test_only_what_was_done_counts(log: Any, state: str) -> None:
    log.note("2026-03-01", FED | {"state": state, "amount": (1, "lb")})
    assert row(log.fold("2026-03-02"), 1).food.records == ()


def test_a_day_still_to_come_is_doubted_and_not_counted(log: Any) -> None:
    log.note("2026-03-01", FED | {"when": "2026-03-09"})
    books = log.fold("2026-03-01")
    assert row(books, 1).food.records == ()
    assert [doubt.records for doubt in books.doubts] == [("r1",)]


def test_food_shrinks_by_first_order_loss(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    [portion] = portions(log.fold("2026-03-01"), 1)
    rate = portion.of.substance.rate
    assert rate is not None and rate.source
    [left] = row(log.fold("2026-03-11"), 1).food.left
    expected = [4 * exp(-each * 10) for each in (rate.most, rate.value, rate.least)]
    assert [left.low, left.best, left.high] == pytest.approx(expected)


def test_a_warm_bed_eats_faster(log: Any) -> None:
    """A factor of 2 for 10 C: Katterer et al. 1998 (KATT98)."""
    warm = {"kind": "temperature", "item": "bed", "amount": (30, "degC"), "tier": 1}
    log.note("2026-03-01", warm, FED | {"amount": (4, "cup")})
    [portion] = portions(log.fold("2026-03-01"), 1)
    [left] = row(log.fold("2026-03-11"), 1).food.left
    assert portion.of.substance.rate is not None
    assert left.best == pytest.approx(4 * exp(-portion.of.substance.rate.value * 20))


def test_a_reading_of_the_room_does_not_warm_the_bed(log: Any) -> None:
    log.note("2026-03-01", {"kind": "temperature", "item": "air", "amount": (86, "degF"), "bin": None})
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    books = log.fold("2026-03-11")
    assert books.bins["cellar stack"].clock.factor == 1
    assert books.room[0].value == pytest.approx(30)


def test_what_is_seen_left_sets_the_pocket_right_and_the_gap_is_kept(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-08", {"kind": "leftover", "item": "coffee grounds", "level": 0.5, "tier": 1})
    books = log.fold("2026-03-08")
    [left] = row(books, 1).food.left
    assert left.best == pytest.approx(2)
    [gap] = books.bins["cellar stack"].gaps
    assert (gap.portion, gap.seen) == ("r1", 0.5) and gap.reckoned > 0.5


def test_only_the_newest_feeding_can_be_raised_by_a_look(log: Any) -> None:
    log.note("2026-01-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-01", FED | {"amount": (2, "cup")})
    log.note("2026-03-04", {"kind": "leftover", "item": "coffee grounds", "level": 1, "tier": 1})
    books = log.fold("2026-03-04")
    old, new = standing(books, books.bins["cellar stack"], books.bins["cellar stack"].places["1"])
    assert new.left.best == pytest.approx(1) and old.left.best < 0.3


def test_older_feedings_stand_no_higher_than_what_is_seen(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-05", FED | {"amount": (2, "cup")})
    log.note("2026-03-08", {"kind": "leftover", "item": "coffee grounds", "level": 0.25, "tier": 1})
    old, new = portions(log.fold("2026-03-08"), 1)
    assert (old.left.best, new.left.best) == pytest.approx((0.25, 0.25))


def test_what_went_in_with_a_look_is_not_what_was_seen(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    look = {"kind": "leftover", "item": "coffee grounds", "level": 0.25, "tier": 1}
    log.note("2026-03-08", FED | {"amount": (2, "cup")}, look)
    old, new = portions(log.fold("2026-03-08"), 1)
    assert (old.left.best, new.left.best) == pytest.approx((0.25, 1))


def test_food_seen_gone_waits_no_longer(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-08", {"kind": "leftover", "item": None, "level": 0, "tier": 1})
    assert row(log.fold("2026-03-08"), 1).food.records == ()


def test_food_seen_that_never_went_in_is_a_doubt(log: Any) -> None:
    log.note("2026-03-01", FED)
    log.note("2026-03-08", {"kind": "leftover", "item": "carrot", "level": 0.5, "tier": 1})
    assert [one.records for one in row(log.fold("2026-03-08"), 1).doubts] == [("r2",)]


def test_an_emptied_tray_goes_on_top(log: Any) -> None:
    fed = [
        FED | {"tier": tier, "item": item} for tier, item in ((1, "carrot"), (2, "bread"), (3, "tea leaves"))
    ]
    log.note("2026-03-01", *fed)
    restack = {"kind": "restack", "tier": 3, "to_tier": 1, "item": "tier"}
    log.note("2026-03-05", restack, FED | {"item": "melon rind"})
    books = log.fold("2026-03-05")
    items = [[one.of.item for one in portions(books, tier)] for tier in (1, 2, 3)]
    assert items == [["tea leaves", "melon rind"], ["carrot"], ["bread"]]
    bin_ = books.bins["cellar stack"]
    tray = bin_.places[bin_.order[0]]
    assert bin_.tier_of(tray) == 1
    assert bin_.tier_of(tray, date(2026, 3, 4).toordinal()) == 3


def test_a_swap_is_two_records_that_take_effect_together(log: Any) -> None:
    log.note("2026-03-01", FED | {"item": "carrot", "tier": 1}, FED | {"item": "bread", "tier": 2})
    swap = [{"kind": "restack", "tier": a, "to_tier": b, "item": "tier"} for a, b in ((1, 2), (2, 1))]
    log.note("2026-03-05", *swap)
    books = log.fold("2026-03-05")
    assert [[one.of.item for one in portions(books, tier)] for tier in (1, 2, 3)] == [
        ["bread"],
        ["carrot"],
        [],
    ]


def test_the_lowest_tray_goes_on_top_twice_in_one_note(log: Any) -> None:
    foods = ((1, "carrot"), (2, "bread"), (3, "tea leaves"))
    fed = [FED | {"tier": tier, "item": item} for tier, item in foods]
    log.note("2026-03-01", *fed)
    up = {"kind": "restack", "tier": 3, "to_tier": 1, "item": "tier"}
    log.note("2026-03-05", up, up)
    books = log.fold("2026-03-05")
    assert [portions(books, tier)[0].of.item for tier in (1, 2, 3)] == ["bread", "tea leaves", "carrot"]


def test_a_tray_added_on_top_was_not_there_before(log: Any) -> None:
    log.note("2026-03-01", FED | {"item": "carrot", "tier": 1})
    log.note("2026-03-05", {"kind": "restack", "tier": None, "to_tier": 1, "item": "tier"})
    books = log.fold("2026-03-05")
    assert len(books.bins["cellar stack"].order) == 3  # as the set-up has it now
    assert [[one.of.item for one in portions(books, tier)] for tier in (1, 2, 3)] == [[], ["carrot"], []]


def test_a_tray_taken_off_keeps_what_is_in_it(log: Any) -> None:
    log.note("2026-03-01", FED | {"item": "bread", "tier": 4})
    log.note("2026-03-05", {"kind": "restack", "tier": 4, "to_tier": None, "item": "tier"})
    books = log.fold("2026-03-05")
    assert len(books.bins["cellar stack"].order) == 3
    [off] = [one for one in rows(books) if one.off]
    assert off.food.records == ("r1",)


def test_food_moved_is_the_same_food(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-06", {"kind": "move", "item": "coffee grounds", "tier": 1, "to_tier": 2})
    stayed = log.entries.pop()
    [still] = row(log.fold("2026-03-20"), 1).food.left
    log.entries.append(stayed)
    books = log.fold("2026-03-20")
    assert row(books, 1).food.records == ()
    [moved] = row(books, 2).food.left
    assert moved.best == pytest.approx(still.best)


def test_part_of_a_heap_taken_out(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-01", {"kind": "remove", "item": "coffee grounds", "tier": 1, "amount": (1, "cup")})
    books = log.fold("2026-03-01")
    assert row(books, 1).food.left[0].best == pytest.approx(3)
    [gone] = books.bins["cellar stack"].gone
    assert gone.portion.left.best == pytest.approx(0.25)


def test_new_bedding_replaces_all_of_the_old(log: Any) -> None:
    bed = {"kind": "bed", "item": "shredded cardboard", "tier": 2, "amount": (3, "handful")}
    log.note("2026-03-01", bed)
    log.note("2026-03-05", {"kind": "refresh", "tier": 2}, bed | {"item": "coconut coir"})
    assert row(log.fold("2026-03-05"), 2).bedding.records == ("r3",)


def test_castings_harvested_and_sold(log: Any) -> None:
    take = {"kind": "harvest", "tier": 3, "item": "castings", "amount": (6, "cup")}
    log.note("2026-03-01", take)
    log.note(
        "2026-03-02", {"kind": "sell", "item": "castings", "amount": (2, "cup"), "price": 10, "bin": None}
    )
    log.note("2026-03-03", {"kind": "give", "item": "castings", "amount": (1, "cup"), "bin": None})
    books = log.fold("2026-03-03")
    [stock] = stocks(books)
    assert stock.now is not None and (stock.now.best, stock.now.unit) == (3, "cup")
    assert stock.doubts == ()
    [purse] = purses(books)
    assert (purse.currency, purse.got, purse.paid) == ("USD", 10, 0)


def test_how_far_a_tray_was_says_no_more_once_it_is_harvested(log: Any) -> None:
    log.note("2026-03-01", {"kind": "progress", "level": 0.75, "tier": 3})
    some = {"kind": "harvest", "tier": 3, "item": "castings", "amount": (1, "cup")}
    log.note("2026-03-02", some)
    assert "progress" in {saw.kind for saw in row(log.fold("2026-03-02"), 3).saw}
    log.note("2026-03-03", {"kind": "harvest", "tier": 3, "item": "castings"})
    assert "progress" not in {saw.kind for saw in row(log.fold("2026-03-03"), 3).saw}


def test_more_gone_than_came_in_is_a_doubt_with_its_records(log: Any) -> None:
    log.note("2026-03-01", {"kind": "harvest", "tier": 3, "item": "castings", "amount": (2, "cup")})
    log.note("2026-03-02", {"kind": "sell", "item": "castings", "amount": (5, "cup"), "bin": None})
    [stock] = stocks(log.fold("2026-03-03"))
    assert stock.now is not None and stock.now.best == -3
    assert [doubt.records for doubt in stock.doubts] == [("r1", "r2")]


def test_bedding_made_ready_is_used_up(log: Any) -> None:
    ready = {"kind": "prepare", "item": "shredded cardboard", "amount": (5, "handful"), "bin": None}
    log.note("2026-03-01", ready)
    log.note("2026-03-02", {"kind": "bed", "item": "shredded cardboard", "tier": 1, "amount": (2, "handful")})
    [stock] = stocks(log.fold("2026-03-03"))
    assert stock.now is not None and stock.now.best == 3
    log.note("2026-03-04", {"kind": "bed", "item": "shredded cardboard", "tier": 1, "amount": (7, "handful")})
    [stock] = stocks(log.fold("2026-03-05"))
    assert stock.now is not None and stock.now.best == 0
    assert [doubt.records for doubt in stock.doubts] == [("r3",)]


def test_worms_by_estimate_and_what_came_since(log: Any) -> None:
    log.note("2026-03-01", {"kind": "worms_added", "item": "worms", "tier": 1, "amount": (2, "lb")})
    log.note("2026-03-05", {"kind": "worm_estimate", "item": "worms", "tier": 1, "amount": (1000, "piece")})
    log.note("2026-03-09", {"kind": "worms_added", "item": "worms", "tier": 1, "amount": (1, "lb")})
    [worms] = row(log.fold("2026-03-09"), 1).worms
    assert worms.estimate is not None and worms.estimate.record == "r2"
    assert [(one.best, one.unit) for one in worms.added] == [(1, "lb")]


def test_a_bin_of_one_tier_has_none_said(log: Any) -> None:
    log.note("2026-03-01", FED | {"bin": "tote", "tier": None, "amount": (1, "cup")})
    held = [one for one in rows(log.fold("2026-03-01")) if one.bin == "tote"]
    assert [(one.tier, one.food.records) for one in held] == [(None, ("r1",))]


def test_food_with_no_tier_said_is_found_from_a_tier(log: Any) -> None:
    log.note("2026-03-01", FED | {"tier": None})
    log.note("2026-03-04", {"kind": "leftover", "item": "coffee grounds", "level": 0, "tier": 2})
    assert row(log.fold("2026-03-04"), None).food.records == ()


def test_one_more_record_is_as_good_as_folding_all(log: Any) -> None:
    log.note("2026-03-01", FED | {"amount": (4, "cup")})
    log.note("2026-03-05", {"kind": "leftover", "item": None, "level": 0.5, "tier": 1})
    log.note("2026-03-06", {"kind": "restack", "tier": 3, "to_tier": 1, "item": "tier"})
    log.note("2026-03-06", {"kind": "harvest", "tier": 3, "item": "castings", "amount": (1, "cup")})
    whole = log.fold("2026-03-09")
    *before, last = log.entries
    log.entries = before
    books = log.fold("2026-03-09")
    held = rows(books)
    assert rows(with_entry(books, last)) == rows(whole)
    assert stocks(with_entry(books, last)) == stocks(whole)
    assert rows(books) == held


def test_a_record_from_before_needs_a_new_fold(log: Any) -> None:
    log.note("2026-03-01", FED)
    log.note("2026-03-05", FED)
    early, late = log.entries
    log.entries = [late]
    with pytest.raises(ValueError, match="fold all"):
        with_entry(log.fold("2026-03-09"), early)


def test_a_bin_that_the_set_up_does_not_know(new_log: Callable[..., Any]) -> None:
    log = new_log(Bin("tote", 1))
    log.note("2026-03-01", {"kind": "start", "bin": "bath"}, FED | {"bin": "bath", "tier": 2})
    assert {(one.bin, one.tier) for one in rows(log.fold("2026-03-01"))} == {
        ("tote", None),
        ("bath", 1),
        ("bath", 2),
    }
