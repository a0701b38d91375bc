"""Whether the simulator would find a fault: a copy of the log with one planted is held against it."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

import pytest
import simulator

import assistant.log

SOURCE = Path(assistant.log.__file__).parent
SCHEDULES = 400


class Fault(NamedTuple):
    name: str
    file: str
    sound: str
    faulty: str


FAULTS = (
    Fault(
        "acknowledged without fsync",
        "journal.py",
        "            self._disk.fsync(handle)\n        except OSError as error:\n",
        "        except OSError as error:\n",
    ),
    Fault(
        "the name of a new segment is not made safe",
        "journal.py",
        "self._disk.fsync_dir(self.folder)",
        "pass",
    ),
    Fault(
        "a failed write or fsync is acknowledged",
        "journal.py",
        "            self._take_back(segment, handle, error)\n",
        "            pass\n",
    ),
    Fault(
        "what a failed write left stays", "journal.py", "self._disk.truncate(handle, segment.offset)", "pass"
    ),
    Fault(
        "cutting it off is not made safe",
        "journal.py",
        "            self._disk.fsync(handle)\n        except OSError:\n            self.close()",
        "        except OSError:\n            self.close()",
    ),
    Fault("too much is cut off", "journal.py", "truncate(handle, segment.offset)", "truncate(handle, 0)"),
    Fault(
        "the good length moves before the write is safe",
        "journal.py",
        "            write_all(self._disk, handle, data)\n"
        "            self._disk.fsync(handle)\n        except",
        "            segment.grew(len(data), 1)\n            write_all(self._disk, handle, data)\n"
        "            self._disk.fsync(handle)\n        except",
    ),
    Fault(
        "the log goes on though nothing could be cut off",
        "journal.py",
        "            self.close()\n            told +=",
        "            told +=",
    ),
    Fault(
        "lines that are not safe are built upon",
        "journal.py",
        "[*map(encode, self._segments.unsure), *map(encode, bodies)]",
        "[*map(encode, bodies)]",
    ),
    Fault(
        "lines count as safe before they are",
        "journal.py",
        "            write_all(self._disk, handle, data)\n"
        "            self._disk.fsync(handle)\n        except",
        "            write_all(self._disk, handle, data)\n"
        "            self._segments._disk.overwrite(self._segments.safe, "
        "encode({'segment': segment.path.name, 'offset': segment.offset + len(data)}))\n"
        "            self._disk.fsync(handle)\n        except",
    ),
    Fault("a short write is taken for a whole one", "disk.py", "    while data:", "    if data:"),
    Fault(
        "the checksum is not looked at",
        "lines.py",
        "if line[:_HEAD] != b'%s%08x\",' % (_MARK, crc32(line[_HEAD:])):",
        "if not line.startswith(_MARK):",
    ),
    Fault("a line read twice counts twice", "segments.py", "        return new\n", "        return True\n"),
    Fault(
        "what another program wrote is not read before writing",
        "writing.py",
        "            self.refresh()\n            yield",
        "            yield",
    ),
    Fault("stamps from elsewhere are not heeded", "writing.py", "        self._clock.seen(", "        str("),
    Fault(
        "a note goes in two operations",
        "log.py",
        "            if source:\n",
        '            self._write({"notes": operation.pop("notes")})\n            if source:\n',
    ),
    Fault(
        "only the newest segment is read when another program began it",
        "segments.py",
        "            names = sorted(self._segments)\n",
        "            names = list(self._last.values())\n",
    ),
)


def planted(fault: Fault, folder: Path, name: str) -> ModuleType:
    """The package of the log with the fault in it, under a name of its own."""
    package = folder / name
    package.mkdir()
    for path in SOURCE.glob("*.py"):
        text = path.read_text(encoding="utf-8")
        if path.name == fault.file:
            assert text.count(fault.sound) == 1, f"{fault.name}: the source has changed"
            text = text.replace(fault.sound, fault.faulty)
        (package / path.name).write_text(text.replace("assistant.log", name), encoding="utf-8")
    return importlib.import_module(name)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_a_planted_fault_is_found(fault: Fault, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(tmp_path)
    name = f"planted_{FAULTS.index(fault)}"
    package = planted(fault, tmp_path, name)
    try:
        with pytest.raises(Exception):  # noqa: B017  # a fault may also show as an error that no keeper should see
            simulator.live(package, range(SCHEDULES))
    finally:
        for module in [module for module in sys.modules if module.partition(".")[0] == name]:
            del sys.modules[module]
