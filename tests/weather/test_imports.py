"""Heavy libraries load only when a file needs them."""

import subprocess
import sys

CODE = """
import sys
from datetime import datetime
from pathlib import Path
from types import SimpleNamespace
from coldsoak.weather.read import read_weather
read_weather(
    SimpleNamespace(temperature=253.15, wind=1.0, humidity=0.7, sky="clear"),
    start=datetime(2026, 1, 16, 16), length=14400.0, folder=Path(),
    place=SimpleNamespace(elevation=1450.0, latitude=46.9, longitude=-113.4),
)
print([name for name in ("pandas", "pvlib", "pint", "pyarrow") if name in sys.modules])
"""


def test_weather_without_a_file_loads_neither_pandas_nor_pvlib():
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
