"""The help of each command, and the examples in it."""

from __future__ import annotations

import shlex

import pytest

from assistant.commands.examples import EXAMPLES
from assistant.commands.line import _parser, main


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_help_shows_its_examples(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main([name, "--help"])
    assert end.value.code == 0
    told = capsys.readouterr().out
    assert all(f"  binside {words}\n" in told for words in EXAMPLES[name])


@pytest.mark.parametrize("words", [one for many in EXAMPLES.values() for one in many])
def test_an_example_is_understood(words: str) -> None:
    typed = shlex.split(words.partition("<")[0])
    assert _parser().parse_args(typed).command
