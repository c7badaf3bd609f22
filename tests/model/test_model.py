"""The front door of the model."""

import subprocess
import sys

import pytest

from packdown import model


def test_every_noun_is_found_at_the_front_door() -> None:
    """What is announced is there, and nothing else is handed out."""
    assert set(model._HOMES) | {"as_short_id", "meant", "short_id"} == set(model.__all__)
    for name in model.__all__:
        assert getattr(model, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'Elephant'"):
        _ = model.Elephant


def test_a_short_id_needs_no_plan() -> None:
    """Nouns are loaded when they are asked for."""
    code = (
        "import sys; from packdown.model import short_id; assert short_id('abc') == 'Q9W1DF'; "
        "assert 'packdown.model.plan' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
