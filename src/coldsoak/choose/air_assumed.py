"""What every answer about air takes for granted beyond the trip file, each with its source."""

from coldsoak.choose.openings import DRY, REASON, SIZES
from coldsoak.night.air import WET
from coldsoak.physics.opening import ACROSS, DISCHARGE, ONE_SIDED
from coldsoak.physics.roomair import (
    INSIDE_CONVECTION,
    LEAST_OXYGEN,
    OUTSIDE_CO2,
    RESPIRATORY_QUOTIENT,
)
from coldsoak.rig.trip import Assumption

AIR_ASSUMED: tuple[Assumption, ...] = (
    Assumption(
        "air.outside_co2",
        f"{1e6 * OUTSIDE_CO2:.0f} ppm",
        "World Meteorological Organization, global mean of 2024",
    ),
    Assumption(
        "air.breath",
        f"{RESPIRATORY_QUOTIENT:g} carbon dioxide for each oxygen",
        "Persily & de Jonge (2017), Indoor Air 27:868, from memory",
    ),
    Assumption("air.start", "aired out", "the room starts with the air of outside"),
    Assumption("air.discharge", f"{DISCHARGE:g}", "sharp-edged opening"),
    Assumption(
        "air.wind_across",
        f"{ACROSS:g} of the wind through half of the openings; {ONE_SIDED:g} through a single one",
        "ASHRAE Fundamentals (2009) ch. 16, wind at an angle; BS 5925:1991; from memory",
    ),
    Assumption(
        "air.condensation",
        f"film coefficient {INSIDE_CONVECTION:g} W/m2K, Lewis relation",
        "ISO 6946:2017 annex C, from memory",
    ),
    Assumption("air.wet", f"{1e3 * WET:g} g/m2 of water", "common practice, no source"),
    Assumption(
        "air.dry_windows",
        f"wet {100 * DRY:g} % of the time at most, for {100 * (REASON - 1):g} % more fuel at most",
        "common practice, no source",
    ),
    Assumption(
        "air.openings",
        f"up to {1e4 * SIZES[-1]:g} cm2, half low and half high, in still air",
        "the choice of this program",
    ),
    Assumption(
        "air.flame_out",
        f"{100 * LEAST_OXYGEN:g} % oxygen",
        "NFPA 69, limiting oxygen of propane, from memory; people are in danger long before",
    ),
)
"""Constants of the air that a reader may want to know."""
