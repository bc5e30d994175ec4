"""An appliance of the trip file resolved: when it burns, how much, and what reaches the room."""

from typing import Literal

from coldsoak.rig.catalogue import Sourced, catalogue
from coldsoak.rig.document import ApplianceTable, SetbackTable
from coldsoak.rig.inlet import Inlet
from coldsoak.rig.quantity import Measured
from coldsoak.rig.resolve import Section, measured
from coldsoak.rig.trip import Appliance, Setback, Window

HEATS_A_ROOM = ("furnace", "room heater", "burner")
"""Kinds whose thermostat is that of the room."""

SETTINGS_OF_A_THERMOSTAT = (
    "set",
    "setback",
    "differential",
    "minimum_on",
    "minimum_off",
    "purge",
    "tries",
    "retry_wait",
)

Use = Literal["thermostat", "always"] | tuple[Window, ...]


def resolve_appliance(section: Section, name: str, sheltered: bool, inlet: Inlet) -> Appliance:
    """One appliance in SI, with its gas `inlet`; raises TripError.

    A thermostat needs a room to measure: without a shelter, and for kinds whose own thermostat is
    not modelled, it is taken as burning all the time, and a note says so.
    """
    kind = section.given("kind")
    use = _use(section, name, kind, sheltered)
    thermostat = use == "thermostat"
    section.ignore_given("electric")
    if not thermostat:
        _tell_unused(section, name)
    return Appliance(
        name=name,
        kind=kind,
        input=section.number("input", _input_range(kind)),
        vented=section.word("vented", _of_kind(kind, "vented")),
        room_share=section.number("room_share", _of_kind(kind, "room_share")),
        use=use,
        set_point=_setting(section, "set", thermostat),
        setbacks=_setbacks(section) if thermostat else (),
        differential=_setting(section, "differential", thermostat),
        minimum_on=_setting(section, "minimum_on", thermostat),
        minimum_off=_setting(section, "minimum_off", thermostat),
        purge=_setting(section, "purge", thermostat),
        tries=section.word("tries") if thermostat else 1,
        retry_wait=_setting(section, "retry_wait", thermostat),
        electric=section.number("electric", _of_kind(kind, "electric")),
        needs=inlet.needs,
        regulator=inlet.regulator,
    )


def _of_kind(kind: str, key: str) -> Sourced:
    """What the catalogue says of a kind of appliance."""
    value = catalogue("burners")[kind].values[key]
    return Sourced(value.value, f"{kind}: {value.source}", value.unknown)


def _input_range(kind: str) -> Sourced:
    return catalogue("burners")[kind].values["unknown_input"]


def _use(section: Section, name: str, kind: str, sheltered: bool) -> Use:
    """When it burns."""
    given = section.given("use")
    if isinstance(given, list):
        return tuple((window.start, window.end) for window in given)
    if given is None:
        of_kind = catalogue("burners")[kind].values.get("use")
        given = section.word("use", of_kind)
    if given == "always":
        return "always"
    return _thermostat(section, name, kind, sheltered)


def _thermostat(
    section: Section, name: str, kind: str, sheltered: bool
) -> Literal["thermostat", "always"]:
    """A room thermostat where there is one to model, else burning all the time, with a note."""
    if kind not in HEATS_A_ROOM:
        section.record.note(
            f"{name}: the thermostat of a {kind} is not modelled; it is taken as burning all the "
            "time, the worst for the fuel."
        )
        return "always"
    if not sheltered:
        section.record.note(
            f"{name}: there is no [shelter] whose temperature a thermostat could hold; it is "
            "taken as burning all the time, the worst for the fuel."
        )
        return "always"
    return "thermostat"


def _tell_unused(section: Section, name: str) -> None:
    """Note the keys that have no effect without a room thermostat."""
    unused = [key for key in SETTINGS_OF_A_THERMOSTAT if section.given(key) is not None]
    if unused:
        section.record.note(
            f"{name}: {', '.join(unused)} not used, because no room thermostat runs it."
        )


def _setting(section: Section, key: str, thermostat: bool) -> float:
    """A setting of the thermostat; where there is none, its default without telling it."""
    if thermostat:
        return section.by_default(key)
    quiet = Section(type(section.record)(section.record.source, {}), ApplianceTable, None, ())
    return quiet.by_default(key)


def _setbacks(section: Section) -> tuple[Setback, ...]:
    """The set points of times of day."""
    setbacks = []
    for index, entry in enumerate(section.given("setback") or ()):
        table = Section(section.record, SetbackTable, entry, (*section.at("setback"), index))
        measure: Measured = measured(SetbackTable, "set")
        set_point = table.settled(table.at("set"), measure, entry.set)
        setbacks.append(Setback(entry.start, entry.end, set_point))
    return tuple(setbacks)
