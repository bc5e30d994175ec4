"""The supply side of the trip file resolved: arrangement, regulator, connector and pressures."""

from coldsoak.rig.document import ConnectorTable, RegulatorTable
from coldsoak.rig.regulator import Named, least_inlet, named, resolve_regulator
from coldsoak.rig.resolve import Section
from coldsoak.rig.trip import Connector, Cylinder, Regulator, Supply

DISTILLATION_CAUTION = (
    "without check valves vapor distils from the warmer cylinder into the colder one and can "
    "over-fill it until it vents: open one cylinder at a time, or use a manifold with check valves"
)


def resolve_supply(section: Section, cylinders: tuple[Cylinder, ...], lines: bool) -> Supply:
    """The supply of a trip, its regulator with numbers if there are lines; raises TripError."""
    arrangement = section.word("arrangement")
    words = named(section)
    if arrangement == "together" and len(cylinders) > 1 and not section.word("check_valves"):
        raise section.error("check_valves", "found false", DISTILLATION_CAUTION)
    minimum = section.number("minimum_inlet", least_inlet(words))
    return Supply(
        arrangement=arrangement,
        regulator=words.entry.name,
        outlet=words.outlet,
        minimum_inlet=minimum,
        changeover_set=_changeover(section, arrangement, minimum, cylinders),
        device=_device(section, words, minimum, lines),
        connector=_connector(section),
    )


def _device(section: Section, words: Named, minimum: float, lines: bool) -> Regulator | None:
    """The regulator's numbers; None where neither a line nor a number of it is given."""
    given = section.given("regulator")
    if not lines and not isinstance(given, RegulatorTable):
        if isinstance(given, str) and any(letter.isdigit() for letter in given):
            section.record.ignore(section.at("regulator"), "'s outlet pressure")
        return None
    return resolve_regulator(section, words, minimum)


def _connector(section: Section) -> Connector | None:
    """The excess-flow connector, None where there is none."""
    given = section.given("connector")
    if given is None:
        return None
    table = Section(section.record, ConnectorTable, given, section.at("connector"))
    trip, bypass = table.by_default("trip"), table.by_default("bypass")
    if bypass >= trip:
        raise table.error(
            "bypass",
            "found a bypass flow that is not smaller than the flow that closes the connector",
            "give the small flow that it still passes when it is closed",
        )
    return Connector(trip, bypass)


def _changeover(
    section: Section, arrangement: str, minimum: float, cylinders: tuple[Cylinder, ...]
) -> float:
    """Set point of an automatic changeover [Pa gauge]; told only where there is one."""
    if arrangement != "automatic changeover":
        if section.given("changeover") is not None:
            section.record.note(
                "supply.changeover is not used: the arrangement has no automatic changeover."
            )
        return 0.0
    if not any(cylinder.role == "reserve" for cylinder in cylinders):
        section.record.note(
            "The automatic changeover has no cylinder with the role reserve to change to."
        )
    value = section.by_default("changeover")
    if value < minimum:
        section.record.note(
            "The changeover is set below the least inlet pressure: supply fails before it opens."
        )
    return value
