"""Notes that would steer the terminal, read as markup or turn text round: shown as typed, kept as they came.

Sequences from ECMA-48 (CSI, OSC, C1) and the xterm control sequences (OSC 8, OSC 52, titles); marks from
Unicode Standard Annex 9; markup from Textual's own guide to content markup.
"""

from __future__ import annotations

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


def steering(text: str) -> list[str]:
    """The characters of a text that a terminal could obey, or that are not seen."""
    return [char for char in text if char != "\n" and shown(char) != char]


async def test_a_note_is_shown_as_typed_and_kept_as_it_came(chat):
    async with chat((100, 30)) as it:
        for note in HOSTILE:
            await it.paste(note)
            await it.press("enter")
            assert it.session.log.notes()[-1].text == note
            assert shown(note).split("\n")[0].strip() in it.text
            assert not steering(it.text)


async def test_a_text_in_the_box_cannot_steer(chat):
    async with chat((100, 30)) as it:
        for note in HOSTILE:
            it.box.text = note
            await it.pilot.pause()
            drawn = [it.box.render_line(y).text for y in range(it.box.content_size.height)]
            assert drawn and not steering("".join(drawn).replace("\u200b", ""))


async def test_a_record_opens_at_words_that_are_hostile(chat):
    async with chat((100, 30)) as it:
        for note in (HOSTILE[0], HOSTILE[4], HOSTILE[8]):
            await it.say(f"{note}, fed kale")
            await it.press("up", "enter")
            assert "‹fed kale›" in it.text
            assert not steering(it.text)
            await it.press("escape", "escape")
