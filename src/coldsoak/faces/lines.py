"""``coldsoak lines``: gas pressure at every appliance, all burning, and what mends it."""

from datetime import datetime
from textwrap import fill
from typing import TYPE_CHECKING

import click

from coldsoak.faces import clock, options, shown
from coldsoak.faces.gas_pressure import gas_pressure, small_pressure
from coldsoak.faces.jsontext import json_text
from coldsoak.faces.plan import waiting_words
from coldsoak.faces.progress import waiting
from coldsoak.faces.tripfile import trip_file

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from coldsoak.choose.lines_answer import Lines, Mend


def heading(lines: "Lines", units: str) -> str:
    """When and how cold it is, and what is in the cylinder."""
    at = lines.at
    cylinder = gas_pressure(at.cylinder_kPa, units)
    source = "in the cylinder" if at.cylinder_from == "march" else "taken, what the regulator needs"
    when = clock.moment(datetime.fromisoformat(at.time))
    return f"{when}, {shown.celsius(at.air_C, units)}, {cylinder} {source}, everything burning"


def verdict(lines: "Lines") -> str:
    """Whether everything is fed, in words."""
    if not lines.appliances:
        return "Nothing burns on this trip."
    if lines.fed:
        return "FED  every appliance has the pressure it needs"
    return f"STARVED  {', '.join(lines.starved)}: too little pressure with everything burning"


def appliance_table(lines: "Lines", units: str) -> "Table":
    """Inlet pressure and need of every appliance."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE

    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style=SLATE)
    for name in ("appliance", "takes", "inlet", "needs", ""):
        table.add_column(name, justify="left" if name in ("appliance", "") else "right")
    for one in lines.appliances:
        table.add_row(
            one.appliance,
            shown.watts(one.input_W, units),
            gas_pressure(one.inlet_kPa, units),
            gas_pressure(one.needed_kPa, units),
            "" if one.enough else f"short, alone {one.fed_share:.0%} of its input",
        )
    return table


def stretch_table(lines: "Lines", units: str) -> "Table":
    """What every line costs, by Darcy's law and by the code's equation."""
    from rich.table import Table

    from coldsoak.faces.paper import SLATE

    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style=SLATE)
    table.add_column("line", max_width=18, overflow="fold")
    table.add_column("", max_width=26, overflow="fold")
    for name in ("to", "Darcy", "code"):
        table.add_column(name, justify="right")
    for one in lines.stretches:
        table.add_row(
            one.name,
            one.what,
            gas_pressure(one.end_kPa, units),
            small_pressure(one.darcy_kPa, units),
            small_pressure(one.code_kPa, units),
        )
    return table


def mend_text(mend: "Mend", units: str) -> str:
    """A change and the pressures after it."""
    after = ", ".join(f"{name} {gas_pressure(p, units)}" for name, p in mend.inlet_kPa.items())
    return f"{' and '.join(mend.what)}; then {after}"


def bullets(console: "Console", title: str, texts: list[str]) -> None:
    """A titled list, nothing if it is empty."""
    from coldsoak.faces.paper import SLATE

    if texts:
        console.print(f"\n{title}", style=SLATE)
    for text in texts:
        console.print(fill(text, console.width, initial_indent="- ", subsequent_indent="  "))


def print_lines(lines: "Lines", units: str) -> None:
    """Print the answer, what is wrong first."""
    from coldsoak.faces.paper import EMBER, SLATE, paper

    console = paper()
    console.print(lines.trip, style="bold")
    console.print(heading(lines, units), style=SLATE)
    console.print(verdict(lines), style="bold" if lines.fed else f"bold {EMBER}")
    if lines.appliances:
        console.print()
        console.print(appliance_table(lines, units))
        console.print()
        console.print(stretch_table(lines, units))
    least = lines.least_cylinder_kPa
    if lines.appliances and least is not None:
        console.print(f"\nThe cylinder needs {gas_pressure(least, units)} to feed all at once.")
    wrong = [f"{f.where} ({f.code}): {f.why}. {f.instead}" for f in lines.faults]
    bullets(console, "What is wrong", wrong)
    bullets(console, "What mends it", [mend_text(mend, units) for mend in lines.mends])
    if not lines.fed and not lines.mends:
        console.print("\nNo change of one line or regulator mends it.")
    bullets(console, "Mind", [caution.text for caution in lines.cautions])
    bullets(console, "Taken for granted", list(lines.notes))


@click.command("lines")
@options.trip
@options.as_json
@options.units
def command(trip: str, as_json: bool, units: str) -> None:
    """Gas pressure at every appliance, all burning.

    Looks at the coldest hour of the weather. TRIP is a trip file or the folder that holds
    trip.toml. Shows what every line costs by
    Darcy's law and by the fuel-gas code's equation, the stricter of which counts; what is
    wrong between cylinder and burner; and the smallest change that mends it.
    """
    file = trip_file(trip)
    with waiting(waiting_words()):
        from coldsoak.choose.lines import make_lines
        from coldsoak.choose.lines_answer import lines_object
        from coldsoak.rig.read import read_trip
        from coldsoak.weather.read import weather_of

        the_trip = read_trip(file)
        answer = make_lines(the_trip, weather_of(the_trip))
    if as_json:
        click.echo(json_text(lines_object(answer)))
    else:
        print_lines(answer, units)
