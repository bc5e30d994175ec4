"""The printed plan: one screen of 80 columns, the verdict in words first."""

from collections.abc import Iterable
from datetime import datetime
from math import ceil
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from coldsoak.choose.worst_hour import worst_hour
from coldsoak.faces import clock, shown
from coldsoak.faces.nightstrip import ASCII, ROWS, UNICODE, night_strip
from coldsoak.faces.paper import EMBER, SLATE, WIDTH

if TYPE_CHECKING:
    from coldsoak.choose.answer import CylinderEnd, Plan, Range
    from coldsoak.night.series import Series

SCREEN = 39
"""Lines that one screen of 40 holds above the prompt."""


FEWEST_ROWS = 3
"""Lowest picture that still shows the line and the stores."""

LONGEST_NAME = 16
"""Columns for the name of a cylinder; a longer one is cut."""

NOT_KNOWN = "Not known{}: "
MORE = " (and {} more in --json)"


class Sheet(NamedTuple):
    """All that the printed plan shows."""

    plan: "Plan"
    series: "Series"
    start: datetime
    elevation: float | None
    """Of the place [m], None when the trip does not say."""
    sun_elevation: NDArray[np.float64] | None
    """At the rows of the series [rad], None when it is not known."""
    units: str
    unicode: bool


def heading(sheet: Sheet) -> Text:
    """Name of the trip, start, length, elevation."""
    facts = [clock.moment(sheet.start), clock.duration(float(sheet.series.seconds[-1]) / 3600.0)]
    if sheet.elevation is not None:
        facts.append(shown.elevation(sheet.elevation, sheet.units))
    return Text(sheet.plan.trip, style="bold").append("  " + ", ".join(facts), f"not bold {SLATE}")


def verdict_words(plan: "Plan") -> str:
    """Why the verdict is what it is, in words."""
    first, packed = plan.first_failure, plan.as_packed_failure
    if first is not None:
        when = clock.moment(datetime.fromisoformat(first.time))
        return f"{when}, {clock.duration(first.hours)} in: {first.what}"
    if not plan.fuel.by_appliance_kg:
        return "nothing burns on this trip"
    lasting = "the gas lasts" if plan.shelter is None else "gas and heat last"
    reason = f"{lasting} the whole trip"
    if plan.verdict == "thin":
        reason += ", but not with air 3 K (5 °F) colder and contents 3 % less"
    elif plan.chance is None:
        reason += ", also with air 3 K (5 °F) colder and contents 3 % less"
    return reason + ("" if packed is None else "; only if cylinders are changed as below")


def verdict(plan: "Plan") -> Text:
    """The verdict as a word and the reason in words, and what happens if nobody does anything."""
    line = Text(plan.verdict.upper(), style=f"bold {EMBER}" if plan.verdict == "fails" else "bold")
    line.append(f"  {verdict_words(plan)}", "not bold default")
    packed = plan.as_packed_failure
    if packed is not None and packed != plan.first_failure:
        when = clock.moment(datetime.fromisoformat(packed.time))
        line.append(f"\nwith nobody changing cylinders: {when}, {packed.cause}", "not bold default")
    return line


def cylinder_row(cylinder: "CylinderEnd", start: datetime, units: str) -> list[str]:
    """One cylinder as cells of the table."""
    failed = cylinder.failed_at_hours
    return [
        cylinder.name,
        shown.mass(cylinder.left_kg, units),
        shown.celsius(cylinder.lowest_liquid_C, units),
        shown.kilopascals(cylinder.lowest_gauge_kPa, units),
        shown.kilopascals(cylinder.lowest_margin_kPa, units),
        "no" if failed is None else clock.moment(clock.at(start, failed * 3600.0)),
    ]


def cylinder_table(sheet: Sheet, width: int) -> Table:
    """Fuel left by cylinder, lowest liquid temperature, pressure and margin.

    A narrow window gets narrower headings; the numbers stay whole.
    """
    rows = [cylinder_row(entry, sheet.start, sheet.units) for entry in sheet.plan.cylinders]
    gap = 2 if width >= WIDTH else 1
    table = Table(box=None, padding=(0, gap, 0, 0), pad_edge=False, header_style=SLATE)
    pressure = "lowest gauge" if width >= WIDTH else "gauge"
    headings = ("cylinder", "left", "coldest", pressure, "margin", "ran short")
    for i, name in enumerate(headings):
        widest = max(len(row[i]) for row in rows)
        justify: Literal["left", "right"] = "left" if i in (0, 5) else "right"
        table.add_column(
            name,
            justify=justify,
            min_width=min(widest, LONGEST_NAME) if i == 0 else widest,
            max_width=LONGEST_NAME if i == 0 else None,
            no_wrap=i == 0,
            overflow="ellipsis" if i == 0 else "fold",
        )
    for row in rows:
        table.add_row(*row)
    return table


def fuel_line(sheet: Sheet) -> str:
    """Fuel of all cylinders together, and the part that is of no use."""
    fuel, units = sheet.plan.fuel, sheet.units
    words = (
        f"{shown.mass(fuel.burned_kg, units)} burned of {shown.mass(fuel.start_kg, units)}, "
        f"{shown.mass(fuel.left_kg, units)} left"
    )
    if fuel.residue_kg >= 0.005:
        words += f" ({shown.mass(fuel.residue_kg, units)} too heavy to boil)"
    return words


def swap_lines(plan: "Plan") -> list[str]:
    """When to change cylinders, one line for each change."""
    if not plan.swaps:
        return ["none would help" if plan.verdict == "fails" else "none needed"]
    return [
        f"{clock.moment(datetime.fromisoformat(swap.time))} {swap.from_} to {swap.to}: {swap.why}"
        for swap in plan.swaps
    ]


def stores_line(sheet: Sheet) -> str | None:
    """The three stores of heat at the worst hour, as gas that the burners could burn."""
    failure = sheet.plan.first_failure
    end = float(sheet.series.seconds[-1]) if failure is None else failure.hours * 3600.0
    worst = worst_hour(sheet.series, end)
    if worst is None:
        return None
    asked, vapor, sensible, wall = (shown.watts(power, sheet.units) for power in worst[1:])
    return (
        f"{clock.moment(clock.at(sheet.start, worst.seconds))}: {asked} asked; to be had from "
        f"vapor {vapor}, liquid and steel {sensible}, wall {wall}"
    )


def shelter_line(sheet: Sheet) -> str | None:
    """How cold it gets inside."""
    shelter = sheet.plan.shelter
    if shelter is None:
        return None
    words = f"coldest inside {shown.celsius(shelter.lowest_inside_C, sheet.units)}"
    if shelter.freezing_at_hours is None:
        return words + ", never freezing"
    when = clock.moment(clock.at(sheet.start, shelter.freezing_at_hours * 3600.0))
    return f"{words}, freezing from {when}"


def battery_line(sheet: Sheet) -> str | None:
    """How far the battery goes down."""
    battery = sheet.plan.battery
    if battery is None:
        return None
    words = f"lowest charge {battery.lowest_state_pct:.0f} %"
    if battery.cut_out_at_hours is None:
        return words + ", never cuts out"
    when = clock.moment(clock.at(sheet.start, battery.cut_out_at_hours * 3600.0))
    return f"{words}, cuts out {when}"


def range_lines(answer: "Range | None") -> list[str]:
    """What the uncertain inputs do to the answer."""
    if answer is None:
        return []
    words = f"from {answer.best} to {answer.worst}" if answer.best != answer.worst else answer.best
    if answer.measure_first is None:
        return [f"{words}, whatever the uncertain inputs are"]
    return [f"{words}; most worth measuring: {answer.measure_first}"]


def entry(label: str, lines: Iterable[str | None]) -> list[RenderableType]:
    """A label and its lines, wrapped under each other; nothing without lines."""
    words = [line for line in lines if line]
    if not words:
        return []
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(width=10, no_wrap=True, style=SLATE)
    table.add_column()
    for i, line in enumerate(words):
        table.add_row(label if i == 0 else "", line)
    return [table]


def bullets(label: str, lines: Iterable[str]) -> list[RenderableType]:
    """A label before the first of some full sentences, the rest wrapped below it."""
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(width=1)
    grid.add_column()
    for i, line in enumerate(lines):
        grid.add_row("-", Text(label if i == 0 else "", style="bold").append(line, "not bold"))
    return [grid] if grid.row_count else []


def notes_that_fit(notes: tuple[str, ...], lines: int, width: int) -> tuple[str, list[str]]:
    """As many notes as fit into some lines, at least one, after a label that counts the rest."""
    fitting: list[str] = []
    for note in notes:
        lines -= ceil((len(note) + (0 if fitting else len(NOT_KNOWN.format(MORE)))) / width)
        if fitting and lines < 0:
            break
        fitting.append(note)
    left_out = len(notes) - len(fitting)
    return NOT_KNOWN.format(MORE.format(left_out) if left_out else ""), fitting


def body(sheet: Sheet, width: int, rows: int) -> list[RenderableType]:
    """Everything but the notes, in the order in which it is read."""
    plan = sheet.plan
    glyphs = UNICODE if sheet.unicode else ASCII
    strip = night_strip(
        plan, sheet.series, sheet.start, sheet.sun_elevation, sheet.units, width, glyphs, rows
    )
    return [
        heading(sheet),
        verdict(plan),
        *strip,
        cylinder_table(sheet, width),
        *entry("fuel", [fuel_line(sheet)]),
        *entry("change", swap_lines(plan)),
        *entry("worst hour", [stores_line(sheet)]),
        *entry("inside", [shelter_line(sheet)]),
        *entry("battery", [battery_line(sheet)]),
        *entry("uncertain", range_lines(plan.range)),
        *bullets("Take care: ", [caution.text for caution in plan.cautions]),
    ]


def print_plan(console: Console, sheet: Sheet) -> None:
    """Print the plan on one screen.

    Many cautions make the picture lower, and notes that do not fit are counted.
    """
    parts = body(sheet, console.width, ROWS)
    used = len(console.render_lines(Group(*parts), pad=False))
    spare = SCREEN - used - len(sheet.plan.notes[:2])
    if spare < 0:
        parts = body(sheet, console.width, max(ROWS + spare, FEWEST_ROWS))
        used = len(console.render_lines(Group(*parts), pad=False))
    label, notes = notes_that_fit(sheet.plan.notes, SCREEN - used, console.width - 2)
    console.print(*parts, *bullets(label, notes), sep="\n")
