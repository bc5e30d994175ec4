"""The handbooks' rule for tanks, D x L x K, on its own basis: liquid 20 degF below air of 0 degF.

It does not mix with the table for cylinders, which lets the liquid fall to 0 psig. The rule's K
follows the wetted wall, its multipliers the temperature difference; the heat that it takes for a
square meter is three times what still air gives, so it is a rate for a load that pauses.
"""

from math import pi
from typing import NamedTuple

from coldsoak.checks.check import Check
from coldsoak.checks.fuels import PROPANE
from coldsoak.checks.printed import status
from coldsoak.checks.table import Row, rows
from coldsoak.checks.units import (
    ATMOSPHERE,
    BTU_PER_HOUR,
    INCH,
    PSI,
    fahrenheit,
)
from coldsoak.physics.combustion import gross_heating_value
from coldsoak.physics.film import Outside, Wall, fin_heat, wall_heat
from coldsoak.physics.fuel import (
    bubble_temperature,
    latent_heat,
    liquid_density,
    liquid_heat_capacity,
    molar_mass,
)
from coldsoak.physics.vessel import (
    Shape,
    horizontal_contact_length,
    horizontal_height,
    horizontal_wetted_area,
    inner_volume,
    shape,
    total_area,
)

SUBJECT = "tanks"

AIR = fahrenheit(0.0)
LIQUID = fahrenheit(-20.0)
"""The rule's basis [K]."""

CONTINUOUS = 0.25
"""Share of an intermittent rate that handbooks count for continuous use (from memory)."""

REGULATOR = 5.0 * PSI
"""Gauge pressure that a two-stage regulator needs, common practice [Pa]."""

THICKNESS = 6e-3
"""Wall of a tank [m]; it hardly matters (common practice, no source)."""


class Tank(NamedTuple):
    """A horizontal tank: nominal gallons, outside diameter and length over all [m]."""

    gallons: int
    diameter: float
    length: float


def tank_of(gallons: str) -> Tank:
    """A tank of the table."""
    row = next(row for row in rows("tanks") if row["gallons"] == gallons)
    return Tank(int(gallons), float(row["diameter_in"]) * INCH, float(row["length_in"]) * INCH)


def body(tank: Tank) -> Shape:
    """Its shape: 2:1 ellipsoidal heads take up half a diameter of the length."""
    section = 0.25 * pi * tank.diameter**2
    straight = tank.length - 0.5 * tank.diameter
    return shape(section * (straight + tank.diameter / 3.0), tank.diameter)


class Wetted(NamedTuple):
    """Wall that the liquid wets [m2], and the edge of its surface [m]."""

    area: float
    edge: float


def wetted(tank: Tank, filling: float) -> Wetted:
    """Wetted wall at a filling, liquid volume over the whole."""
    inside = body(tank)
    height = horizontal_height(inside, filling * inner_volume(inside))
    return Wetted(
        float(horizontal_wetted_area(inside, height)),
        float(horizontal_contact_length(inside, height)),
    )


def boil(heat: float, liquid: float) -> float:
    """Gross heat [W] of the vapor that a heat [W] boils from liquid of a temperature [K]."""
    return heat / float(latent_heat(liquid, PROPANE)) * float(gross_heating_value(PROPANE))


def wall_of(tank: Tank) -> Wall:
    """A painted steel wall that sees surroundings of air temperature."""
    return Wall(False, tank.length, tank.diameter, THICKNESS, 50.0, 0.9, 0.0, 0.0, 0.0)


def on_rules_basis(tank: Tank, filling: float, air: float, wind: float) -> float:
    """Our steady rate [W] with the rule's liquid and no heat from the dry wall; dry air [K]."""
    outside = Outside(air, wind, 0.0, air, 0.0, ATMOSPHERE)
    flux = wall_heat(LIQUID, 0.0, outside, wall_of(tank)).flux
    return boil(wetted(tank, filling).area * flux, LIQUID)


def by_rule(tank: Tank, k: float) -> float:
    """D x L x K [W]."""
    return k * tank.diameter / INCH * tank.length / INCH * BTU_PER_HOUR


def agreeing_wind(tank: Tank, filling: float, k: float) -> float:
    """Wind [m/s] in which ours is the rule's."""
    low, high = 0.0, 30.0
    for _ in range(40):
        wind = 0.5 * (low + high)
        short = on_rules_basis(tank, filling, AIR, wind) < by_rule(tank, k)
        low, high = (wind, high) if short else (low, wind)
    return low


def by_filling(row: Row) -> Check:
    """K at a filling: ours is K at 60 % times the ratio of the wetted walls."""
    tank = tank_of("1000")
    full = float(rows("tank_rule")[0]["K"])
    filling, k = float(row["filling_pct"]) / 100.0, float(row["K"])
    return Check(
        subject=SUBJECT,
        what=f"D x L x K: K at {row['filling_pct']} % by the wetted wall, from {full:g} at 60 %",
        source=row["source"],
        ours=full * wetted(tank, filling).area / wetted(tank, 0.6).area,
        theirs=k,
        unit="Btu/h in2",
        tolerance=2.5 / k,
        why="half a step: K is printed in steps of 5. Ours for a tank of 41 by 192 in",
        status=status(row),
    )


def hours_of(tank: Tank, k: float) -> float:
    """Hours that the rule's rate lasts from air temperature to 20 degF below, half full, still.

    One lump: the liquid's heat over the middle, the wall at the difference's half.
    """
    mass = 0.5 * inner_volume(body(tank)) * float(liquid_density(AIR, PROPANE))
    middle = 0.5 * (AIR + LIQUID)
    store = mass * float(liquid_heat_capacity(1, middle) / molar_mass(PROPANE)) * (AIR - LIQUID)
    demand = by_rule(tank, k) / boil(1.0, middle)
    through = 0.5 * on_rules_basis(tank, 0.5, AIR, 0.0) / boil(1.0, LIQUID)
    return store / (demand - through) / 3600.0


def half_full(gallons: str) -> Check:
    """The whole rule for a tank that is half full."""
    tank = tank_of(gallons)
    row = next(row for row in rows("tank_rule") if row["filling_pct"] == "50")
    k = float(row["K"])
    still = on_rules_basis(tank, 0.5, AIR, 0.0)
    return Check(
        subject=SUBJECT,
        what=f"D x L x K for {gallons} gal, half full, air 0 degF: our steady rate in still, dry "
        "air, liquid -20 degF",
        source=row["source"],
        ours=still / BTU_PER_HOUR / 1e3,
        theirs=by_rule(tank, k) / BTU_PER_HOUR / 1e3,
        unit="kBtu/h",
        tolerance=1.0 - CONTINUOUS,
        why="the rule is for a load that pauses, a quarter of it is counted for "
        "continuous use (from memory). Ours is the rule's in "
        f"{agreeing_wind(tank, 0.5, k):.1f} m/s of wind; in still air the rule's rate lasts "
        f"{hours_of(tank, k):.0f} h",
        status=status(row),
        informative=True,
    )


def by_air(row: Row) -> Check:
    """The multiplier for another air temperature, in the wind in which ours is the rule's."""
    tank = tank_of("1000")
    k = float(next(row["K"] for row in rows("tank_rule") if row["filling_pct"] == "50"))
    wind = agreeing_wind(tank, 0.5, k)
    theirs = float(row["multiplier"])
    other = on_rules_basis(tank, 0.5, fahrenheit(float(row["air_F"])), wind)
    return Check(
        subject=SUBJECT,
        what=f"D x L x K, multiplier for air of {row['air_F']} degF",
        source=row["source"],
        ours=other / on_rules_basis(tank, 0.5, AIR, wind),
        theirs=theirs,
        unit="-",
        tolerance=0.06,
        why="6 %: the rule is linear in the temperature difference, free convection and radiation "
        "are not quite",
        status=status(row),
    )


def steady_heat(tank: Tank) -> float:
    """Rate [W] of a half full tank that stands at 5 psig, air 0 degF, still and dry."""
    liquid = float(bubble_temperature(ATMOSPHERE + REGULATOR, PROPANE))
    at_half, wall = wetted(tank, 0.5), wall_of(tank)
    dry = float(total_area(body(tank))) - at_half.area
    found = wall_heat(liquid, 0.0, Outside(AIR, 0.0, 0.0, AIR, 0.0, ATMOSPHERE), wall)
    fin = fin_heat(found.bare_flux, found.bare_conductance, wall, dry, at_half.edge)
    return boil(at_half.area * found.flux + fin, liquid)


def smallest(row: Row) -> Check:
    """What the smallest tank allowed for a load gives by our steady state."""
    gallons = float(row["gallons"])
    return Check(
        subject=SUBJECT,
        what=f"{row['gallons']} gal, half full, air 0 degF: our steady rate at 5 psig in still, "
        "dry air; theirs is the load it is allowed for",
        source=row["source"],
        ours=steady_heat(tank_of(row["gallons"])) / BTU_PER_HOUR / 1e3,
        theirs=float(row["load_Btu_per_h"]) / 1e3,
        unit="kBtu/h",
        tolerance=gallons / float(row["next_smaller_gallons"]) - 1.0,
        why="the step to the source's next smaller size; it states neither pressure nor wind, and "
        "the outside dimensions of the tank are from memory",
        status=status(row),
        informative=True,
    )


def checks() -> tuple[Check, ...]:
    """The rule by filling, whole, by air temperature, and tank sizes by load."""
    return (
        *(by_filling(row) for row in rows("tank_rule")[1:]),
        *(half_full(gallons) for gallons in ("150", "250", "500", "1000")),
        *(by_air(row) for row in rows("tank_multipliers")),
        *(smallest(row) for row in rows("tank_sizes")),
    )
