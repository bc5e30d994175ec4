"""What ``make bench`` prints: the march against its rivals, and how long the commands take.

All figures are medians of several runs in this one process or of whole processes, with the spread
beside them; ratios compare runs of the same minutes on the same machine.
"""

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median

import numpy as np
from accuracy import MARCH_TIGHT, SCRIPT_TIGHT, errors, run_march, tolerance_for
from c_march import build, compiler
from rival_highlevel import run_highlevel
from rival_lowlevel import run_lowlevel

from coldsoak.choose.lay_out import lay_out
from coldsoak.choose.run import TOLERANCE
from coldsoak.night.march import march
from coldsoak.night.records import Night
from coldsoak.rig.read import parse_trip
from coldsoak.weather.read import read_weather

DEMO = Path(__file__).parents[1] / "examples" / "demo"
PROPANE = (0.0, 1.0, 0.0, 0.0, 0.0)
HOUR = 3600.0
SCRIPT_RTOL = 1e-6
SPACING = 600.0


def coupled_night(hours: float) -> Night:
    """The demo trip of ``hours``, pure propane, both cylinders of 30 lb open together: it holds."""
    text = (DEMO / "trip.toml").read_text(encoding="utf-8")
    text = text.replace('"20 lb"', '"30 lb"').replace('"18.5 lb"', '"28 lb"')
    text = text.replace('"one at a time"', '"together"').replace('"spare"', '"supply"')
    text = text.replace('"64 h"', f'"{hours:g} h"')
    trip = parse_trip(text, path=DEMO / "trip.toml")
    trip = replace(trip, fuel=replace(trip.fuel, worst=PROPANE))
    weather = read_weather(
        trip.weather, start=trip.start, length=trip.length, place=trip.place, folder=DEMO
    )
    return lay_out(trip, weather, ())


def timed(action: Callable[[], object], runs: int) -> list[float]:
    """Seconds of each of ``runs`` runs, after one that does not count."""
    action()
    found = []
    for _ in range(runs):
        begun = time.perf_counter()
        action()
        found.append(time.perf_counter() - begun)
    return found


def told(seconds: list[float], scale: float, unit: str) -> str:
    """Median and spread as text."""
    low, middle, high = (scale * f(seconds) for f in (min, median, max))
    return f"{middle:.3g} {unit} ({low:.3g} to {high:.3g}, {len(seconds)} runs)"


def against_c(night: Night) -> None:
    """The march and the same arithmetic in C, in turn."""
    ours = timed(lambda: march(night, TOLERANCE, 0.0), 41)
    print(f"march, 72-hour coupled trip      {told(ours, 1e3, 'ms')}; goal 5 ms")
    if compiler() is None:
        print("the same in C                    no C compiler here")
        return
    with tempfile.TemporaryDirectory() as folder:
        in_c = build(Path(folder))
        theirs = timed(lambda: in_c(night, TOLERANCE), 41)
        found, ran = in_c(night, TOLERANCE), march(night, TOLERANCE, 0.0)
    print(f"the same in C                    {told(theirs, 1e3, 'ms')}")
    print(f"ratio                            {median(ours) / median(theirs):.2f}; goal 1.3 or less")
    apart = float(np.abs(found.burned - ran.burned).max())
    print(f"steps {ran.steps} and {found.steps} in C; fuel burned differs by {apart:.1e} kg")


def against_scripts(hours: float) -> None:
    """The scripts with CoolProp in the loop, and the march at the error that they have."""
    night = coupled_night(hours)
    times = np.arange(0.0, hours * HOUR + 1.0, SPACING)
    tight = run_lowlevel(night, SCRIPT_TIGHT, times)
    for name, script, goal in (
        ("low-level interface", run_lowlevel, 300),
        ("high-level calls", run_highlevel, 3000),
    ):
        begun = time.perf_counter()
        ran = script(night, SCRIPT_RTOL, times)
        took = time.perf_counter() - begun
        error = errors(ran, tight)
        tolerance = tolerance_for(night, error.liquid, SPACING)
        missed = errors(
            run_march(night, tolerance, SPACING), run_march(night, MARCH_TIGHT, SPACING)
        )
        ours = timed(lambda at=tolerance: march(night, at, 0.0), 21)
        plain = timed(lambda: march(night, TOLERANCE, 0.0), 21)
        print(f"script, {name}, {hours:g} h: {took:.1f} s, liquid off by {error.liquid:.1e} K")
        print(
            f"  march at equal error ({missed.liquid:.1e} K): {told(ours, 1e3, 'ms')}, "
            f"ratio {took / median(ours):.0f}; goal {goal}"
        )
        print(f"  march as plans use it: {told(plain, 1e3, 'ms')}, {took / median(plain):.0f}")


def process(arguments: list[str], cache: str) -> float:
    """Seconds of a whole process of the command."""
    begun = time.perf_counter()
    subprocess.run(
        [str(Path(sys.executable).with_name("coldsoak")), *arguments],
        env=os.environ | {"NUMBA_CACHE_DIR": cache},
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return time.perf_counter() - begun


def commands() -> None:
    """Cold and warm start of the commands."""
    with tempfile.TemporaryDirectory() as cache:
        first = process(["plan", str(DEMO)], cache)
        warm = [process(["plan", str(DEMO)], cache) for _ in range(5)]
        helped = [process(["--help"], cache) for _ in range(9)]
    print(f"coldsoak plan, first run ever    {first:.1f} s; goal 15 s")
    print(f"coldsoak plan, warm              {told(warm, 1, 's')}; goal 1.5 s")
    print(f"coldsoak --help                  {told(helped, 1, 's')}; goal 0.25 s")


def main() -> None:
    """Print everything."""
    print(f"Python {platform.python_version()}, {os.cpu_count()} processors, {platform.machine()}")
    against_c(coupled_night(72.0))
    commands()
    against_scripts(72.0)


if __name__ == "__main__":
    main()
