"""Text made safe to show (inputs 5 to 8). Sources named at each check."""

from __future__ import annotations

import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.exchange.clean import one_line, shown

ESC, BEL, C1_CSI, C1_OSC = "\x1b", "\x07", "\x9b", "\x9d"


@pytest.mark.parametrize(
    ("typed", "safe"),
    [  # ECMA-48 (controls, CSI, OSC) and the Unicode block Control Pictures
        ("a\0b", "a␀b"),
        (f"{ESC}[31mred{ESC}[0m", "␛[31mred␛[0m"),
        (f"{ESC}]52;c;aGk={BEL}", "␛]52;c;aGk=␇"),
        (f"{ESC}]8;;x{ESC}\\link{ESC}]8;;{ESC}\\", "␛]8;;x␛\\link␛]8;;␛\\"),
        (f"{C1_CSI}2J{C1_OSC}0;title", "�2J�0;title"),
        ("back\b\x7f", "back␈␡"),
        # no markup is taken or changed here: the screen shows it as typed
        ("[red] [/] [@click=app.quit]", "[red] [/] [@click=app.quit]"),
        # Unicode Standard Annex 9: overrides, embeddings, isolates
        ("two \u202ecups\u202c of", "two �cups� of"),
        ("\u2066a\u2069", "�a�"),
        # joiners and other characters of no width
        ("to\u200bp \u200dtray\ufeff", "top tray"),
        ("a\tb", "a    b"),
        ("a\r\nb\rc\u2028d\x85e", "a\nb␍c\nd\ne"),
        ("\ud800", "�"),
        ("½ cup, 3 café 🪱 שלום", "½ cup, 3 café 🪱 שלום"),
    ],
)
def test_shown(typed: str, safe: str) -> None:
    assert shown(typed) == safe


def test_no_control_or_steering_character_is_left() -> None:
    """Unicode Character Database: of the categories Cc, Cs, Zl and Zp only the line end is let through.

    Of Cf only the signs that are seen are (Arabic, Syriac and Kaithi number marks).
    """
    left = {
        code
        for code in range(sys.maxunicode + 1)
        if (out := shown(chr(code))) and unicodedata.category(out[0]) in ("Cc", "Cf", "Cs", "Zl", "Zp")
    }
    seen = {*range(0x600, 0x606), 0x6DD, 0x70F, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD}
    line_ends = {0x0A, 0x85, 0x2028, 0x2029}  # all shown as one line end
    assert left - seen == line_ends


@given(st.text())
def test_shown_once_is_shown_for_good(text: str) -> None:
    assert shown(shown(text)) == shown(text)
    assert text.isprintable() is False or shown(text) == text or not text.isascii()


@given(st.text(), st.integers(20, 200))
def test_one_line_is_one_line(text: str, width: int) -> None:
    line = one_line(text, width)
    assert len(line) <= width and line.splitlines() in ([line], [])
