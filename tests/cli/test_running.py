"""A deadline leaves time for what comes after the search."""

import pytest

from packdown.cli.running import Run


class Clock:
    """A clock that a test sets."""

    now = 0.0

    def monotonic(self) -> float:
        """Return the time that was set."""
        return self.now


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    """Let a run read a clock of the test's."""
    own = Clock()
    monkeypatch.setattr("packdown.cli.running.time.monotonic", own.monotonic)
    return own


def test_the_search_stops_so_early_that_the_rest_is_done_in_time(clock: Clock) -> None:
    """Once finishing took 2 s of 10, 2.2 s are kept, and the search goes on for 7.8."""
    run = Run(10.0, lambda _share, _words: None, _start=0.0)
    clock.now = 3.0

    def finish() -> None:
        clock.now = 5.0

    run.rehearse(finish)
    stops = {}
    for now in (5.0, 7.7, 7.9, 9.0):
        clock.now = now
        stops[now] = run.stop()
    assert stops == {5.0: False, 7.7: False, 7.9: True, 9.0: True}


def test_before_that_is_known_a_share_is_kept(clock: Clock) -> None:
    """Of 10 s, 1.5 s are kept as long as nothing was finished."""
    run = Run(10.0, lambda _share, _words: None, _start=0.0)
    clock.now = 8.4
    assert not run.stop()
    clock.now = 8.6
    assert run.stop()


def test_without_a_deadline_nothing_is_rehearsed(clock: Clock) -> None:
    """There is nothing to learn, and only an interrupt stops the search."""
    run = Run(None, lambda _share, _words: None, _start=0.0)
    finished: list[bool] = []
    run.rehearse(lambda: finished.append(True))
    clock.now = 1e9
    assert not finished
    assert not run.stop()
    run.interrupted = True
    assert run.stop()
