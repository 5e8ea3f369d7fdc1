"""Outside checks of finished output folders: `BAYWRIGHT_OUT=out/a:out/b pytest tests/external`.

They read what a workshop would read and share no code with the program. Without a folder they fail: a check that
saw nothing has shown nothing.
"""

import os
import pathlib

import pytest

from checks.kit import Kit


def folders():
    return [pathlib.Path(name) for name in os.environ.get("BAYWRIGHT_OUT", "").split(":") if name]


def pytest_generate_tests(metafunc):
    if "kit" in metafunc.fixturenames:
        # None makes the fixture fail where an empty list would only skip.
        metafunc.parametrize("kit", folders() or [None], indirect=True, ids=lambda f: f.name if f else "unset")


@pytest.fixture
def kit(request):
    if request.param is None:
        pytest.fail("BAYWRIGHT_OUT names no output folder (several: separate them by colons)")
    return Kit(request.param)


@pytest.fixture
def kits():
    found = [Kit(folder) for folder in folders()]
    if not found:
        pytest.fail("BAYWRIGHT_OUT names no output folder (several: separate them by colons)")
    return found


@pytest.fixture
def program():
    path = os.environ.get("BAYWRIGHT")
    if not path:
        pytest.fail("BAYWRIGHT names no program")
    return path
