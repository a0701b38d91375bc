"""The house rules that a machine can hold: what lies where, how long, who imports whom, what starts alone."""

from __future__ import annotations

import ast
import json
import re
import socket
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.commands.line import main

ROOT = Path(__file__).parents[1]
PACKAGES = ("assistant", "lexicon")
SOURCES = sorted(path for folder in PACKAGES for path in (ROOT / folder).rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "assistant", "lexicon", "tests", "examples"}
LINES = {"file": 400, "class": 200, "function": 50}
TO_BE_CUT: dict[str, str] = {}
"""What is too long today, and why it may be for now; what has been cut has to leave this list."""


def name_of(path: Path) -> str:
    """A path as it reads from the top of the checkout."""
    return path.relative_to(ROOT).as_posix()


def tree_of(path: Path) -> ast.Module:
    """A file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"))


def too_long(path: Path) -> Iterator[str]:
    """The file, and its classes and functions, that have as many lines as the bound or more."""
    if len(path.read_text(encoding="utf-8").splitlines()) >= LINES["file"]:
        yield name_of(path)
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            bound = LINES["class" if isinstance(node, ast.ClassDef) else "function"]
            if (node.end_lineno or 0) - node.lineno + 1 >= bound:
                yield f"{name_of(path)}: {node.name}"


def test_nothing_is_too_long() -> None:
    assert {name for path in (*SOURCES, *TESTS) for name in too_long(path)} == set(TO_BE_CUT)


def test_what_is_too_long_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(globals(), "ROOT", tmp_path)
    file = tmp_path / "long.py"
    file.write_text("class A:\n" + "    x = 1\n" * 199 + "def f():\n" + "    x = 1\n" * 49, encoding="utf-8")
    assert set(too_long(file)) == {"long.py: A", "long.py: f"}
    file.write_text("x = 1\n" * 400, encoding="utf-8")
    assert set(too_long(file)) == {"long.py"}


def test_the_top_level_holds_what_it_should() -> None:
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found == TOP


def test_no_file_is_a_drawer_for_all_things() -> None:
    drawers = {"utils", "util", "helpers", "helper", "misc", "common", "manager", "core", "base"}
    assert not [
        name_of(path) for path in (*SOURCES, *TESTS) if drawers & set(re.split(r"[_/.]", name_of(path)))
    ]


def test_no_file_names_a_path_of_a_machine_or_a_package_host() -> None:
    banned = re.compile(
        "|".join(("/wo" + "rk/", "/ro" + "ot/", "/ho" + "me/[a-z]", "py" + "pi", "python" + "hosted"))
    )
    texts = [
        p for p in ROOT.rglob("*") if p.suffix in (".py", ".md", ".toml", ".csv", ".tcss") and p.is_file()
    ]
    texts = [p for p in texts if not p.relative_to(ROOT).parts[0].startswith(".")] + [ROOT / ".ci" / "run"]
    assert len(texts) > 100
    assert not [name_of(p) for p in texts if banned.search(p.read_text(encoding="utf-8"))]


def undocumented(path: Path) -> Iterator[str]:
    """Public modules, classes, functions and methods of a file that have no docstring."""
    tree = tree_of(path)
    if tree.body and ast.get_docstring(tree) is None:
        yield name_of(path)
    public = [(tree.body, "")]
    while public:
        body, inside = public.pop()
        for node in body:
            if (
                isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
                and node.name[0] != "_"
            ):
                if ast.get_docstring(node) is None and not told_elsewhere(node):
                    yield f"{name_of(path)}: {inside}{node.name}"
                if isinstance(node, ast.ClassDef):
                    public.append((node.body, f"{node.name}."))


def test_what_is_public_is_documented() -> None:
    assert not [name for path in SOURCES for name in undocumented(path)]


def told_elsewhere(node: ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """A setter, whose getter says what it is; a member of a protocol, which says it as a whole."""
    setter = any(ast.unparse(mark).endswith(".setter") for mark in node.decorator_list)
    return setter or [ast.unparse(line) for line in node.body] == ["..."]


def layers() -> list[str]:
    """The layers that the import contract names."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        contracts = tomllib.load(file)["tool"]["importlinter"]["contracts"]
    return next(contract["layers"] for contract in contracts if contract["type"] == "layers")


def test_every_room_has_its_place_in_the_import_contract() -> None:
    named = {name for layer in layers() for name in re.split(r" [|:] ", layer)}
    rooms = {
        f"assistant.{path.stem}" for path in (ROOT / "assistant").iterdir() if path.suffix in ("", ".py")
    }
    assert named == rooms - {"assistant.__init__", "assistant.__pycache__"} | {"lexicon"}


def test_the_rooms_import_only_downwards() -> None:
    # source: the layers of the house, DEVELOPERS.md; held by import-linter
    done = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()", "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout
    assert re.search(r"[4-9] kept, 0 broken", done.stdout)


def test_nobody_else_opens_a_connection() -> None:
    """No module of ours knows a way to the net."""
    net = {
        "socket",
        "ssl",
        "http",
        "urllib",
        "requests",
        "httpx",
        "aiohttp",
        "ftplib",
        "smtplib",
        "asyncio.streams",
    }
    for path in SOURCES:
        for node in ast.walk(tree_of(path)):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not {n.split(".")[0] for n in names} & net, name_of(path)


@pytest.mark.parametrize(
    ("code", "heavy"),
    [
        ("import assistant.log, assistant.balance, assistant.commands.line", "spacy textual dateparser"),
        (
            "import assistant.outlook, assistant.exchange.inward, assistant.exchange.outward",
            "spacy textual dateparser tinydb",
        ),
        ("import assistant.session", "spacy textual dateparser"),
        ("import assistant.reading", "textual tinydb"),
        ("import assistant.screen", "spacy dateparser"),
    ],
)
def test_what_only_shows_starts_without_what_it_does_not_need(code: str, heavy: str) -> None:
    assert not set(heavy.split()) & loaded(code)


@pytest.mark.parametrize("command", ["balances", "due", "bins", "undo", "--help"])
def test_a_command_that_only_shows_reads_nothing(command: str, tmp_path: Path) -> None:
    words = ["--log", str(tmp_path / "log"), command]
    code = f"from assistant.commands.line import main\ntry: main({words!r})\nexcept SystemExit: pass"
    assert not {"spacy", "textual", "dateparser"} & loaded(code)


def loaded(code: str) -> set[str]:
    """The packages that are loaded after a piece of code has run in a process of its own."""
    show = "import json, sys; print(json.dumps(sorted({m.split('.')[0] for m in sys.modules})))"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{show}"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return set(json.loads(done.stdout.splitlines()[-1]))


class Reached(Exception):
    """Something tried to reach the net."""


def test_note_ask_and_import_open_no_socket(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise Reached

    monkeypatch.setattr(socket, "socket", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    with pytest.raises(Reached):
        socket.socket()
    notes = tmp_path / "notes.txt"
    notes.write_text("2026-03-01\nfed the tub melon\n", encoding="utf-8")
    log = ["--log", str(tmp_path / "log"), "--now", "2026-03-10T19:00"]
    for words in (
        ["bins", "a tub in the cellar"],
        ["note", "fed the tub two cups of kale on the first of March"],
        ["ask", "how much kale did I feed?"],
        ["import", str(notes)],
        ["balances"],
        ["due"],
        ["export", str(tmp_path / "log.html")],
    ):
        assert main([*log, *words]) == 0, words
