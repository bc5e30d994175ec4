"""``coldsoak schema``: the JSON schema of what goes in and of what comes out."""

import click

from coldsoak.faces import options
from coldsoak.faces.jsontext import json_text


@click.command("schema")
@click.argument("subject", type=click.Choice(["trip", "plan"]))
@options.as_json
def command(subject: str, as_json: bool) -> None:
    """The JSON schema of the trip file or of the plan.

    A schema is JSON, so --json changes nothing here.
    """
    if subject == "trip":
        from coldsoak.rig.schema import trip_schema as schema
    else:
        from coldsoak.choose.answer import plan_schema as schema
    click.echo(json_text(schema()))
