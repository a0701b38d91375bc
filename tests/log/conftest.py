import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # the simulator is a module of these tests


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """The long runs only where they are asked for: `-m long`."""
    if "long" not in config.getoption("-m"):
        skip = pytest.mark.skip(reason="takes minutes: -m long")
        for item in items:
            if item.get_closest_marker("long") and "tests/log" in item.path.as_posix():
                item.add_marker(skip)
