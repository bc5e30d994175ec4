"""The ``coldsoak`` command: finds the verb, loads only what that verb needs, says errors plainly.

``coldsoak --help`` loads click and nothing heavy; a test holds it to that.
"""

import codecs
import importlib
import io
import os
import sys
from collections.abc import Sequence

import click

from coldsoak.errors import ColdsoakError

COMMANDS: dict[str, str] = {
    "start": "A trip folder to edit, by a few questions or none.",
    "explain": "Every assumption and default of a trip, with its source.",
    "plan": "Will it hold: verdict, why, when to change cylinders, what will be left.",
    "air": "Ventilation, moisture and CO2: what the air inside comes to, what must be open.",
    "lines": "Gas pressure at every appliance, all burning.",
    "pressure": "What manometer readings mean: lock-up, flow, creep, timed drop.",
    "burn": "A burner's true input, by weight or by orifice.",
    "weigh": "Put a reading in the journal, and say what it means.",
    "journal": "The readings of a trip: show, correct, withdraw, import, export.",
    "schema": "The JSON schema of the trip file or of the plan.",
    "checks": "Every comparison with the outside world, with its source and deviation.",
}
"""Verb and one line of help; the module of the same name is loaded when the verb is used."""

BAD_INPUT = 2
OWN_FAULT = 70
INTERRUPTED = 130

PLAINLY = "coldsoak.plainly"
PLAIN = {"°": "", "…": "~", "–": "-", "−": "-", "·": ".", "×": "x", "²": "2", "³": "3"}


class LazyGroup(click.Group):
    """A group that lists its commands from :data:`COMMANDS` and imports one when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the order of a trip, from packing to checking."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the module of that name and give its command."""
        if cmd_name not in COMMANDS:
            names = ", ".join(COMMANDS)
            raise click.UsageError(f"there is no command {cmd_name!r}; the commands are {names}")
        module = importlib.import_module(f"coldsoak.faces.{cmd_name}")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="coldsoak")
def coldsoak() -> None:
    """Will bottled LP-gas carry a small heated shelter through the cold nights ahead?

    A trip is a folder with a trip.toml: cylinders, burners, shelter, place and weather.
    Every command ends with 0 when it gives a result, even a bad one, and with 2 when the
    input is wrong. COLDSOAK_UNITS=us or si sets the units that are shown.
    """


def run(arguments: Sequence[str]) -> int:
    """Run one command line and give its exit code; no traceback reaches the person.

    Parameters
    ----------
    arguments : sequence of str
        The words after ``coldsoak``.

    Returns
    -------
    int
        0 for a result, 2 for bad input, 130 when interrupted, 70 for a fault of our own.
    """
    try:
        outcome = coldsoak.main(list(arguments), prog_name="coldsoak", standalone_mode=False)
        sys.stdout.flush()
    except click.exceptions.NoArgsIsHelpError as error:
        print(error.format_message(), file=sys.stderr)
        return BAD_INPUT
    except click.ClickException as error:
        return _complain(error.format_message(), BAD_INPUT)
    except ColdsoakError as error:
        return _complain(str(error), BAD_INPUT)
    except (click.Abort, KeyboardInterrupt):
        return _complain("stopped before it was finished", INTERRUPTED)
    except (BrokenPipeError, SystemExit):  # click and rich leave by SystemExit on a broken pipe
        return _let_go_of_output()
    except OSError as error:
        _let_go_of_output()
        return _complain(f"reading or writing failed: {error.strerror or error}", BAD_INPUT)
    except Exception as error:
        return _complain(f"a fault of coldsoak itself: {type(error).__name__}: {error}", OWN_FAULT)
    return outcome if isinstance(outcome, int) else 0


def plainly(error: UnicodeError) -> tuple[str, int]:
    """Replace what an output's encoding cannot write by the nearest plain characters."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    unwritable = error.object[error.start : error.end]
    return "".join(PLAIN.get(character, "?") for character in unwritable), error.end


def _complain(message: str, code: int) -> int:
    """Write one message to standard error and give the exit code back."""
    print(f"coldsoak: {message}", file=sys.stderr)
    return code


def _let_go_of_output() -> int:
    """Stop writing because the reader (a pager, ``head``) has seen enough; that is no failure."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0


def main() -> None:
    """Entry point of the installed ``coldsoak`` command."""
    codecs.register_error(PLAINLY, plainly)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=PLAINLY)
    sys.exit(run(sys.argv[1:]))
