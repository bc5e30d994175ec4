"""Whoever waits on a terminal is told why; a quick answer and a pipe stay silent."""

import io
import time

import pytest

from coldsoak.faces import progress


class Terminal(io.StringIO):
    """A standard error that is a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Put a terminal in the place of standard error."""
    stream = Terminal()
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setenv("TERM", "xterm")
    return stream


def test_what_takes_long_is_announced(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = terminal(monkeypatch)
    monkeypatch.setattr(progress, "PATIENCE", 0.01)
    with progress.waiting("preparing the calculation"):
        time.sleep(0.3)
    assert "preparing the calculation" in stream.getvalue()


def test_what_is_quick_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = terminal(monkeypatch)
    with progress.waiting("planning"):
        pass
    assert "planning" not in stream.getvalue()


def test_a_pipe_stays_clean(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.StringIO()
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr(progress, "PATIENCE", 0.01)
    with progress.waiting("planning"):
        time.sleep(0.1)
    assert stream.getvalue() == ""


def test_an_error_passes_through(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal(monkeypatch)
    with pytest.raises(ValueError, match="cold"), progress.waiting("planning"):
        raise ValueError("cold")
