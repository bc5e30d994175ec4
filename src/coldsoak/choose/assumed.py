"""What every plan takes for granted beyond the trip file, each with its source."""

from coldsoak.choose.lay_out import HEATER_LIMIT
from coldsoak.choose.swaps import LEAD, NIGHT
from coldsoak.choose.verdict import COLDER, EMPTIER
from coldsoak.night.cylinder import LEAST_WETTED
from coldsoak.night.march import LONGEST_BURN, SHORTFALL
from coldsoak.night.supply import BAND
from coldsoak.physics.sky import SNOW_ALBEDO
from coldsoak.rig.trip import Assumption

ASSUMED: tuple[Assumption, ...] = (
    Assumption("plan.composition", "the worst of the grade", "a plan errs on the safe side"),
    Assumption(
        "plan.input",
        "times the root of station pressure over 101.325 kPa",
        "a fixed orifice at fixed gauge pressure (Bernoulli); no orifice was changed for altitude",
    ),
    Assumption(
        "plan.harsher",
        f"air {COLDER:g} K colder, contents {100 * EMPTIER:g} % less",
        "what a trip that holds must pass too",
    ),
    Assumption(
        "plan.heater_limit",
        f"{HEATER_LIMIT - 273.15:g} degC",
        "a heater that is always on ends here; common practice, no source",
    ),
    Assumption(
        "plan.lead", f"{LEAD / 3600:g} h", "a cylinder is changed this long before it fails"
    ),
    Assumption(
        "plan.sleeping_hours",
        f"{NIGHT[0] / 3600:.0f}:00 to {NIGHT[1] / 3600:.0f}:00",
        "where no [people] are given; common practice, no source",
    ),
    Assumption(
        "plan.heat_short",
        f"{SHORTFALL:g} K under the set point, or {LONGEST_BURN / 3600:g} h of burning",
        "the furnace runs and the room sinks past it, or never reaches it",
    ),
    Assumption(
        "plan.ground", f"{100 * SNOW_ALBEDO:g} % of the sun sent back", "settled snow (from memory)"
    ),
    Assumption(
        "plan.last_drops",
        f"{100 * LEAST_WETTED:g} % of the wall",
        "stays with vapor and last drops; common practice, no source",
    ),
    Assumption(
        "plan.handing_over",
        f"{BAND / 1000:g} kPa",
        "droop over which open cylinders share; common practice, no source",
    ),
)
"""Constants of the calculation that a reader may want to know."""
