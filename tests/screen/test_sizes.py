"""The screen at the sizes that terminals have (inputs 49). The snapshots are ours: read them in a diff."""

from __future__ import annotations

import pytest
from seen import same_as_before

from assistant.screen.bin_pane import BinPane
from assistant.screen.talk import Talk
from assistant.screen.values import Stack, Standing, Tray

NOTES = (
    "fed 2 handfuls of kale in tier 1, wet in tier 2, "
    "fed 3 cups of coffee grounds in tier 2 maybe, planned melon",
    "why is it [red]wet[/]?",
    "caution where",
)
STANDING = Standing(
    (
        Stack(
            "cellar stack",
            (
                Tray(
                    "top tier",
                    ("fed today: 2 handfuls kale", "moisture: not seen yet"),
                    ("feed melon, 16 June",),
                ),
                Tray("tier 2 from the top", ("not fed yet", "moisture: wet, 3 days ago"), (), ("two lids",)),
            ),
        ),
        Stack("tub", (Tray("whole bin", ("fed 9 days ago", "moisture: right, yesterday")),)),
    ),
    Tray("beside the bins", (), ("buy coir, no day set",)),
)


@pytest.fixture
def fixed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The bins as written here, so that a snapshot shows this package only."""
    monkeypatch.setattr(Talk, "standing", lambda self: STANDING)


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (50, 16), (20, 5)])
async def test_a_conversation(chat, fixed, size):
    async with chat(size) as it:
        for note in NOTES:
            await it.say(note)
        same_as_before(it.app, f"conversation_{size[0]}x{size[1]}")


async def test_the_bins_take_the_place_of_the_conversation_where_it_is_narrow(chat, fixed):
    async with chat((50, 16)) as it:
        await it.say("fed kale in tier 1")
        assert not it.app.chat.query_one(BinPane).display
        await it.press("f2")
        same_as_before(it.app, "bins_50x16")
        await it.say("fed melon in tier 1")
        assert it.app.conversation.display and "fed melon" in it.text


async def test_the_bins_can_be_hidden_where_it_is_wide(chat):
    async with chat((120, 40)) as it:
        pane = it.app.chat.query_one(BinPane)
        assert pane.display
        await it.press("f2")
        assert not pane.display
        await it.press("f2")
        assert pane.display


async def test_resized_while_typing(chat):
    async with chat((120, 40)) as it:
        it.box.text = words = "fed two handfuls of kale and a good deal more than fits in twenty columns"
        for size in ((20, 5), (300, 100), (1, 1), (50, 16), (120, 40)):
            await it.pilot.resize_terminal(*size)
            await it.pilot.press("x")
        assert it.box.text == "xxxxx" + words
        assert it.app.chat.query_one(BinPane).display


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (50, 16)])
async def test_a_record_opened(chat, fixed, size):
    async with chat(size) as it:
        await it.say(NOTES[0])
        await it.press("up", "up", "enter")
        same_as_before(it.app, f"record_{size[0]}x{size[1]}")


@pytest.mark.parametrize("theme", ["textual-light", "ansi-dark", "ansi-light"])
async def test_other_colours_show_the_same(chat, theme):
    async with chat((80, 24)) as it:
        it.app.theme = theme
        await it.say("fed kale in tier 1")
        assert "fed kale, cellar stack, top tier, 14 June" in it.text
