"""What an appliance asks of the gas at its inlet: least pressure, and a regulator of its own."""

from typing import NamedTuple

from coldsoak.rig.catalogue import Entry, Sourced, catalogue
from coldsoak.rig.regulator import named, resolve_regulator
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Regulator
from coldsoak.rig.units import parse, show

SAME = 0.04
"""Share by which a regulator's outlet may differ from a standard pressure and still be it."""

SHARE_OF_OUTLET = 8.0 / 11.0
"""Least pressure over set pressure where no standard names it: that of 11 inH2O."""

UNREGULATED = Sourced(
    "34.5 kPa", "common practice, no source: 5 psi where no regulator stands before it"
)


class Inlet(NamedTuple):
    """Least gauge pressure [Pa], behind the appliance's own regulator if it has one, and that."""

    needs: float
    regulator: Regulator | None


def resolve_inlet(section: Section, before: float | None, told: bool) -> Inlet:
    """The inlet of an appliance; raises TripError.

    Parameters
    ----------
    section : Section
        Its table.
    before : float or None
        Pressure that the last regulator before it is set to [Pa gauge], None without one.
    told : bool
        Whether a default is recorded: without lines it has no effect.
    """
    if section.given("regulator") is not None:
        least = section.number("needs") if section.given("needs") is not None else 0.0
        own = resolve_regulator(section, named(section), least)
        return Inlet(parse(usual_need(own.outlet).value, "gauge_pressure"), own)
    usual = usual_need(before)
    if told or section.given("needs") is not None:
        return Inlet(section.number("needs", usual), None)
    return Inlet(parse(usual.value, "gauge_pressure"), None)


def usual_need(before: float | None) -> Sourced:
    """Least inlet pressure of an appliance made for a pressure [Pa gauge].

    >>> usual_need(2740.0).value, usual_need(3000.0).value
    ('8 inH2O', '25 mbar')
    """
    if before is None:
        return UNREGULATED
    entry = standard_pressure(before)
    if entry is not None:
        return entry.values["least"]
    return Sourced(
        show(SHARE_OF_OUTLET * before, "gauge_pressure"),
        "computed: 8/11 of the pressure before it, as for 11 inH2O",
    )


def standard_pressure(outlet: float) -> Entry | None:
    """The standard appliance pressure that a regulator is set to [Pa gauge], None if to none."""
    near = {
        abs(parse(name, "gauge_pressure") / outlet - 1.0): entry
        for name, entry in catalogue("pressures").items()
    }
    closest = min(near)
    return near[closest] if closest <= SAME else None
