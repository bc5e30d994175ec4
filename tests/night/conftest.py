"""The script that the benchmarks time the march against is also its reference in the tests."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
