"""Notes that would steer the terminal, read as markup or turn text round: shown as typed, kept as they came.

Sequences from ECMA-48 (CSI, OSC, C1) and the xterm control sequences (OSC 8, OSC 52, titles); marks from
Unicode Standard Annex 9; markup from Textual's own guide to content markup.
"""

from __future__ import annotations

import pytest
from textual.events import Paste

from assistant.exchange.clean import shown

HOSTILE = [
    "[red]wet[/] [/] [@click=app.quit]fed[/]",
    "[/",
    "\\[b]fed",
    "\x1b[31mred\x1b[2J",
    "\x1b]52;c;aGk=\x07",
    "\x1b]8;;http://example.org\x1b\\link\x1b]8;;\x1b\\",
    "\x9b2J\x9d0;title\x9c",
    "a\x00b",
    "two \u202ecups\u202c of \u2066kale\u2069",
    "to\u200bp \u200dtray\ufeff \u200f",
    "fed ３ cups 🪱 👩‍🌾 café",
]


@pytest.mark.parametrize("note", HOSTILE)
async def test_a_note_is_shown_as_typed_and_kept_as_it_came(chat, note):
    async with chat((100, 30)) as it:
        it.app.post_message(Paste(note))
        await it.settle()
        await it.press("enter")
        assert it.session.log.notes()[0].text == note
        first = shown(note).split("\n")[0]
        assert first.strip() in it.text
        assert not [c for c in it.text if c != "\n" and shown(c) != c]


@pytest.mark.parametrize("note", HOSTILE)
async def test_a_text_in_the_box_cannot_steer(chat, note):
    async with chat((100, 30)) as it:
        it.box.text = note
        await it.pilot.pause()
        drawn = [strip.text for strip in (it.box.render_line(y) for y in range(it.box.content_size.height))]
        assert not [c for line in drawn for c in line if c != "\u200b" and shown(c) != c]


@pytest.mark.parametrize("note", HOSTILE)
async def test_a_record_opens_at_words_that_are_hostile(chat, note):
    async with chat((100, 30)) as it:
        await it.say(f"{note}, fed kale")
        await it.press("up", "enter")
        assert "‹fed kale›" in it.text
        assert not [c for c in it.text if c != "\n" and shown(c) != c]
