"""Text made safe to show: nothing typed or pasted can steer a terminal or reorder what stands beside it.

For showing only; the log and the exports keep the text as it came.
Sources: ECMA-48 (C0 and C1 controls, escape sequences), Unicode Standard Annex 9 (bidirectional controls),
Unicode block "Control Pictures".
"""

from __future__ import annotations

from itertools import chain

STAND_IN = "\N{REPLACEMENT CHARACTER}"
TAB = "    "

_UNSEEN = chain(  # zero-width and invisible: left out
    [0x00AD, 0x034F, 0x061C, 0x115F, 0x1160, 0x180E, 0x200E, 0x200F, 0x3164, 0xFEFF, 0xFFA0],
    range(0x200B, 0x200E),
    range(0x2060, 0x2066),
    range(0x206A, 0x2070),
    range(0xFFF9, 0xFFFC),
    range(0x13430, 0x13440),
    range(0x1BCA0, 0x1BCA4),
    range(0x1D173, 0x1D17B),
    range(0xE0000, 0xE0080),
)
_STEERING = chain(  # C1 controls, bidirectional embeddings, overrides and isolates, half characters
    range(0x80, 0xA0),
    range(0x202A, 0x202F),
    range(0x2066, 0x206A),
    range(0xD800, 0xE000),
)
_TABLE: dict[int, str] = {
    **dict.fromkeys(_UNSEEN, ""),
    **dict.fromkeys(_STEERING, STAND_IN),
    **{code: chr(0x2400 + code) for code in range(0x20)},
    0x7F: "\N{SYMBOL FOR DELETE}",
    ord("\t"): TAB,
    ord("\n"): "\n",
    0x85: "\n",
    0x2028: "\n",
    0x2029: "\n",
}


def shown(text: str) -> str:
    """`text` fit for a terminal: controls as visible stand-ins, direction marks and joiners neutralised.

    Line ends of any kind become `\\n` and are kept, a tab becomes four spaces; all else stays. Idempotent.
    """
    if text.isprintable() and text.isascii():
        return text
    return text.replace("\r\n", "\n").translate(_TABLE)


def one_line(text: str, width: int = 200) -> str:
    """`shown(text)` on one line of at most `width` characters, for an error or a doubt."""
    line = " ".join(shown(text[: 4 * width]).split())
    return line if len(line) <= width else line[: width - 1] + "…"
