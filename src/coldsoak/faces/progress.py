"""A word to whoever waits: shown on standard error when something takes over a second."""

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

PATIENCE = 0.8
"""Seconds that pass in silence."""


@contextmanager
def waiting(message: str) -> Iterator[None]:
    """Show `message` with a moving mark while the block runs, if it runs long.

    Only on a terminal: a file or a pipe on standard error stays clean.
    """
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    status = Console(stderr=True).status(message, spinner="line")
    timer = threading.Timer(PATIENCE, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()
