"""Bytes of a file into text: what may be opened, which encoding it is in, and one kind of line end.

Sources: Unicode Standard 2.13 and 3.10 (byte order marks, well-formed UTF-8), WHATWG Encoding (windows-1252).
"""

from __future__ import annotations

import codecs
import errno
import hashlib
import os
import re
import stat
from datetime import datetime
from pathlib import Path

from assistant.errors import FileError
from assistant.exchange.clean import one_line

LIMIT = 200_000_000
"""Bytes of the largest file that is taken."""

_MARKS = (  # the longer ones first: the mark of UTF-32 begins with that of UTF-16
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_NOT_FILES = (
    (stat.S_ISDIR, "is a folder"),
    (stat.S_ISFIFO, "is a pipe"),
    (stat.S_ISSOCK, "is a socket"),
    (stat.S_ISCHR, "is a device"),
    (stat.S_ISBLK, "is a device"),
)
_REASONS = {
    errno.ENOENT: "there is no such file",
    errno.ENOTDIR: "there is no such file",
    errno.ELOOP: "its links go round in a circle",
    errno.EACCES: "it may not be read by you",
    errno.EPERM: "it may not be read by you",
    errno.ENXIO: "is a socket or a device, not a file of text",
    errno.ENAMETOOLONG: "its name is too long",
}
_WELL_FORMED = re.compile(rb"[\xc2-\xdf][\x80-\xbf]|[\xe0-\xef][\x80-\xbf]{2}|[\xf0-\xf4][\x80-\xbf]{3}")
_CONTROLS = bytes([*range(9), 0x0B, *range(0x0E, 0x1B), *range(0x1C, 0x20), 0x7F])


def read_bytes(path: Path) -> tuple[bytes, datetime]:
    """The bytes of a plain file and its modification time (local). FileError, one line, for anything else."""
    name = one_line(str(path))
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0))
    except (OSError, ValueError) as error:
        raise FileError(f"{name}: {reason(error)}") from None
    try:
        about = os.fstat(handle)
        for is_one, what in _NOT_FILES:
            if is_one(about.st_mode):
                raise FileError(f"{name} {what}, not a file of text")
        if about.st_size > LIMIT:
            raise FileError(f"{name}: larger than {LIMIT // 1_000_000} MB; split it into smaller files")
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(LIMIT + 1), datetime.fromtimestamp(about.st_mtime)
    except OSError as error:
        raise FileError(f"{name}: {reason(error)}") from None
    finally:
        os.close(handle)


def reason(error: OSError | ValueError) -> str:
    """Why the system refused, in plain words."""
    if isinstance(error, OSError) and error.errno is not None:
        return _REASONS.get(error.errno) or (error.strerror or "it cannot be opened").lower()
    return "its name cannot be used"


def decode(data: bytes, name: str) -> tuple[str, tuple[str, ...]]:
    """Text with `\\n` line ends, and doubts about the encoding. FileError names the byte that is wrong."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _plain(_strictly(data, encoding, name, len(mark))), ()
    guess = _utf16_guess(data)
    if guess:
        text = _strictly(data, guess, name)
        return _plain(text), ("read as UTF-16, though the file does not say so",)
    if len(data) - len(data.translate(None, _CONTROLS)) > max(8, len(data) // 10):
        raise FileError(f"{one_line(name)}: this is not a file of text")
    try:
        return _plain(data.decode("utf-8")), ()
    except UnicodeDecodeError as error:
        first = error.start
    if _mostly_utf8(data):  # UTF-8 with something broken in it, not another encoding
        raise FileError(f"{one_line(name)}: byte {first + 1} is broken UTF-8; save it again as UTF-8")
    text = _strictly(data, "cp1252", name)
    return _plain(text), (f"byte {first + 1} is not UTF-8; read as Windows-1252: check the accents",)


def digest_of(text: str) -> str:
    """SHA-256 (hex) of decoded text, blind to a missing or doubled last line end."""
    return hashlib.sha256(text.rstrip("\n").encode("utf-8", "surrogatepass")).hexdigest()


def _strictly(data: bytes, encoding: str, name: str, skip: int = 0) -> str:
    try:
        return data[skip:].decode(encoding)
    except UnicodeDecodeError as error:
        spelled = "Windows-1252" if encoding == "cp1252" else encoding.upper()
        where = error.start + skip + 1
        raise FileError(f"{one_line(name)}: byte {where} cannot be read as {spelled}") from None


def _plain(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _utf16_guess(data: bytes) -> str | None:
    """UTF-16 without its mark: mostly Latin text has a zero in every second byte."""
    pairs = len(data) // 2
    if not pairs or b"\0" not in data:
        return None
    even, odd = data[0::2].count(0), data[1::2].count(0)
    if odd > pairs * 0.4 and even < pairs * 0.05:
        return "utf-16-le"
    if even > pairs * 0.4 and odd < pairs * 0.05:
        return "utf-16-be"
    return None


def _mostly_utf8(data: bytes) -> bool:
    """More bytes above 127 stand in well-formed UTF-8 sequences than outside them."""
    inside = sum(map(len, _WELL_FORMED.findall(data)))
    above = len(data) - len(data.translate(None, bytes(range(0x80, 0x100))))
    return inside * 2 > above
