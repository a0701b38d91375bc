"""How quick the reading is: tokens a second beside spaCy's tokenizer, a note once warm, memory, first start.

    python -m tests.bench.reading [ROUNDS]      (3 unless told; the best round counts; half a minute)

Run it in the folder of the project. Times are those of the processor (user and system), which a busy machine
hardly changes; on an idle one the clock says the same. The notes are our own sets, all of them.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from statistics import median, quantiles

import spacy

from assistant.reading import Reader
from assistant.records import SetUp, setup_from_json
from tests.reading import notesets

Job = tuple[str, SetUp, datetime]
SIXTY = (
    "Tuesday check of the cellar stack. Top tray is damp, like a wrung out sponge, about half of the "
    "melon rind is gone and there are a few springtails on the lid. Gave it two cups of coffee grounds "
    "and a handful of shredded cardboard. The middle tray smells earthy, lots of cocoons. Bottom one is "
    "nearly finished, harvest it on Sunday."
)
WHERE = setup_from_json([{"name": "cellar stack", "tiers": 3}])
NOW = datetime(2026, 3, 10, 19, 0)


def jobs() -> list[Job]:
    """Every note of our sets, ready to be read."""
    notes = [note for path in sorted(notesets.OURS.glob("*.jsonl")) for note in notesets.lines_of(path)]
    return [(n["text"], setup_from_json(n["setup"]), datetime.fromisoformat(n["now"])) for n in notes]


def spent() -> float:
    """Seconds of the processor, of this process and of those that it waited for."""
    return time.process_time() + sum(os.times()[2:4])


def best(rounds: int, work: Callable[[], object]) -> float:
    """Seconds of the quickest round."""
    times = []
    for _ in range(rounds):
        begin = spent()
        work()
        times.append(spent() - begin)
    return min(times)


def batch(rounds: int) -> None:
    """The whole way from text to records, beside the tokenizer alone."""
    Reader()  # so that the lexicon's cache is fresh
    print(f"a reader built in {best(1, Reader):.2f} s, spaCy imported and the lexicon cached")
    reader = Reader()
    all_jobs, blank = jobs(), spacy.blank("en")
    texts = [text for text, _, _ in all_jobs]
    tokens = sum(len(blank.make_doc(text)) for text in texts)
    ours = best(rounds, lambda: [reader.read(*job) for job in all_jobs])
    alone = best(rounds, lambda: [blank.make_doc(text) for text in texts])
    print(f"{len(texts)} notes, {tokens:,} tokens")
    print(
        f"  text to records   {tokens / ours:9,.0f} tokens a second, {1000 * ours / len(texts):.1f} ms a note"
    )
    print(
        f"  spaCy's tokenizer {tokens / alone:9,.0f} tokens a second, so the whole way takes "
        f"{ours / alone:.0f} times as long"
    )


def warm_note() -> None:
    """A note of 60 words, once warm."""
    reader, times = Reader(), []
    for round_ in range(210):
        begin = time.process_time()
        reader.read(SIXTY, WHERE, NOW)
        if round_ >= 10:
            times.append(1000 * (time.process_time() - begin))
    print(
        f"a note of {len(SIXTY.split())} words: median {median(times):.2f} ms, "
        f"p95 {quantiles(times, n=20)[-1]:.2f} ms"
    )


def long_note() -> None:
    """Long notes: the time has to grow with the length, not with its square."""
    reader = Reader()
    for words in (1_000, 10_000):
        text = " ".join([SIXTY] * (words // len(SIXTY.split())))
        print(f"a note of {words:,} words: {best(1, lambda text=text: reader.read(text, WHERE, NOW)):.2f} s")  # type: ignore[misc]


def commas() -> None:
    """Row 28 of the list of inputs: 10,000 commas in under a second."""
    reader = Reader()
    took = best(3, lambda: reader.read("kale," * 10_000, WHERE, NOW))
    print(f"10,000 commas: {took:.2f} s")


def memory() -> None:
    """Peak memory of a process that reads every note."""
    code = "from tests.bench.reading import read_everything as r; r()"
    before, after = (_peak(code_) for code_ in ("pass", code))
    print(f"peak memory {after:.0f} MB to read all notes; a bare Python {before:.0f} MB")


def _peak(code: str) -> float:
    """Megabytes at the height of a process that runs `code`, as Linux counts them."""
    peak = "print(next(line.split()[1] for line in open('/proc/self/status') if line.startswith('VmHWM')))"
    command = [sys.executable, "-c", f"{code}\n{peak}"]
    return int(subprocess.run(command, capture_output=True, text=True, check=True).stdout) / 1024


def read_everything() -> None:
    """Read all notes once."""
    reader = Reader()
    for job in jobs():
        reader.read(*job)


def starts(rounds: int) -> None:
    """What a fresh process costs: bare, with the imports, and to a note's receipt and first record."""

    def process(*words: str, log: str = "") -> Callable[[], object]:
        environment = {**os.environ, "BINSIDE_LOG": log}
        return lambda: subprocess.run(
            [sys.executable, *words], env=environment, capture_output=True, check=True
        )

    bare = best(rounds, process("-c", "pass"))
    for name, code in (
        ("spacy", "import spacy"),
        ("assistant.reading", "import assistant.reading"),
        ("assistant.commands.line", "import assistant.commands.line"),
    ):
        print(
            f"import {name}: {best(rounds, process('-c', code)) - bare:.2f} s beyond a bare Python's "
            f"{bare:.2f} s"
        )
    with tempfile.TemporaryDirectory() as folder:
        log = str(Path(folder) / "log")
        command = ("-m", "assistant.commands.line")
        process(*command, "bins", "three trays stacked in the cellar", log=log)()
        note = best(rounds, process(*command, "note", SIXTY, log=log))
        parse = best(rounds, process(*command, "parse", SIXTY, log=log))
        show = best(rounds, process(*command, "due", log=log))
    print(
        f"start to the receipt of `binside note` {note:.2f} s, of `parse` {parse:.2f} s; "
        f"`due`, which reads no note, {show:.2f} s"
    )


def main() -> None:
    """Print all figures."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    batch(rounds)
    warm_note()
    long_note()
    commas()
    if Path("/proc/self/status").exists():
        memory()
    starts(rounds)


if __name__ == "__main__":
    main()
