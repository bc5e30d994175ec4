"""The limits of the air inside: as the trip sets them, else those of the standards."""

from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import AirLimits


def resolve_air(section: Section) -> AirLimits:
    """Most carbon dioxide and least oxygen; raises TripError."""
    return AirLimits(co2=section.by_default("co2"), oxygen=section.by_default("o2"))
