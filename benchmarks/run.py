"""What ``make bench`` prints: the march against its rivals, and how long the commands take.

Contenders that are compared take turns in the same minutes on the same machine, and a ratio is the
median of the ratios of their turns; beside every median stands the spread. The trip is the demo
trip over 72 hours with both cylinders of its README's change, open together, filled with propane
alone: the scripts know no mixtures.
"""

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from statistics import median

import numpy as np
from accuracy import MARCH_TIGHT, SCRIPT_TIGHT, errors, run_march, tolerance_for
from c_march import FLAGS, FUSED, build, compiler
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
HOURS = 72.0
SCRIPT_RTOL = 1e-6
"""The relative tolerance that an engineer would write."""
SPACING = 600.0
"""Between the times at which liquids are compared [s]."""
TURNS = 41
SCRIPTS = (
    ("low-level interface", run_lowlevel, 3, 300),
    ("high-level calls", run_highlevel, 1, 3000),
)
"""Name, script, runs, goal; the high-level one takes a minute or more."""


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


def seconds_of(action: Callable[[], object]) -> float:
    """Seconds that one run takes."""
    begun = time.perf_counter()
    action()
    return time.perf_counter() - begun


def in_turn(turns: int, *actions: Callable[[], object]) -> list[list[float]]:
    """Seconds of ``turns`` runs of every action, taken in turn after one that does not count."""
    for action in actions:
        action()
    rounds = [[seconds_of(action) for action in actions] for _ in range(turns)]
    return [list(times) for times in zip(*rounds, strict=True)]


def ratio(ours: Sequence[float], theirs: Sequence[float]) -> str:
    """Median and spread of the ratios of turns."""
    ratios = [a / b for a, b in zip(ours, theirs, strict=True)]
    return f"{median(ratios):.2f} ({min(ratios):.2f} to {max(ratios):.2f})"


def told(seconds: Sequence[float], scale: float, unit: str) -> str:
    """Median and spread as text."""
    low, middle, high = (scale * f(seconds) for f in (min, median, max))
    return f"{middle:.3g} {unit} ({low:.3g} to {high:.3g}, {len(seconds)} runs)"


def line(name: str, text: str) -> None:
    """Print one result."""
    print(f"{name:<34} {text}", flush=True)


def against_c(night: Night) -> None:
    """The march and the same arithmetic in C, in turn."""
    if compiler() is None:
        (ours,) = in_turn(TURNS, lambda: march(night, TOLERANCE, 0.0))
        line("march, 72-hour coupled trip", f"{told(ours, 1e3, 'ms')}; goal 5 ms")
        line("the same in C", "no C compiler named cc here")
        return
    with tempfile.TemporaryDirectory() as plain, tempfile.TemporaryDirectory() as fused:
        exact, free = build(Path(plain), FLAGS), build(Path(fused), FUSED)
        ours, same, other = in_turn(
            TURNS,
            lambda: march(night, TOLERANCE, 0.0),
            lambda: exact(night, TOLERANCE),
            lambda: free(night, TOLERANCE),
        )
        found, ran = exact(night, TOLERANCE), march(night, TOLERANCE, 0.0)
    line("march, 72-hour coupled trip", f"{told(ours, 1e3, 'ms')}; goal 5 ms")
    line("the same in C", f"{told(same, 1e3, 'ms')}; cc {' '.join(FLAGS)}")
    line("  march over C", f"{ratio(ours, same)}; goal 1.3 or less")
    line("in C with fused multiply-adds", f"{told(other, 1e3, 'ms')}; cc {' '.join(FUSED)}")
    line("  march over that", ratio(ours, other))
    apart = float(np.abs(found.state - ran.state).max())
    line("  steps, and in C", f"{ran.steps}, {found.steps}; states differ by {apart:.1e} at most")


def against_scripts(night: Night) -> None:
    """The scripts with CoolProp in the loop, and the march at the error that they have."""
    times = np.arange(0.0, night.length + 1.0, SPACING)
    tight = run_lowlevel(night, SCRIPT_TIGHT, times)
    for name, script, runs, goal in SCRIPTS:
        took, ran = [], tight
        for _ in range(runs):
            begun = time.perf_counter()
            ran = script(night, SCRIPT_RTOL, times)
            took.append(time.perf_counter() - begun)
        off = errors(ran, tight).liquid
        line(f"script, {name}", f"{told(took, 1.0, 's')}, liquid off by {off:.1e} K")
        beside_script(night, median(took), off, goal)


def beside_script(night: Night, took: float, off: float, goal: int) -> None:
    """The march as accurate as a script that ``took`` [s] and is ``off`` [K], and as in plans."""
    tolerance = tolerance_for(night, off, SPACING)
    ours, plain = in_turn(
        21, lambda: march(night, tolerance, 0.0), lambda: march(night, TOLERANCE, 0.0)
    )
    tight = run_march(night, MARCH_TIGHT, SPACING)
    for name, times, at in (("at equal error", ours, tolerance), ("in plans", plain, TOLERANCE)):
        missed = errors(run_march(night, at, SPACING), tight).liquid
        line(f"  march {name}", f"{told(times, 1e3, 'ms')}, off by {missed:.1e} K")
        line("    script over march", f"{took / median(times):.0f}; goal {goal}")


def process(arguments: list[str], cache: str) -> float:
    """Seconds of a whole process of the command."""
    command = [str(Path(sys.executable).with_name("coldsoak")), *arguments]
    environment = os.environ | {"NUMBA_CACHE_DIR": cache}
    return seconds_of(
        lambda: subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=True)
    )


def commands() -> None:
    """Cold and warm start of the commands, each a whole process."""
    with tempfile.TemporaryDirectory() as cache:
        first = process(["plan", str(DEMO)], cache)
        warm = [process(["plan", str(DEMO)], cache) for _ in range(7)]
        helped = [process(["--help"], cache) for _ in range(11)]
    line("coldsoak plan, nothing compiled", f"{first:.1f} s; goal 15 s")
    line("coldsoak plan, warm", f"{told(warm, 1.0, 's')}; goal 1.5 s")
    line("coldsoak --help", f"{told(helped, 1.0, 's')}; goal 0.25 s")


def processor() -> str:
    """The processor's name where the system tells it, else its kind."""
    told_by = Path("/proc/cpuinfo")
    names = told_by.read_text().splitlines() if told_by.exists() else []
    named = (entry.partition(":")[2].strip() for entry in names if entry.startswith("model name"))
    return next(named, platform.machine())


def main() -> None:
    """Print everything."""
    line(
        "machine", f"{os.cpu_count()} processors, {processor()}; Python {platform.python_version()}"
    )
    if hasattr(os, "getloadavg"):
        line("other load at the start", f"{os.getloadavg()[0]:.1f}; figures are good below 0.5")
    night = coupled_night(HOURS)
    against_c(night)
    commands()
    against_scripts(night)


if __name__ == "__main__":
    main()
