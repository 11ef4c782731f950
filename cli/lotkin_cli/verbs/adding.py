"""Adding a verb to the command: its section of the help, and the example that ends its help."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.verb import Verb

if TYPE_CHECKING:
    from collections.abc import Callable

    import typer

__all__ = ["ASK", "BEGIN", "KEEP", "RECORD", "add_verb"]

BEGIN = "Begin"
RECORD = "Record what happens"
ASK = "Ask"
KEEP = "Keep the record"


def add_verb(
    app: typer.Typer,
    name: str,
    function: Callable[..., None],
    *,
    section: str = "",
    examples: tuple[str, ...],
) -> None:
    """Add a verb; the docstring of its function is its help.

    Args:
        app: Where to.
        name: As typed.
        function: What it runs.
        section: Heading of the help under which it is listed.
        examples: Lines that can be copied.
    """
    # the backspace keeps the lines as they are
    told = "\n".join(f"  {line}" for line in examples)
    epilog = f"\b\nExample:\n{told}"
    app.command(name, cls=Verb, rich_help_panel=section or None, epilog=epilog)(function)
