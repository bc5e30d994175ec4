"""A writer that is killed at any instant leaves a sound journal with all that it acknowledged."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from .example import folder_in_memory

KILLING = Path(__file__).parent / "killing.py"

ROUNDS = {"entering": 160, "changing": 100, "birth": 100, "migration": 60, "importing": 60}
"""How often each kind of writer is killed; 480 times in all, in a few seconds."""

MIDST = 0.1
"""Least share of the kills that must fall into a write, or the test would show nothing. They fall
there by the odds of time: opening, writing and folding back the log are nearly all that it does."""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no kill -9")
@pytest.mark.parametrize("scene", ROUNDS)
def test_nothing_that_was_acknowledged_is_lost(scene: str) -> None:
    """In memory, where a kill is as deadly as on a disk and nobody waits for the disk."""
    with folder_in_memory() as folder:
        command = [sys.executable, str(KILLING), str(folder), scene, str(ROUNDS[scene])]
        result = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert result.returncode == 0, result.stderr
    counts = json.loads(result.stdout)
    assert counts["rounds"] == ROUNDS[scene]
    assert counts["acknowledged"] > 0
    assert counts["in_the_midst"] >= MIDST * ROUNDS[scene]
