"""What a reading is about: a cylinder, an appliance, or the rig as a whole."""

from typing import NamedTuple

from coldsoak.errors import InputError
from coldsoak.ledger.kinds import Kind
from coldsoak.rig.catalogue import nearest, plain
from coldsoak.rig.units import shown

RIG = ("rig", "-", "")
"""What stands for the rig as a whole where a cylinder could be named."""


class Names(NamedTuple):
    """What can be named: the cylinders and the appliances of a trip, and of its journal."""

    cylinders: tuple[str, ...]
    appliances: tuple[str, ...]


class Subject(NamedTuple):
    """The name of a cylinder or of an appliance; both None for the rig as a whole."""

    cylinder: str | None
    appliance: str | None


def subject(of: Kind, name: str, names: Names) -> Subject:
    """What a reading of one kind is about.

    Raises InputError that names the nearest known name, and what can be named.

    >>> from coldsoak.ledger.kinds import kind
    >>> subject(kind("gross weight"), "a", Names(("A", "B"), ("furnace",)))
    Subject(cylinder='A', appliance=None)
    """
    match of.about:
        case "cylinder":
            return Subject(_known(of, name, "cylinder", names.cylinders), None)
        case "appliance":
            return Subject(None, _known(of, name, "appliance", names.appliances))
        case "rig":
            if name.strip().lower() in RIG:
                return Subject(None, None)
            raise InputError(f"found {shown(name)}", f"{of.name} is of the whole rig: write rig")
        case "anything":
            return _anything(of, name, names)


def _anything(of: Kind, name: str, names: Names) -> Subject:
    """A cylinder, else an appliance, else the rig."""
    if (cylinder := match(name, names.cylinders)) is not None:
        return Subject(cylinder, None)
    if (appliance := match(name, names.appliances)) is not None:
        return Subject(None, appliance)
    if name.strip().lower() in RIG:
        return Subject(None, None)
    every = (*names.cylinders, *names.appliances, RIG[0])
    raise _unknown(of, name, "cylinder or appliance", every)


def _known(of: Kind, name: str, what: str, known: tuple[str, ...]) -> str:
    found = match(name, known)
    if found is None:
        raise _unknown(of, name, what, known)
    return found


def match(name: str, known: tuple[str, ...]) -> str | None:
    """The known name that is written like `name`; capitals and spaces count only in doubt.

    >>> match("furnace ", ("Furnace",)), match("a", ("A", "a")), match("C", ("A", "B"))
    ('Furnace', 'a', None)
    """
    if name in known:
        return name
    alike = [each for each in known if plain(each) == plain(name)]
    return alike[0] if len(alike) == 1 else None


def _unknown(of: Kind, name: str, what: str, known: tuple[str, ...]) -> InputError:
    """The error for a name that nothing has."""
    close = nearest(name, known)
    hint = f"did you mean {close}? " if close else ""
    listed = f"known: {', '.join(known)}" if known else f"the trip file has no {what}"
    return InputError(f"unknown {what} {shown(name)} for {of.name}", f"{hint}{listed}")
