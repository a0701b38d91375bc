"""The log as Markdown and as a page (input 39).

Sources: WHATWG HTML through html.parser; Content Security Policy 3; CommonMark 0.31.
"""

from __future__ import annotations

import re
from datetime import datetime
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.exchange import markdown, webpage
from assistant.exchange.clean import shown
from assistant.exchange.outgoing import Outgoing
from assistant.exchange.outward import write_file
from assistant.records import Amount, Bin, Entry, Note, Price, Record

DAY = datetime(2026, 3, 6)
VOID = {"meta"}
NASTY = [
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "</blockquote></style><script>", "<!--",
    "a & b &lt; c", "javascript:alert(1)", "\u202eevil", "\x1b]0;x\x07\0", "\\",
    "`code` *bold* _it_ [a](http://b) ![i](j) <b> | # ~~x~~",
]  # fmt: skip


class Seen(HTMLParser):
    """The tags, attributes and words of a page; fails where tags do not close in order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.attributes: set[tuple[str, str | None]] = set()
        self.quotes: list[str] = []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= set(attrs)
        self.open += [] if tag in VOID else [tag]
        self.quotes += [""] if tag == "blockquote" else []

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] == "blockquote":
            self.quotes[-1] += data


class Due:
    def __init__(self, words: str) -> None:
        self.what = self.why = words
        self.bin: str | None = words
        self.tier: int | None = 1
        self.day: str | None = None


def log_of(words: str) -> Outgoing:
    record = Record("feed", bin=words, tier=2, spot=words, item=words, amount=Amount(1, 2, 3, words or "cup"),
                    price=Price(2, "USD"), level=0.5, text=words, unsure=(words,))  # fmt: skip
    note = Note("n", "2026-03-05T18:30:00", words)
    entries = [Entry("e", "n", note.said_on, record), Entry("f", "gone", "2026-03-01", record)]
    return Outgoing(entries, {"n": note}, (Bin(words or "x", 2),), [Due(words)], DAY)


def check_page(words: str) -> None:
    page = webpage.write(log_of(words))
    seen = Seen(page)
    assert seen.tags == {
        "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "table", "tr", "th", "td",
        "bdi", "section", "blockquote",
    }  # fmt: skip
    assert {name for name, _ in seen.attributes} == {
        "lang",
        "charset",
        "http-equiv",
        "content",
        "name",
        "dir",
    }
    assert seen.quotes == [shown(words)]


@pytest.mark.parametrize("words", NASTY)
def test_nothing_in_a_note_becomes_markup_of_the_page(words: str) -> None:
    check_page(words)


@settings(max_examples=60, deadline=None)
@given(st.text())
def test_any_words_stay_words(words: str) -> None:
    check_page(words.replace("\ud800", ""))


def test_the_page_stands_alone(tmp_path: Path, now: datetime) -> None:
    """No address outside it, and a policy (CSP 3) that would forbid one."""
    out = log_of("melon")
    write_file(tmp_path / "a.html", out.entries, out.notes, out.setup, out.due, now=now)
    page = (tmp_path / "a.html").read_text(encoding="utf-8")
    assert page.startswith("<!DOCTYPE html>\n")
    assert not re.search(r"https?:|//|url\(|@import|src=|href=|<script|<link", page)
    assert ("content", "default-src 'none'; style-src 'unsafe-inline'") in Seen(page).attributes
    assert "@media print" in page


BLOCK = re.compile(r"^\s{0,3}(?:#{1,6}\s|[-+*]\s|\d+[.)]\s|>|```|~~~|={2,}|-{2,}|\|)")


@pytest.mark.parametrize(
    "words", [*NASTY, "# a", "- a", "+ a", "1. a", "1) a", "> a", "=== a", "--- a", "  - a"]
)
def test_nothing_in_a_note_becomes_markup_of_the_list(words: str) -> None:
    text = markdown.write(log_of(words))
    quoted = [line[2:] for line in text.splitlines() if line.startswith("> ")]
    unescaped = re.sub(
        r"\\[!-/:-@\[-`{-~]", "", text
    )  # CommonMark 2.4: a backslash ahead makes punctuation plain
    assert quoted and not any(BLOCK.match(line) for line in quoted)
    assert not re.search(r"[<\[`*_~&]", unescaped)
    assert "\x1b" not in text and "\0" not in text and "\u202e" not in text


def test_what_the_pages_show(tmp_path: Path, now: datetime) -> None:
    out = log_of("melon")
    write_file(tmp_path / "a.md", out.entries, out.notes, out.setup, out.due, now=now)
    text = (tmp_path / "a.md").read_text(encoding="utf-8")
    assert "- melon: 2 tiers" in text and "- no day set: melon (melon, tier 1). melon" in text
    assert text.index("### 2026-03-01") < text.index("### 2026-03-05 18:30\n\n> melon\n")
    row = "| feed | melon | melon, tier 2, melon | 2 melon (1 to 3), level 0.5, 2 USD |  | done (melon) |"
    assert row in text
