"""What all tests of the example share."""

import pytest

from packdown.model import Workspace
from support.saltworks import example


@pytest.fixture(scope="module")
def works() -> Workspace:
    """Return the example workspace."""
    return example()
