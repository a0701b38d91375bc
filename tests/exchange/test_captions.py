"""SubRip and WebVTT (inputs 32, 33), against two libraries that read them and what the formats say.

Sources: the SubRip section of the Matroska subtitle specification; W3C WebVTT (sections named at each check);
pysubs2 and webvtt-py as outside readers. The talk in the examples is ours.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pysubs2
import pytest
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import FileError
from assistant.exchange import subrip
from assistant.exchange import webvtt as ours
from assistant.exchange.inward import read_file

Put = Callable[[str, str | bytes], Path]

SRT = """1
00:00:01,000 --> 00:00:03,500
okay so the top tray
is a bit wet

2
00:00:04,000 --> 00:00:06,000 X1:201 X2:516 Y1:397 Y2:423
{\\an8}<i>two handfuls</i> of <font color="#fff">cardboard</font>

3
01:02:03,004 --> 01:02:05,000
and that's it
"""
VTT = """\ufeffWEBVTT - a walk past the bins
Kind: captions

STYLE
::cue { color: papayawhip }

REGION
id:fred
width:40%

NOTE
two lines of a
comment

first
00:01.000 --> 00:03.500 align:start position:10%,line-left size:35%
okay so the <c.loud>top</c> tray
is a <b>bit</b> wet

00:00:04.000 --> 00:00:06.000
<v Ana>two handfuls of <00:00:05.000>cardboard &amp; card

102:02:03.004 --> 102:02:05.000
and that&#39;s it"""


def same(cues: list[tuple[float, float, str]], others: list[tuple[float, float, str]]) -> None:
    assert [(a, b, " ".join(text.split())) for a, b, text in cues] == [
        (pytest.approx(a), pytest.approx(b), " ".join(text.split())) for a, b, text in others
    ]


def srt_cues(text: str) -> list[tuple[float, float, str]]:
    return [(c.start, c.end or 0.0, c.text) for c in subrip.cues_of(text, "a.srt")]


def vtt_cues(text: str) -> list[tuple[float, float, str]]:
    return [(c.start, c.end or 0.0, c.text) for c in ours.cues_of(text.lstrip("\ufeff"), "a.vtt")[1]]


def test_subrip_as_pysubs2_reads_it() -> None:
    theirs = pysubs2.SSAFile.from_string(SRT, format_="srt")
    same(srt_cues(SRT), [(e.start / 1000, e.end / 1000, e.plaintext) for e in theirs])


def test_subrip_as_webvtt_py_reads_it(tmp_path: Path) -> None:
    plain = SRT.replace(" X1:201 X2:516 Y1:397 Y2:423", "").replace("{\\an8}", "")
    (tmp_path / "a.srt").write_text(plain, encoding="utf-8")
    theirs = webvtt.from_srt(tmp_path / "a.srt")
    same(srt_cues(plain), [(seconds(c.start), seconds(c.end), c.text) for c in theirs])


def test_webvtt_as_webvtt_py_reads_it() -> None:
    theirs = webvtt.from_string(VTT.lstrip("\ufeff"))
    expected = [(seconds(c.start), seconds(c.end), c.text) for c in theirs]
    # webvtt-py leaves character references as they stand; section 6.4 of the standard resolves them
    expected = [(a, b, text.replace("&amp;", "&").replace("&#39;", "'")) for a, b, text in expected]
    same(vtt_cues(VTT), expected)


TIMES = st.integers(0, 359_999_999).map(lambda t: t / 1000)  # pysubs2 writes no time past 99:59:59,999
WORD = st.sampled_from(["top", "tray", "wet", "2", "cups", "ok,", "it's", "café"])
WORDS = st.lists(WORD, min_size=1, max_size=8)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(TIMES, TIMES, WORDS), min_size=1, max_size=6))
def test_what_pysubs2_writes_is_read_back(rows: list[tuple[float, float, list[str]]]) -> None:
    """Any cues, in any order of time, numbers and settings as pysubs2 writes them, in both formats."""
    file = pysubs2.SSAFile()
    for start, end, words in rows:
        file.append(pysubs2.SSAEvent(round(start * 1000), round(end * 1000), "\\N".join(words)))
    written = [(e.start / 1000, e.end / 1000, e.plaintext) for e in sorted(file)]
    same(sorted(srt_cues(file.to_string("srt"))), sorted(written))
    same(sorted(vtt_cues(file.to_string("vtt"))), sorted(written))


def test_positions_styles_and_sounds_do_not_reach_the_note(put: Put, now: datetime) -> None:
    for name, text in (("2026-03-05.srt", SRT), ("2026-03-05.vtt", VTT)):
        [note] = read_file(put(name, text.replace("and that", "[Music] and that")), now)
        card = "cardboard" if name.endswith("srt") else "cardboard & card"
        assert note.text == f"okay so the top tray is a bit wet two handfuls of {card} and that's it"
        assert note.said_on == "2026-03-05" and note.doubts == ()
        assert [note.text[at:].split()[0] for at, _ in note.marks] == ["okay", "two", "and"]


@pytest.mark.parametrize(
    ("text", "said", "seconds"),
    [
        ("00:00:01,000 --> 00:00:02,000\none\n\n00:00:03,000 --> 00:00:04,000\ntwo", "one two", [1, 3]),
        ("1\n00:00:01,000 --> 00:00:02,000\n\n\n2\n00:00:03,000 --> 00:00:04,000\ntwo\n\n3\n", "two 3", [3]),
        ("1\n00:00:01,000 --> 00:00:09,000\none\n\n2\n00:00:03,000 --> 00:00:04,000\ntwo", "one two", [1, 3]),
        ("7\n00:00:01,000 --> 00:00:02,000\none\n2\n00:00:03,000 --> 00:00:04,000\ntwo", "one two", [1, 3]),
        ("1\n00:00:05,000 --> 00:00:06,000\none\n\n2\n00:00:03,000 --> 00:00:04,000\ntwo", "one two", [5, 3]),
        ("1\n00:01,5 --> 00:02\none", "one", [1.5]),
        ("100:00,000 --> 100:02,000\none\n\n123:00:00,000 --> 123:00:01,000\ntwo", "one two", [6000, 442800]),
        ("1\n00:00:01.000 --> 00:00:02.000\none\n\nstill one\n", "one still one", [1]),
        ("1\n00:00:01,000 --> 00:00:02,000\na bin --> a tub <3", "a bin --> a tub <3", [1]),
    ],
)
def test_subrip_is_read_where_it_is_clear(
    put: Put, now: datetime, text: str, said: str, seconds: list[float]
) -> None:
    [note] = read_file(put("a.srt", text), now)
    assert (note.text, [second for _, second in note.marks]) == (said, seconds)


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [  # the signature: WebVTT, section 6.1
        ("a.srt", "1\n00:00:01,000 --> 00:00:xx\none", "line 2: .* is not a time"),
        ("a.srt", "1\n00:00:01,000 --> 00:00:02,000\none\n\n2\n0:1 --> soon\ntwo", "line 6: .* not a time"),
        ("a.srt", "one\ntwo", "no captions"),
        ("a.srt", "1\n00:00:01,000 --> 00:00:02,000\n[Music]\n", "no words"),
        ("a.vtt", "00:01.000 --> 00:02.000\none", "line 1: .* has to begin with the word WEBVTT"),
        ("a.vtt", "WEBVTTX\n\n00:01.000 --> 00:02.000\none", "line 1: .* has to begin with the word WEBVTT"),
        ("a.vtt", "WEBVTT\n\n00:01.000 --> 00:61.000\none", "line 3: .* is not a time"),
        ("a.vtt", "WEBVTT\n\nid\n00:01.000 -> 00:02.000\n\n5\n00:03.0 --> later\n", "line 7: .* not a time"),
        ("a.vtt", "WEBVTT\n\nNOTE nothing said", "no words"),
    ],
)
def test_what_is_not_clear_is_one_line_with_its_number(
    put: Put, now: datetime, name: str, text: str, told: str
) -> None:
    with pytest.raises(FileError, match=told):
        read_file(put(name, text), now)


def test_webvtt_cues_with_no_empty_line_between_them() -> None:
    """WebVTT, section 6.1: a line with an arrow ends the block before it, comment or cue."""
    text = (
        "WEBVTT\n00:01.000 --> 00:02.000\none\n00:03.000 --> 00:04.000\ntwo\n\n"
        "NOTE\nthree\n00:05.000 --> 00:06.000\nfour\n\n"
        "00:07.000 --> 00:08.000\n00:09.000 --> 00:10.000\n\nNOTE no --> time\nhere\n"
    )
    same(vtt_cues(text), [(1, 2, "one"), (3, 4, "two"), (5, 6, "four"), (7, 8, ""), (9, 10, "")])


def test_rolling_captions_are_said_once(put: Put, now: datetime) -> None:
    """Live captions repeat the line before and let a line grow: common practice, no source."""
    rolling = """WEBVTT

00:00.000 --> 00:02.000
so the top tray

00:02.000 --> 00:02.010
so the top tray

00:02.010 --> 00:04.000
so the top tray
gets two handfuls

00:04.000 --> 00:06.000
gets two handfuls
of cardboard

00:06.000 --> 00:07.000
of cardboard and it

00:07.000 --> 00:08.000
of cardboard and it is wet
"""
    [note] = read_file(put("2026-03-05.vtt", rolling), now)
    assert note.text == "so the top tray gets two handfuls of cardboard and it is wet"
    assert [(note.text[at:].split()[0], second) for at, second in note.marks] == [
        ("so", 0), ("gets", 2.01), ("of", 4), ("and", 6), ("is", 7)
    ]  # fmt: skip
    assert note.doubts == ("5 caption lines that only repeated the line before",)


def test_the_same_words_said_twice_are_kept(put: Put, now: datetime) -> None:
    text = "1\n00:00:01,000 --> 00:00:02,000\na handful\n\n2\n00:00:09,000 --> 00:00:10,000\na handful\n"
    assert read_file(put("a.srt", text), now)[0].text == "a handful a handful"


def test_captions_under_a_plain_ending_are_known(put: Put, now: datetime) -> None:
    assert read_file(put("2026-03-05.txt", SRT), now)[0].marks == read_file(put("a.srt", SRT), now)[0].marks
    assert read_file(put("2026-03-05.md", VTT), now)[0].marks == read_file(put("a.vtt", VTT), now)[0].marks


@pytest.mark.parametrize(
    ("name", "text", "said_on"),
    [
        ("a.vtt", "WEBVTT 2026-03-05\n\n00:01.000 --> 00:02.000\none", "2026-03-05"),
        ("a.srt", "00:00:01,000 --> 00:00:02,000\nMarch 5 2026\n\n00:03,0 --> 00:04,0\none", "2026-03-05"),
        ("walk 3-1-2026.srt", "1\n00:00:01,000 --> 00:00:02,000\none", "2026-03-01"),
        ("walk.srt", "1\n00:00:01,000 --> 00:00:02,000\none", "2026-03-04T09:30:00"),
    ],
)
def test_the_day(put: Put, now: datetime, name: str, text: str, said_on: str) -> None:
    assert read_file(put(name, text), now)[0].said_on == said_on


def seconds(time: str) -> float:
    """The time as webvtt-py writes it, hours first."""
    hours, minutes, rest = time.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(rest)
