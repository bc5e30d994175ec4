"""What can be wrong with what a person gave, as exceptions whose text is made for that person."""


class ColdsoakError(Exception):
    """Anything the person can mend; faces print its text and exit with 2."""


class InputError(ColdsoakError):
    """A value in a file or on the command line is wrong.

    The text is one message: file, line, key, what was found, what is allowed.
    """

    def __init__(
        self,
        found: str,
        allowed: str,
        *,
        file: str | None = None,
        line: int | None = None,
        key: str | None = None,
    ) -> None:
        self.found = found
        self.allowed = allowed
        self.file = file
        self.line = line
        self.key = key
        place = ", ".join(
            part
            for part in (file, f"line {line}" if line is not None else None, key)
            if part is not None
        )
        super().__init__(f"{place}: {found}; {allowed}" if place else f"{found}; {allowed}")


class TripError(InputError):
    """The trip file cannot be used."""


class WeatherError(InputError):
    """The weather file or table cannot be used."""


class OverfillError(TripError):
    """A cylinder holds more than may be in it; the text carries the over-fill caution."""
