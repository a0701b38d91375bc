"""A program on a pseudo-terminal: keys in, bytes out, with times."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
from collections.abc import Mapping, Sequence
from time import perf_counter


class Terminal:
    """Runs a program on a terminal of `size` (columns, rows); `out` is all that it wrote."""

    def __init__(
        self, command: Sequence[str], environment: Mapping[str, str], size: tuple[int, int] = (80, 24)
    ) -> None:
        self.began = perf_counter()
        self.out = b""
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.environ.update({"TERM": "xterm-256color", **environment})
            os.execv(sys.executable, [sys.executable, *command])
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))

    def send(self, keys: str) -> None:
        """Type."""
        os.write(self.fd, keys.encode())

    def wait_for(self, what: bytes, seconds: float = 20, since: int = 0) -> float:
        """Read until `what` was written after `since` bytes; gives the time. TimeoutError if it never was."""
        end = perf_counter() + seconds
        while what not in self.out[since:]:
            ready, _, _ = select.select([self.fd], [], [], max(0.0, end - perf_counter()))
            if not ready:
                raise TimeoutError(f"{what!r} did not come in {seconds} s; the last: {self.out[-300:]!r}")
            try:
                self.out += os.read(self.fd, 65536)
            except OSError:
                raise TimeoutError(f"the program ended before {what!r}: {self.out[-300:]!r}") from None
        return perf_counter()

    def end(self, seconds: float = 10) -> int:
        """Read to the end and give the exit status; the program is ended by force where it does not end."""
        end = perf_counter() + seconds
        while perf_counter() < end:
            ready, _, _ = select.select([self.fd], [], [], 0.1)
            if ready:
                try:
                    more = os.read(self.fd, 65536)
                except OSError:
                    more = b""
                if not more:
                    break
                self.out += more
        else:
            os.kill(self.pid, signal.SIGKILL)
        os.close(self.fd)
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
