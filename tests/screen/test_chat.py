"""The conversation: what is sent, what comes back, what the bins then show."""

from __future__ import annotations

import asyncio

from assistant.errors import LogError
from assistant.screen.bin_pane import BinPane, Tier
from assistant.screen.box import Box
from assistant.screen.conversation import AT_ONCE, KEPT, Message, MoreLine, RecordLine


async def test_a_note_comes_back_as_a_receipt(chat):
    async with chat((120, 40)) as it:
        await it.say("fed 2 handfuls of kale in tier 1, wet in tier 2")
        assert it.box.text == ""
        assert it.records == [
            "fed 2 handfuls of kale, cellar stack, top tier, 14 June",
            "moisture: wet, cellar stack, tier 2 from the top, 14 June",
        ]
        assert "ignored" not in it.text  # the text of a reply repeats its records


async def test_what_was_guessed_is_said_in_words(chat):
    async with chat() as it:
        await it.say("fed 2 cups of tea leaves in tier 1 maybe")
        assert it.records[0].endswith("; guessed: the item")
        assert "guessed: the item" in it.text


async def test_the_bins_follow(chat):
    async with chat((120, 40)) as it:
        await it.say("fed 2 handfuls of kale in tier 1, wet in tier 2")
        pane = it.app.chat.query_one(BinPane)
        tiers = [str(tier.content) for tier in pane.query(Tier)]
        assert tiers[0].startswith("top tier\nfed today: 2 handfuls kale\nfood waiting: 2 handfuls")
        assert "moisture: wet, today\ndue: add dry bedding" in tiers[1]
        assert tiers[2] == "tier 3 from the top\nnot fed yet\nmoisture: not seen yet"


async def test_answer_caution_and_question_back(chat):
    async with chat() as it:
        await it.say("why is it so")
        await it.say("caution where")
        assert "Because [b]you[/b] asked: why is it so" in it.text
        assert "Caution: wear a mask with dry lime" in it.text
        assert "? Which bin was that?" in it.text


async def test_first_start_asks_for_the_bins(chat):
    async with chat(with_bins=False) as it:
        assert "? Which bins do you have?" in it.text
        assert "No bins yet." in it.text


async def test_undo_takes_back_and_the_receipt_says_so(chat):
    async with chat() as it:
        await it.say("fed kale in tier 1")
        await it.press("f4")
        assert it.records[0].startswith("taken back: fed kale")
        assert it.session.log.entries() == []


async def test_keys_are_taken_and_notes_wait_while_one_is_read(chat):
    async with chat() as it:
        it.session.gate.clear()
        it.box.text = "fed kale"
        await it.pilot.press("enter")
        await it.pilot.press("a", "b", "c")
        assert it.box.text == "abc"
        await it.pilot.press("enter")
        await it.pilot.pause(0.9)
        assert "reading 8 characters: " in it.text
        assert it.session.heard == []
        it.session.gate.set()
        await it.settle()
        assert it.session.heard == ["fed kale", "abc"]
        assert it.session.most_inside == 1
        order = [str(message.content) for message in it.app.conversation.query(Message)]
        assert order == ["fed kale", "abc", "kept"]  # the receipt of kale stands under its note
        children = list(it.app.conversation.children)
        assert isinstance(children[1], RecordLine)
        assert "reading" not in it.text


async def test_an_error_is_one_line_and_the_words_come_back(chat):
    async with chat() as it:
        it.session.failing = LogError("the log's folder is gone:\nput it back")
        await it.say("fed kale")
        assert it.box.text == "fed kale"
        assert "Not done: the log's folder is gone: put it back" in it.text
        it.session.failing = None
        await it.press("enter")
        assert it.records == ["fed kale, cellar stack, 14 June"]


async def test_words_that_come_back_do_not_overwrite_what_was_written_since(chat):
    async with chat() as it:
        it.session.failing = RuntimeError("out of order")
        it.session.gate.clear()
        it.box.text = "fed kale"
        await it.pilot.press("enter", "x", "y")
        it.session.gate.set()
        await it.settle()
        assert it.box.text == "fed kale\n\nxy"
        assert "(RuntimeError: out of order)" in " ".join(it.text.split())


async def test_a_log_that_cannot_be_opened_is_tried_again(chat, tmp_path):
    (tmp_path / "log").write_text("a file, not a folder")
    async with chat() as it:
        assert "Not done: " in it.text
        await it.say("fed kale")
        assert it.box.text == "fed kale"
        (tmp_path / "log").unlink()
        await it.press("enter")
        assert it.records == ["fed kale, cellar stack, 14 June"]


async def test_four_hundred_messages_stay_quick_and_at_the_end(chat):
    async with chat((80, 24)) as it:
        for number in range(400):
            await it.app.conversation.heard(f"note {number}")
        await it.settle()
        conversation = it.app.conversation
        assert len(conversation.children) == KEPT
        assert conversation.scroll_y == conversation.max_scroll_y
        assert "note 399" in it.text


async def test_a_reader_who_scrolled_back_is_left_there(chat):
    async with chat((80, 24)) as it:
        for number in range(40):
            await it.app.conversation.say("answer", f"answer {number}")
        await it.press("pageup")
        before = it.app.conversation.scroll_y
        await it.app.conversation.say("answer", "one more")
        await it.settle()
        assert it.app.conversation.scroll_y == before < it.app.conversation.max_scroll_y


async def test_a_long_receipt_shows_its_rest_when_asked(chat):
    async with chat() as it:
        await it.say(", ".join(f"fed {number} cups of kale in tier 1" for number in range(1, AT_ONCE + 3)))
        assert len(it.record_widgets) == AT_ONCE
        more = it.app.chat.query_one(MoreLine)
        more.focus()
        await it.press("enter")
        assert len(it.record_widgets) == AT_ONCE + 2
        assert it.record_widgets[AT_ONCE].has_focus


async def test_leaving_waits_for_what_was_sent(chat):
    async with chat() as it:
        it.session.gate.clear()
        it.box.text = "fed kale"
        await it.pilot.press("enter", "ctrl+q")
        assert it.app.is_running and "Leaving once it is" in it.text
        it.session.gate.set()
        await asyncio.wait_for(it.app.jobs.settled(), 5)
        await it.pilot.pause()
        assert it.session.log.entries()[0].record.item == "kale"
    assert not it.app.is_running


async def test_leaving_with_something_unsent_asks_once(chat):
    async with chat() as it:
        it.box.text = "fed kale"
        await it.press("ctrl+q")
        assert it.app.is_running and "not sent" in it.text
        await it.press("enter", "ctrl+q")
        assert it.session.heard == ["fed kale"]
    assert not it.app.is_running


async def test_new_line_and_growth_of_the_box(chat):
    async with chat((80, 24)) as it:
        await it.pilot.press("a", "ctrl+j", "b")
        assert it.box.text == "a\nb"
        one = it.box.size.height
        it.box.text = "\n".join("abcdefghijklmnopqrst")
        await it.pilot.pause()
        assert one < it.box.size.height <= 24 * 0.4


async def test_only_what_is_ours_asks_for_the_palette(chat):
    async with chat() as it:
        names = {command.title for command in it.app.get_system_commands(it.app.screen)}
        assert {"Undo", "Bins", "Due", "Balances", "Theme", "Quit"} <= names


async def test_the_colours_are_kept_and_undo_passes_over_them(chat):
    async with chat() as it:
        await it.say("fed kale")
        it.app.theme = "gruvbox"
        await it.settle()
        await it.press("f4")
        assert it.records[0].startswith("taken back: fed kale")
    async with chat() as it:
        assert it.app.theme == "gruvbox"
    async with chat(colourless=True) as it:
        assert it.app.theme == "ansi-dark"


async def test_help_opens_and_closes(chat):
    async with chat((50, 16)) as it:
        await it.press("f1")
        assert "Write a note" in it.text
        await it.press("escape")
        assert it.app.screen is it.app.chat


async def test_kinds_of_words_are_told_apart_without_colour(chat):
    async with chat() as it:
        await it.say("caution where")
        it.session.failing = LogError("no room")
        await it.say("x")
        voices = {str(message.content).split()[0] for message in it.app.conversation.query(Message)}
        assert {"Caution:", "?", "Not"} <= voices


async def test_typing_on_a_record_goes_to_the_box(chat):
    async with chat() as it:
        await it.say("fed kale, fed melon")
        await it.press("up")
        assert isinstance(it.app.focused, RecordLine) and "melon" in it.app.focused.line.text
        await it.press("up")
        assert "kale" in it.app.focused.line.text
        await it.press("h")
        assert isinstance(it.app.focused, Box) and it.box.text == "h"
