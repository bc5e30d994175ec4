"""The march in C: written constants, compiled by the C compiler found here, called by ctypes.

``march.c`` holds the same arithmetic as :mod:`coldsoak.night.march` and its modules. The types of
its tables and every named constant and coefficient are written into a header from the Python
modules themselves, so both compilers know the same numbers while they compile.
"""

import ctypes
import math
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import numpy as np

from coldsoak.night import burner, contents, cylinder, feed, march, records, room, step, supply
from coldsoak.night.records import Floats, Night, Table
from coldsoak.physics import (
    air,
    combustion,
    convection,
    film,
    frost,
    fuel,
    moistair,
    shelter,
    vessel,
)

SOURCE = Path(__file__).with_name("march.c")

FLAGS = ("-O3", "-march=native", "-ffp-contract=off", "-fno-math-errno")
"""What numba does, for a fair comparison: optimized for this machine's instructions; no fused
multiply-add, which numba does not use without fastmath; no errno from the mathematical library.
Nothing that would let the compiler reorder sums."""

FUSED = ("-O3", "-march=native", "-fno-math-errno")
"""The C compiler's own choice, with fused multiply-adds: other rounding, sometimes faster."""

TYPES = {
    "weather_t": records.WEATHER,
    "cylinder_t": records.CYLINDER,
    "supply_t": records.SUPPLY,
    "burner_t": records.BURNER,
    "cabin_t": records.CABIN,
    "order_t": records.ORDER,
    "contents_t": contents.CONTENTS,
    "book_t": feed.BOOK,
    "flame_t": burner.FLAME_STATE,
}

KINDS = {"f": "double", "i": "int64_t", "b": "bool"}

CONSTANTS = {
    fuel: ("N_COMPONENTS", "MOLAR_MASS", "_LOG_PRESSURE", "_SECOND_ROOT", "_THIRD_ROOT",
           "_LIQUID_VOLUME", "_LIQUID_ENTHALPY", "_IDEAL_VAPORIZATION", "_DEPARTURE_ROOT",
           "_POYNTING_VOLUME", "_ACTIVITY_LEVEL", "_ACTIVITY_SLOPE", "_VOLUME_LEVEL",
           "_VOLUME_SLOPE", "_PAIR_TEMPERATURE", "_INVERSE_MIDDLE", "_INVERSE_HALF"),
    combustion: ("GROSS_HEATING_VALUE",),
    convection: ("GRAVITY", "UPRIGHT_STILL", "HORIZONTAL_STILL"),
    film: ("STEFAN_BOLTZMANN", "FREEZING", "STIR"),
    frost: ("FROST_DENSITY", "FROST_CONDUCTIVITY", "COVERING_MASS", "MASS_PER_HEAT"),
    moistair: ("TRIPLE_POINT", "FUSION_HEAT", "SUBLIMATION_HEAT"),
    shelter: ("STACK_COEFFICIENT", "WIND_COEFFICIENT", "HEAT_OF_AIR", "GAS_CONSTANT_OF_AIR"),
    vessel: ("LEVELS",),
    cylinder: ("TEMPERATURE", "FROST", "MOLES", "WALL_HEAT", "FROST_HEAT", "HEATER_HEAT",
               "CARRIED_OUT", "WIDTH", "LEAST_WETTED", "HEATER_BAND"),
    supply: ("BAND",),
    step: ("SAFETY", "LARGEST_GROWTH", "SMALLEST_SHRINK", "SHORTEST_STEP", "FIRST_STEP", "FIRST",
           "SECOND", "THIRD", "LAST", "TRIAL", "STAGES"),
    feed: ("FROST_TOLERANCE", "SHARE_TOLERANCE", "VAPOR", "SENSIBLE", "WALL", "FROST_STORE",
           "HEATER", "MOST_STEPS", "COLDEST", "HOTTEST"),
    room: ("INSIDE", "HEAVY", "GAINED", "LOST", "ROOM_WIDTH"),
    burner: ("IDLE", "PURGE", "FLAME", "WAIT", "LOCKED", "OUT", "NEVER", "SLACK"),
    records: ("ORDER_BURNER", "ORDER_SET_POINT"),
    march: ("VAPOR_LIMITED", "EMPTY", "RESIDUE", "HEAT_SHORT", "FREEZING_POINT", "SHORTFALL",
            "LONGEST_BURN", "GONE", "LEFT_OVER", "EVENT_SWAP", "EVENT_CAUSE",
            "LOG_LENGTH"),
}  # fmt: skip

RENAMED = {
    "FUEL_GAS_CONSTANT": fuel.GAS_CONSTANT,
    "AIR_GAS_CONSTANT": air.GAS_CONSTANT,
    "AIR_MOLAR_MASS": air.MOLAR_MASS,
    "AIR_HEAT_CAPACITY": air.HEAT_CAPACITY,
    "FREEZING_CAUSE": march.FREEZING,
    "CAUSES": len(march.CAUSES),
}
"""Constants whose name means something else in another module."""


class InC(NamedTuple):
    """What the march in C found: the same as :class:`coldsoak.night.march.Outcome`, flat."""

    state: Floats
    room: Floats
    burned: Floats
    failures: march.Failures
    stores: Floats
    lowest_inside: float
    fluid_energy: Floats
    books: Table
    steps: int
    log: march.Log


def literal(value: float | np.ndarray) -> str:
    """A number or an array as C writes it, floats exact to the last bit."""
    if isinstance(value, np.ndarray):
        return "{" + ", ".join(literal(v) for v in value) + "}"
    if isinstance(value, int | np.integer):
        return str(int(value))
    if not math.isfinite(value):
        raise ValueError(f"no C literal for {value}")
    return float(value).hex()


def constant(name: str, value: float | np.ndarray) -> str:
    """A constant's line in the header."""
    if isinstance(value, np.ndarray):
        extents = "".join(f"[{n}]" for n in value.shape)
        return f"static const double {name}{extents} = {literal(value)};"
    return f"#define {name} ({literal(value)})"


def structure(name: str, kind: np.dtype) -> str:
    """A record type's lines in the header."""
    lines = []
    for field in kind.names or ():
        form = kind[field]
        extents = "".join(f"[{n}]" for n in form.shape)
        lines.append(f"    {KINDS[form.base.kind]} {field}{extents};")
    return "\n".join(["typedef struct {", *lines, f"}} {name};"])


def aligned(records: Table) -> Table:
    """The same records with the gaps between fields that C leaves."""
    return records.astype(np.dtype(records.dtype.descr, align=True))


def header() -> str:
    """The text of march_constants.h."""
    named = [
        constant(name.lstrip("_"), getattr(module, name))
        for module, names in CONSTANTS.items()
        for name in names
    ]
    renamed = [constant(name, value) for name, value in RENAMED.items()]
    types = [structure(name, kind) for name, kind in TYPES.items()]
    return "\n".join([*named, *renamed, *types, ""])


def compiler() -> str | None:
    """The C compiler, None if there is none."""
    return shutil.which("cc")


def build(folder: Path, flags: tuple[str, ...] = FLAGS) -> Callable[[Night, float], InC]:
    """Compile the march in C into ``folder``; the result is called like ``march(night, tol, 0)``.

    Raises
    ------
    FileNotFoundError
        There is no C compiler.
    subprocess.CalledProcessError
        It refuses the source.
    """
    cc = compiler()
    if cc is None:
        raise FileNotFoundError("no C compiler named cc")
    (folder / "march_constants.h").write_text(header(), encoding="ascii")
    library = folder / "march.so"
    command = [cc, *flags, "-std=gnu11", "-Wall", "-Wextra", "-shared", "-fPIC"]
    command += [f"-I{folder}", str(SOURCE), "-o", str(library), "-lm"]
    subprocess.run(command, check=True)
    entry = ctypes.CDLL(str(library)).march
    entry.restype = None
    return lambda night, tolerance: call(entry, night, tolerance)


def arguments(*values: float | bool | np.ndarray) -> Iterator[object]:
    """Values as ctypes passes them; arrays by the address of their data."""
    for value in values:
        if isinstance(value, np.ndarray):
            yield ctypes.c_void_p(value.ctypes.data)
        elif isinstance(value, bool):
            yield ctypes.c_bool(value)
        elif isinstance(value, int):
            yield ctypes.c_int64(value)
        else:
            yield ctypes.c_double(value)


def call(entry: Callable[..., None], night: Night, tolerance: float) -> InC:
    """March through ``night`` in C."""
    count, fires = len(night.cylinders), len(night.burners)
    found = InC(
        np.empty(count * cylinder.WIDTH + 1),
        np.empty(room.ROOM_WIDTH),
        np.empty(fires),
        march.Failures(
            np.empty(len(march.CAUSES)), np.empty(len(march.CAUSES), np.int64), np.empty(count)
        ),
        np.empty(5),
        0.0,
        np.empty(count),
        np.empty(count, feed.BOOK).view(np.recarray),
        0,
        march.Log(
            np.zeros(1, np.int64),
            np.zeros(march.LOG_LENGTH),
            np.zeros(march.LOG_LENGTH, np.int64),
            np.zeros(march.LOG_LENGTH, np.int64),
        ),
    )
    lowest, steps = np.empty(1), np.empty(1, np.int64)
    tables = (
        float(night.length), aligned(night.weather), len(night.weather), night.sun,
        aligned(night.cylinders), count, aligned(night.supply), aligned(night.burners), fires,
        aligned(night.cabin), night.heated, aligned(night.orders), len(night.orders),
        float(tolerance),
    )  # fmt: skip
    results = (
        found.state, found.room, found.burned, *found.failures, found.stores, lowest,
        found.fluid_energy, found.books, steps, *found.log,
    )  # fmt: skip
    entry(*arguments(*tables, *results))
    return found._replace(lowest_inside=float(lowest[0]), steps=int(steps[0]))
