"""``coldsoak burn``: a burner's true input, and whether it fits the plate."""

from typing import TYPE_CHECKING, Any, NamedTuple

import click

from coldsoak.faces import options, shown
from coldsoak.faces.given import Assumed, Given, given, given_or_default, needed
from coldsoak.faces.jsontext import json_text

if TYPE_CHECKING:
    from coldsoak.choose.burner_input import Fit, Input, Plate
    from coldsoak.rig.trip import Fractions

FITS = {
    "fits": "The input agrees with the plate.",
    "over": "It burns more than its plate says: pressure or orifice is too large. Do not use it "
    "until a licensed person has put it right.",
    "under": "It burns less than its plate says: pressure, orifice or altitude; or it did not burn "
    "all the time.",
    "cannot tell": "The doubt of the readings is larger than the difference: weigh over a longer "
    "time, or with a finer scale.",
}
"""What a fit means."""


class Burned(NamedTuple):
    """An answer: how it was found, the input, further numbers, the plate, what was assumed."""

    by: str
    found: "Input"
    numbers: dict[str, float]
    plate: "Plate | None"
    fit: "Fit | None"
    assumed: list[Assumed]


def mixture_of(fuel: str | None, told: list[Assumed]) -> "Fractions":
    """Typical composition of a grade."""
    from coldsoak.rig.catalogue import default
    from coldsoak.rig.fuel import typical_of

    if fuel is None:
        entry = default("fuel.blend")
        told.append(Assumed("fuel", entry.value, entry.source))
        fuel = str(entry.value)
    return typical_of(fuel)


def place_of(elevation: str | None, told: list[Assumed]) -> tuple[float, float]:
    """Elevation [m] and pressure of the standard atmosphere there [Pa]."""
    from coldsoak.physics.sky import station_pressure
    from coldsoak.rig.quantity import Measured

    height = 0.0
    if elevation is None:
        told.append(Assumed("elevation", "0 m", "not given: sea level"))
    else:
        height = given("--elevation", elevation, Measured("elevation", "-430 m", "6000 m")).value
    return height, float(station_pressure(height))


def ends(quantity: Given) -> "Input":
    """A quantity with its two ends."""
    from coldsoak.choose.burner_input import Input

    return Input(quantity.value, quantity.value - quantity.half, quantity.value + quantity.half)


def weighed(
    start: str | None, end: str | None, time: str | None, scale: str | None, fuel: str | None
) -> tuple["Input", list[Assumed]]:
    """Input from two weighings; raises InputError where nothing was burned."""
    from coldsoak.choose.burner_input import by_weight
    from coldsoak.errors import InputError
    from coldsoak.rig.quantity import Measured

    told: list[Assumed] = []
    why = 'give both weighings and the time: --start "35.9 lb" --end "34.2 lb" --time "2 h"'
    mass = Measured("mass", "0 kg", "4000 kg")
    before = given("--start", needed("--start", start, why), mass)
    after = given("--end", needed("--end", end, why), mass)
    burned = given("--time", needed("--time", time, why), Measured("time", "1 min", "60 d"))
    if after.value >= before.value:
        raise InputError(
            "the end weighs as much as the start or more",
            "give the heavier weighing first",
            key="--end",
        )
    doubt = given_or_default(
        "--scale-error", scale, Measured("mass", "0 g", "20 kg"), "burn.scale_error", told
    )
    mixture = mixture_of(fuel, told)
    return by_weight(ends(before), ends(after), ends(burned), doubt.value, mixture), told


def diameter_of(drill: str | None, diameter: str | None) -> float:
    """Diameter of an orifice [m], by drill number or as measured."""
    from coldsoak.errors import InputError
    from coldsoak.rig.catalogue import drills
    from coldsoak.rig.quantity import Measured
    from coldsoak.rig.units import shown as quoted

    if drill is not None and diameter is not None:
        raise InputError("found both --drill and --diameter", "give one of them")
    if drill is None:
        text = needed("--diameter", diameter, "give --drill 68 or --diameter 0.79mm, or weighings")
        return given("--diameter", text, Measured("length", "0.1 mm", "20 mm")).value
    if drill not in drills():
        numbers = list(drills())
        raise InputError(
            f"found drill {quoted(drill)}",
            f"number drills go from {numbers[0]} to {numbers[-1]}; give others by --diameter",
            key="--drill",
        )
    return drills()[drill]


def by_hole(
    hole: float,
    count: int,
    pressure: str | None,
    discharge: str | None,
    fuel: str | None,
    place: tuple[float, float],
) -> tuple["Input", dict[str, float], list[Assumed]]:
    """Input from orifices; the physics of this elevation is the answer, the code stands beside."""
    from coldsoak.choose.burner_input import Input, by_orifice, orifice_area, sea_level
    from coldsoak.rig.quantity import Measured

    told: list[Assumed] = []
    low = Measured(
        "gauge_pressure", "0 Pa", "5 kPa", above=True, why="the formula is for low pressure"
    )
    at = given_or_default("--pressure", pressure, low, "burn.pressure", told)
    share = Measured("share", "30 %", "100 %")
    k = given_or_default("--discharge", discharge, share, "burn.discharge", told)
    area = orifice_area(hole, count)
    mixture = mixture_of(fuel, told)

    def at_pressure(pascals: float, coefficient: float) -> Any:
        return by_orifice(area, pascals, coefficient, mixture, *place)

    middle = at_pressure(at.value, k.value)
    lowest = at_pressure(at.value - at.half, k.value - k.half).physics
    highest = at_pressure(at.value + at.half, k.value + k.half).physics
    numbers = {
        "diameter_mm": 1000.0 * hole,
        "code_sea_level_W": middle.code,
        "code_derated_W": middle.code_here,
        "physics_sea_level_W": sea_level(middle.physics, place[1]),
    }
    return Input(middle.physics, lowest, highest), numbers, told


def burned_object(burned: Burned) -> dict[str, Any]:
    """The answer as one object."""
    plate = burned.plate
    return {
        "schema": "coldsoak.burn/1",
        "by": burned.by,
        "input_W": round(burned.found.value, 1),
        "input_low_W": round(burned.found.low, 1),
        "input_high_W": round(burned.found.high, 1),
        "numbers": {key: round(value, 4) for key, value in burned.numbers.items()},
        "plate": None
        if plate is None
        else {
            "sea_level_W": round(plate.sea_level, 1),
            "code_derated_W": round(plate.code, 1),
            "physics_W": round(plate.physics, 1),
        },
        "fit": burned.fit,
        "says": None if burned.fit is None else FITS[burned.fit],
        "assumed": [entry._asdict() for entry in burned.assumed],
    }


def print_burned(burned: Burned, units: str) -> None:
    """Print an answer: the input first."""
    from coldsoak.faces.lines import bullets
    from coldsoak.faces.paper import EMBER, paper

    console = paper()
    found = burned.found
    value = shown.watts(found.value, units)
    low, high = shown.watts(found.low, units), shown.watts(found.high, units)
    between = "" if low == high else f", between {low} and {high}"
    console.print(f"{value} by {burned.by}{between}", style="bold")
    if burned.fit is not None and burned.plate is not None:
        plate = burned.plate
        good = burned.fit == "fits"
        console.print(burned.fit.upper(), style="bold" if good else f"bold {EMBER}")
        console.print(FITS[burned.fit])
        console.print(
            f"Plate {shown.watts(plate.sea_level, units)}; at this elevation "
            f"{shown.watts(plate.code, units)} by the code's derating, "
            f"{shown.watts(plate.physics, units)} by physics."
        )
    bullets(console, "Numbers", [_number(key, v, units) for key, v in burned.numbers.items()])
    bullets(console, "Assumed", [f"{a.what}: {a.value} ({a.source})" for a in burned.assumed])


def _number(key: str, value: float, units: str) -> str:
    """A further number as people read it."""
    name, _, unit = key.rpartition("_")
    words = name.replace("_", " ")
    if unit == "W":
        return f"{words}: {shown.watts(value, units)}"
    return f"{words}: {shown.restated(f'{value:.4g} mm', units)}"


@click.command("burn")
@click.option("--start", help="Weight before, cylinder and gas.")
@click.option("--end", help="Weight after.")
@click.option("--time", help="How long it burned.")
@click.option("--scale-error", help="What the scale may be wrong by.")
@click.option("--drill", help="Number of the orifice's drill.")
@click.option("--diameter", help="Diameter of the orifice.")
@click.option("--count", type=click.IntRange(1, 1000), default=1, help="How many orifices.")
@click.option("--pressure", help="Gas pressure at the orifice.")
@click.option("--discharge", help="Discharge coefficient of the orifice.")
@click.option("--plate", help="Input on the rating plate.")
@click.option("--elevation", help="Of the place.")
@click.option("--fuel", help="Grade of the gas.")
@options.as_json
@options.units
def command(
    start: str | None,
    end: str | None,
    time: str | None,
    scale_error: str | None,
    drill: str | None,
    diameter: str | None,
    count: int,
    pressure: str | None,
    discharge: str | None,
    plate: str | None,
    elevation: str | None,
    fuel: str | None,
    as_json: bool,
    units: str,
) -> None:
    """A burner's true input, by weight or by orifice.

    By weight: --start, --end and --time. By orifice: --drill or --diameter, and --pressure.
    With --plate it says whether the input fits, with the derating of the fuel-gas code and of
    physics at --elevation.
    """
    from coldsoak.choose.burner_input import fit_of, plate_at
    from coldsoak.rig.quantity import Measured
    from coldsoak.rig.units import parse

    told: list[Assumed] = []
    numbers: dict[str, float] = {}
    weight = any(text is not None for text in (start, end, time))
    place = place_of(elevation, told)
    if weight:
        found, more = weighed(start, end, time, scale_error, fuel)
    else:
        hole = diameter_of(drill, diameter)
        found, numbers, more = by_hole(hole, count, pressure, discharge, fuel, place)
    of_plate, fit = None, None
    if plate is not None:
        measure = Measured("power", "0 W", "3000 kW", above=True)
        of_plate = plate_at(given("--plate", plate, measure).value, *place)
        entry = _tolerance(told)
        fit = fit_of(found, of_plate, parse(entry, "share"))
    by = "weight" if weight else "orifice"
    burned = Burned(by, found, numbers, of_plate, fit, [*told, *more])
    if as_json:
        click.echo(json_text(burned_object(burned)))
    else:
        print_burned(burned, units)


def _tolerance(told: list[Assumed]) -> str:
    """The share by which a plate may be missed, told."""
    from coldsoak.rig.catalogue import default

    entry = default("burn.plate_tolerance")
    told.append(Assumed("plate tolerance", entry.value, entry.source))
    return str(entry.value)
