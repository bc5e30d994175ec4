"""Options that several commands share, so that they read and behave the same."""

import click

as_json = click.option("--json", "as_json", is_flag=True, help="Write one JSON object.")

units = click.option(
    "--units",
    type=click.Choice(["us", "si"]),
    default="si",
    envvar="COLDSOAK_UNITS",
    show_default=True,
    help="Units that are shown. JSON keeps the units that its keys name.",
)

trip = click.argument("trip", type=click.Path(), metavar="TRIP")
