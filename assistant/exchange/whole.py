"""A file written whole or not at all: beside its place, made durable, then put there in one step.

Source: POSIX rename() and link() (both atomic), fsync() of the file and of its folder.
"""

from __future__ import annotations

import errno
import os
import secrets
import stat
from pathlib import Path

from assistant.errors import FileError
from assistant.exchange.clean import one_line

_REASONS = {
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EROFS: "that folder can only be read",
    errno.ENOENT: "there is no such folder",
    errno.ENOTDIR: "there is no such folder",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file would be larger than allowed",
    errno.ELOOP: "its links go round in a circle",
    errno.ENAMETOOLONG: "its name is too long",
}
_NO_LINKS = {errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EXDEV}


def write_whole(path: Path, data: bytes, *, overwrite: bool = False) -> None:
    """Put `data` at `path`. FileError, one plain line, where that cannot be; the old file is then whole."""
    name = one_line(str(path))
    try:
        target = Path(os.path.realpath(path))
        mode = _mode_of(target, name, overwrite)
        beside = _written_beside(target.parent, data, mode)
        try:
            _put(beside, target, overwrite)
        finally:
            beside.unlink(missing_ok=True)
        _make_durable(target.parent)
    except FileExistsError:
        raise FileError(f"{name} is there already; it was left as it is") from None
    except (OSError, ValueError) as error:
        raise FileError(f"{name} cannot be written: {_why(error)}") from None


def _why(error: OSError | ValueError) -> str:
    if isinstance(error, OSError) and error.errno is not None:
        return _REASONS.get(error.errno) or (error.strerror or "the system refused").lower()
    return "its name cannot be used"


def _mode_of(target: Path, name: str, overwrite: bool) -> int | None:
    """The permissions of the file that is to be replaced; None where there is none."""
    try:
        about = target.lstat()
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(about.st_mode):
        raise FileError(f"{name} is not a plain file; nothing was written")
    if not overwrite:
        raise FileExistsError(errno.EEXIST, "there already")
    return stat.S_IMODE(about.st_mode)


def _written_beside(folder: Path, data: bytes, mode: int | None) -> Path:
    """A new file in `folder` with `data` in it, on the disk; no file where that fails."""
    beside = folder / f".binside-{secrets.token_hex(8)}.part"
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            if mode is not None:
                os.fchmod(handle, mode)
            os.fsync(handle)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _put(beside: Path, target: Path, overwrite: bool) -> None:
    """Give the file its name; without `overwrite`, not even a file made a moment ago is replaced."""
    if overwrite:
        os.replace(beside, target)
        return
    try:
        os.link(beside, target)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        if target.exists():  # a file system without links: as near as it can come
            raise FileExistsError(errno.EEXIST, "there already") from None
        os.replace(beside, target)


def _make_durable(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
