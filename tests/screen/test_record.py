"""A record opened from its receipt: at its words in the note, amended in place, taken back."""

from __future__ import annotations

from textual.widgets import Input

from assistant.records import Amount
from assistant.screen.record_screen import RecordScreen

NOTE = "fed 2 handfuls of kale in tier 1, fed 3 cups of coffee grounds in tier 2 maybe"


def field(it, name):
    return next(one for one in it.app.screen.query(Input) if one.name == name)


async def test_opens_by_key_and_by_mouse(chat):
    async with chat((120, 40)) as it:
        await it.say(NOTE)
        await it.press("up", "enter")
        assert isinstance(it.app.screen, RecordScreen)
        assert "‹fed 3 cups of coffee grounds in tier 2 maybe›" in it.text
        await it.press("escape")
        await it.pilot.click(it.record_widgets[0])
        await it.settle()
        assert isinstance(it.app.screen, RecordScreen)
        assert "‹fed 2 handfuls of kale in tier 1›" in it.text


async def test_amended_in_place_and_no_longer_guessed(chat):
    async with chat((120, 40)) as it:
        await it.say(NOTE)
        await it.press("up", "enter")
        field(it, "amount").value = "1 to 2 cups"
        field(it, "tier").value = "3"
        await it.press("ctrl+s")
        new = it.session.log.entries()[1]
        assert (
            new.record.amount == Amount(1, 1.5, 2, "cup") and new.record.tier == 3 and new.record.unsure == ()
        )
        assert new.version == 2 and new.record.text == "fed 3 cups of coffee grounds in tier 2 maybe"
        assert it.records[1] == (
            "fed 1.5 (1 to 2) cups of coffee grounds, cellar stack, tier 3 from the top, 14 June; amended"
        )
        assert it.records.count(it.records[1]) == 2  # where it stood, and as what came of it


async def test_what_cannot_be_taken_is_said_and_nothing_is_lost(chat):
    async with chat((120, 40)) as it:
        await it.say(NOTE)
        await it.press("up", "enter")
        field(it, "tier").value = "9"
        await it.press("ctrl+s")
        assert "Not done: cellar stack has 3 tiers: no tier 9 there" in it.text
        assert field(it, "tier").value == "9"
        await it.press("escape")
        assert it.session.log.entries()[1].record.tier == 2


async def test_taken_back(chat):
    async with chat((120, 40)) as it:
        await it.say(NOTE)
        await it.press("up", "enter", "f8")
        assert [entry.record.item for entry in it.session.log.entries()] == ["kale"]
        assert it.records[1].startswith("taken back: fed 3 cups")
        await it.press("f4")
        assert not it.records[1].startswith("taken back")


async def test_left_as_it_is(chat):
    async with chat((120, 40)) as it:
        await it.say("fed kale in tier 1")
        await it.press("up", "enter", "ctrl+s")
        assert it.session.log.entries()[0].version == 1
