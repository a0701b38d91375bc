"""An error analysis in the open: read sets of example notes, score them, show what is wrong.

python -m tests.reading                            all sets
python -m tests.reading --sets a,b --worst 5       the five worst notes of two sets
python -m tests.reading --sets mine.jsonl          a set of your own, of the same form
python -m tests.reading --save before.jsonl        keep the readings ...
python -m tests.reading --against before.jsonl     ... and see what a change made better and worse
python -m tests.reading --steady                   also what should change nothing: talk, capitals, full stops
python -m tests.reading --misheard                 whole F1 with words taken for others
python -m tests.reading --rules                    the contract's rules that are still open
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tests.reading import misheard, notesets, rules, steady, tables, versus
from tests.reading.scoring import Score, score_note


def main() -> int:
    """Print what was asked for."""
    arguments = _arguments()
    if arguments.rules:
        return rules.report()
    sets = notesets.available()
    chosen = arguments.sets.split(",") if arguments.sets else list(sets)
    sets |= {name: Path(name) for name in chosen if Path(name).is_file()}
    unknown = [name for name in chosen if name not in sets]
    if unknown:
        raise SystemExit(f"no set of notes is called {', '.join(unknown)}; there are {', '.join(sets)}")
    if arguments.against and not arguments.against.is_file():
        raise SystemExit(f"{arguments.against} is not there: --save makes one")
    before = notesets.saved(arguments.against) if arguments.against else None
    kept: dict[str, list[dict[str, Any]]] = {}
    together = []
    for name in chosen:
        notes = notesets.lines_of(sets[name])
        readings = notesets.read_all(notes)
        kept |= readings
        score = scored(notes, readings)
        together += score.notes
        for line in (*tables.summary(name, score), *tables.worst(score, arguments.worst)):
            print(line)
        if before is not None:
            both = [note for note in notes if note["id"] in before]
            print(f"{name}: {len(both)} notes against {arguments.against}")
            for line in versus.compared(scored(both, before), scored(both, readings)):
                print(line)
        for line in steady.told(notes) if arguments.steady else ():
            print(line)
    if len(chosen) > 1:
        print("\n".join(tables.summary("together", Score(together))))
    for line in misheard.told(Score(together)) if arguments.misheard else ():
        print(line)
    if arguments.save:
        notesets.save(arguments.save, kept)
    return 0


def scored(notes: list[Mapping[str, Any]], readings: Mapping[str, list[dict[str, Any]]]) -> Score:
    """A set scored against readings by id; a note that was not read has no records."""
    return Score([score_note(note, readings.get(note["id"], ())) for note in notes])


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        "python -m tests.reading", description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--sets", metavar="A,B", help="which sets; all where none is named")
    parser.add_argument(
        "--worst", metavar="N", type=int, default=0, help="show the faults of the N worst notes of each set"
    )
    parser.add_argument("--save", metavar="FILE", type=Path, help="store the readings")
    parser.add_argument("--against", metavar="FILE", type=Path, help="compare with stored readings")
    parser.add_argument(
        "--steady",
        action="store_true",
        help="read every note five more times, changed in ways that should not matter",
    )
    parser.add_argument(
        "--misheard",
        action="store_true",
        help="read all notes again with words misheard, by the lexicon's confusions and by sound",
    )
    parser.add_argument("--rules", action="store_true", help="the contract's rules whose cases fail today")
    return parser.parse_args()


if __name__ == "__main__":
    raise SystemExit(main())
