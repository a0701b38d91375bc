"""How soon the chat screen takes keys, and how they echo while the reading warms up behind it.

    python tests/bench/screen.py [RUNS]

On a pseudo-terminal of 80x24: first frame (the box is drawn), the first key echoed, the echo of a
key every 60 ms during the warm-up and after it, and a transcript of ten minutes from paste to receipt.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path
from time import perf_counter, sleep

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "screen")]

from terminal import Terminal  # noqa: E402

from assistant.log import Log  # noqa: E402
from assistant.records import Bin  # noqa: E402

BINS = (Bin("cellar stack", 3), Bin("tub"))
KEYS = "bcdfghjklmnpqrtvwxz" * 4
WALK = "\n".join(
    f"[{at // 60}:{at % 60:02}] gave the top tray a handful of kale and the rest is damp"
    for at in range(0, 600, 4)
)


def once() -> dict[str, list[float]]:
    """One start to end; seconds."""
    with tempfile.TemporaryDirectory() as folder:
        with Log.open(Path(folder)) as log:
            log.set_bins(BINS)
        terminal = Terminal(["-m", "assistant.commands.line", "--log", folder], {"PYTHONPATH": str(ROOT)})
        first = terminal.wait_for(b"ote or a question") - terminal.began
        terminal.send("a")
        key = terminal.wait_for(b"a", since=len(terminal.out)) - terminal.began
        echoes = [echo(terminal, letter) for letter in KEYS]
        since = len(terminal.out)
        began = perf_counter()
        terminal.send(f"\x1b[200~{WALK}\x1b[201~")
        terminal.wait_for(b"[9:56]", since=since)
        pasted = perf_counter() - began
        since = len(terminal.out)
        began = perf_counter()
        terminal.send("\r")
        read = [echo(terminal, letter) for letter in KEYS[:19]]
        receipt = terminal.wait_for(b"more records", seconds=60, since=since) - began
        terminal.send("\x11\x11")
        terminal.end(60)
    return {
        "first": [first],
        "key": [key],
        "echo": echoes,
        "pasted": [pasted],
        "read": read,
        "receipt": [receipt],
    }


def echo(terminal: Terminal, letter: str) -> float:
    """From a key to its echo, then a pause."""
    since = len(terminal.out)
    began = perf_counter()
    terminal.send(letter)
    came = terminal.wait_for(letter.encode(), since=since) - began
    sleep(max(0.0, 0.06 - came))
    return came


def told(name: str, seconds: list[float]) -> None:
    """One line of figures, in milliseconds."""
    ms = sorted(1000 * one for one in seconds)
    p95 = ms[min(len(ms) - 1, round(0.95 * len(ms)))]
    print(f"{name:34} median {statistics.median(ms):7.0f}  p95 {p95:7.0f}  max {ms[-1]:7.0f} ms  ({len(ms)})")


def main(runs: int) -> None:
    """Print the figures of so many runs."""
    found = [once() for _ in range(runs)]
    told("first frame", [one["first"][0] for one in found])
    told("first key echoed", [one["key"][0] for one in found])
    told("echo while the reading warms up", [echo for one in found for echo in one["echo"]])
    told("ten minutes pasted, drawn", [one["pasted"][0] for one in found])
    told("their receipt", [one["receipt"][0] for one in found])
    told("echo while they are read", [echo for one in found for echo in one["read"]])


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
