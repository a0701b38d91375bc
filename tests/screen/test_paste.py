"""Pastes: ten minutes of talk, one too long for the box, one with what a box cannot hold (inputs 2 to 7)."""

from __future__ import annotations

from time import perf_counter

import pytest

from assistant.screen.box import ROOM, Held

WALK = "\n".join(
    f"[{second // 60}:{second % 60:02}] so tier {second % 3 + 1} looks fine and I gave it a handful of kale"
    for second in range(0, 600, 4)
)
"""Ten minutes of talk, about 150 words a minute, with its times."""


async def test_a_ten_minute_transcript_lies_in_the_box_and_is_sent_whole(chat):
    assert 1_500 < len(WALK.split()) < 2_500
    async with chat((80, 24)) as it:
        await it.paste(WALK)
        assert it.box.text == WALK
        await it.press("enter")
        assert it.session.heard == [WALK]
        assert f"({len(WALK):,} characters in all, all of them kept)" in " ".join(it.text.split())


async def test_a_paste_goes_in_once_where_the_cursor_is(chat):
    async with chat() as it:
        it.box.text = "ab"
        it.box.move_cursor((0, 1))
        await it.paste("two\nlines ")
        assert it.box.text == "atwo\nlines b"


@pytest.mark.parametrize("odd", ["a\x1b[31mb", "a\x0bb", "a\u202eb", "a\x85b"])
async def test_what_a_box_cannot_hold_is_held_beside_it_and_kept_as_it_came(chat, odd):
    async with chat() as it:
        await it.paste(odd)
        assert it.box.text == "" and "held: a paste of" in it.text
        await it.press("enter")
        assert it.session.heard == [odd]
        assert it.session.log.notes()[0].text == odd
        assert "held:" not in it.text


async def test_a_long_paste_is_held_and_does_not_stall_the_keys(chat):
    talk = "so the middle tier looks fine and I gave it a handful of kale. " * 16_000
    async with chat() as it:
        it.box.text = "this morning:"
        it.box.move_cursor(it.box.document.end)
        began = perf_counter()
        await it.paste(talk)
        await it.pilot.press("x")
        assert perf_counter() - began < 5  # the box itself would take some 7 s for a megabyte
        assert "held: a paste of 1,008,000 characters" in it.text
        await it.press("enter")
        assert it.session.heard == [f"this morning:x\n{talk}"]


async def test_a_held_paste_is_let_go(chat):
    async with chat() as it:
        await it.paste("x" * (ROOM + 1))
        await it.press("escape", "enter")
        assert it.session.heard == [] and not it.app.chat.query_one(Held).display


async def test_a_held_paste_that_was_not_taken_is_held_again(chat):
    async with chat() as it:
        it.session.failing = ValueError("x")
        await it.paste("y" * (ROOM + 1))
        await it.press("enter")
        assert it.app.chat.query_one(Held).text == "y" * (ROOM + 1)


async def test_a_paste_on_a_record_goes_to_the_box(chat):
    async with chat() as it:
        await it.say("fed kale")
        await it.press("up")
        await it.paste("more")
        assert it.box.text == "more" and it.box.has_focus
