"""Lines of the journal. Source of the checksum: CRC-32/ISO-HDLC, check value CBF43926 for "123456789" (the
catalogue of parametrised CRC algorithms; the CRC of zlib and of ISO 3309)."""

from __future__ import annotations

import json
import math
from zlib import crc32

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.log.lines import decode, encode, scan

LEAVES = (
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text()
)
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)
BODIES = st.dictionaries(st.text(min_size=1).filter(lambda key: key != "crc"), VALUES, min_size=1, max_size=4)


def test_the_checksum_is_the_published_one() -> None:
    assert crc32(b"123456789") == 0xCBF43926
    line = encode({"id": "a"})
    assert line == b'{"crc":"%08x","id":"a"}\n' % crc32(b'"id":"a"}')
    assert json.loads(line)["id"] == "a"


@given(BODIES)
def test_what_is_written_is_read_the_same(body: dict[str, object]) -> None:
    line = encode(body)
    assert line.isascii() and line.count(b"\n") == 1 and line.endswith(b"\n") and b"\r" not in line
    assert decode(line[:-1]) == body


@given(st.text(st.characters()))  # lone surrogates too
def test_any_text_survives(text: str) -> None:
    assert decode(encode({"text": text})[:-1]) == {"text": text}


@given(st.lists(BODIES, min_size=1, max_size=5), st.sampled_from([b"\n", b"\r\n", b"\r", b"\n\n", b" \n"]))
def test_any_line_end_does(bodies: list[dict[str, object]], end: bytes) -> None:
    data = b"".join(encode(body)[:-1] + end for body in bodies)
    found = scan(data)
    assert found.bodies == bodies and not found.damage and found.consumed == len(data)


@given(st.lists(BODIES, min_size=2, max_size=4), st.binary(max_size=20), st.integers(0, 3))
def test_junk_between_lines_costs_no_line(bodies: list[dict[str, object]], junk: bytes, at: int) -> None:
    lines = [encode(body) for body in bodies]
    lines.insert(min(at, len(lines)), junk)
    assert scan(b"".join(lines)).bodies == bodies


@given(st.lists(BODIES, min_size=2, max_size=4))
def test_lines_that_lost_their_ends_are_read_one_by_one(bodies: list[dict[str, object]]) -> None:
    found = scan(b"".join(encode(body)[:-1] + b"\x0b" for body in bodies))
    assert found.bodies == bodies
    assert found.consumed == 0


def test_damage_is_told_by_line() -> None:
    good, bad = encode({"id": "a"}), encode({"id": "b"}).replace(b"b", b"c")
    found = scan(good + bad + good + b"milk, eggs\n" + bad[:9], 10)
    assert [(damage.line, damage.data, damage.torn) for damage in found.damage] == [
        (12, bad[:-1], False),
        (14, b"milk, eggs", False),
        (15, bad[:9], True),
    ]
    assert (len(found.bodies), found.lines, found.consumed) == (2, 4, len(good + bad + good) + 11)


def test_a_right_checksum_over_something_else_is_damage() -> None:
    rest = b"not json"
    assert decode(b'{"crc":"%08x",' % crc32(rest) + rest) is None


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_what_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="JSON"):
        encode({"level": value})


def test_what_is_no_json_is_refused() -> None:
    with pytest.raises(TypeError):
        encode({"setting": {1, 2}})
