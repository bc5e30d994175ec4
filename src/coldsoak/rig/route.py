"""How the lines of a trip hang together: from the cylinder over the regulator to every burner.

The places are "cylinder", "regulator" (its inlet for a line that leads there, its outlet for a
line that begins there), the appliances, and whatever other names lines begin at and lead to.
"""

from collections.abc import Iterable, Sequence

from coldsoak.rig.catalogue import nearest
from coldsoak.rig.document import LineTable
from coldsoak.rig.resolve import Record, Section
from coldsoak.rig.trip import Line, Supply
from coldsoak.rig.units import shown

CYLINDER, REGULATOR = "cylinder", "regulator"


def check_route(
    record: Record, tables: Sequence[LineTable], lines: Sequence[Line], appliances: Iterable[str]
) -> None:
    """Raise TripError for lines that lead nowhere, begin nowhere, meet, or go in a circle."""
    burners = list(appliances)
    _check_names(record, lines, burners)
    sections = [
        Section(record, LineTable, table, ("line", index)) for index, table in enumerate(tables)
    ]
    for section, line in zip(sections, lines, strict=True):
        _check_end(section, line, lines, burners)
        _check_start(section, line, lines, burners)
    for section, line in zip(sections, lines, strict=True):
        _check_circle(section, line, lines)
    _note_unreached(record, lines, burners)


def _check_names(record: Record, lines: Sequence[Line], burners: Sequence[str]) -> None:
    """No appliance is called like a place of the supply, and no line like either."""
    taken = (CYLINDER, REGULATOR, "connector")
    for index, name in enumerate(burners):
        if lines and name in taken:
            raise record.source.error(
                ("appliance", index, "name"),
                f"found the name {shown(name)}",
                "lines call a part of the supply so: give it another name",
            )
    for index, line in enumerate(lines):
        if line.name in (*taken, *burners):
            raise record.source.error(
                ("line", index, "name"),
                f"found the name {shown(line.name)}",
                "an appliance or a part of the supply is called so: give it another name",
            )


def _check_end(section: Section, line: Line, lines: Sequence[Line], burners: Sequence[str]) -> None:
    """A line leads to an appliance, the regulator, or where another line begins, and is alone."""
    onward = [other.start for other in lines if other is not line]
    known = [*burners, REGULATOR, *(name for name in onward if name != CYLINDER)]
    if line.end == CYLINDER or line.end not in known:
        close = nearest(line.end, known)
        hint = f"did you mean {close}? " if close else ""
        allowed = ", ".join(dict.fromkeys(known))
        raise section.error(
            "end",
            f"found {shown(line.end)}",
            f"{hint}a line leads to an appliance or to a place that another line begins at: "
            f"{allowed}",
        )
    first = next(other for other in lines if other.end == line.end)
    if first is not line:
        raise section.error(
            "end",
            f"found a second line to {shown(line.end)}; the first is {first.name}",
            "every appliance and place is fed by one line",
        )


def _check_start(
    section: Section, line: Line, lines: Sequence[Line], burners: Sequence[str]
) -> None:
    """A line begins at the cylinder, the regulator, or where another line leads."""
    known = [CYLINDER, REGULATOR, *(other.end for other in lines if other.end not in burners)]
    if line.start not in known:
        close = nearest(line.start, known)
        hint = f"did you mean {close}? " if close else ""
        what = "an appliance" if line.start in burners else "where no line leads to"
        raise section.error(
            "start",
            f"found {shown(line.start)}, {what}",
            f"{hint}a line begins at {', '.join(dict.fromkeys(known))}",
        )


def _check_circle(section: Section, line: Line, lines: Sequence[Line]) -> None:
    """Going back along the lines ends at the cylinder or the regulator's outlet."""
    place, steps = line.start, 0
    while place not in (CYLINDER, REGULATOR):
        place = feeding(place, lines).start
        steps += 1
        if steps > len(lines):
            raise section.error(
                "start",
                f"found {shown(line.start)}: the lines there go in a circle",
                "lines begin at the regulator or the cylinder and branch from there",
            )
    if line.end == REGULATOR and REGULATOR in _places_before(line, lines):
        raise section.error(
            "end",
            "found a line from the regulator's outlet back to its inlet",
            "lead it from the cylinder to the regulator",
        )


def _places_before(line: Line, lines: Sequence[Line]) -> list[str]:
    """The places that gas passes before it enters a line, back to cylinder or regulator."""
    places = [line.start]
    while places[-1] not in (CYLINDER, REGULATOR):
        places.append(feeding(places[-1], lines).start)
    return places


def feeding(place: str, lines: Sequence[Line]) -> Line:
    """The line that leads to a place; raises StopIteration if there is none."""
    return next(line for line in lines if line.end == place)


def path_to(place: str, lines: Sequence[Line]) -> list[Line]:
    """The lines to a place from the regulator's outlet or the cylinder, in the gas's order."""
    path: list[Line] = []
    while any(line.end == place for line in lines) and len(path) <= len(lines):
        path.insert(0, feeding(place, lines))
        place = path[0].start
        if place in (CYLINDER, REGULATOR):
            break
    return path


def pressure_before(place: str, lines: Sequence[Line], supply: Supply) -> float | None:
    """Pressure that the last regulator before a place is set to [Pa gauge]; None without one."""
    path = path_to(place, lines)
    for line in reversed(path):
        if line.regulator is not None:
            return line.regulator.outlet
    return None if path and path[0].start == CYLINDER else supply.outlet


def _note_unreached(record: Record, lines: Sequence[Line], burners: Sequence[str]) -> None:
    """Tell which appliances no line leads to."""
    alone = [name for name in burners if not any(line.end == name for line in lines)]
    if alone and lines:
        record.note(
            f"No [[line]] leads to {', '.join(alone)}: taken as right at the regulator's outlet."
        )
