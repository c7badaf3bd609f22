"""What tests of the store share."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from packdown.store.connection import Store
from support.stores import NO_SERVER, SERVER, file_store, server_store


@pytest.fixture(params=["file", "server"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    """A store that is not there yet: in a file, then on a server."""
    if request.param == "file":
        yield file_store(tmp_path)
    elif SERVER in os.environ:
        with server_store() as lent:
            yield lent
    else:
        pytest.skip(NO_SERVER)
