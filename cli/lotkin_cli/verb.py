"""One verb: how its help names what it takes, and how it takes it."""

from __future__ import annotations

from typing import Any

from typer.core import TyperArgument, TyperCommand

from lotkin_cli.options.plain_words import take_words

__all__ = ["Verb"]


class Verb(TyperCommand):
    """A command whose help speaks of codes and files, not of the types of a programming language.

    The contexts and formatters are typer's own and have no public type: hence `Any`.
    """

    def get_params(self, ctx: Any) -> list[Any]:
        """List what it takes, `--help` included."""
        params = super().get_params(ctx)
        take_words(params)
        return params

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """Name what the verb takes, e.g. `[OPTIONS] CODE...`."""
        pieces = [self.options_metavar] if self.options_metavar else []
        for param in self.get_params(ctx):
            if isinstance(param, TyperArgument):
                name = f"{_name(param)}..." if param.nargs != 1 else _name(param)
                pieces.append(name if param.required else f"[{name}]")
        return pieces

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """List arguments, then options, each with its help."""
        params = self.get_params(ctx)
        arguments = [(_name(p), p.help or "") for p in params if isinstance(p, TyperArgument)]
        options = [
            record
            for p in params
            if not isinstance(p, TyperArgument) and (record := p.get_help_record(ctx)) is not None
        ]
        for title, rows in (("Arguments", arguments), ("Options", options)):
            if rows:
                with formatter.section(title):
                    formatter.write_dl(rows)


def _name(argument: TyperArgument) -> str:
    return argument.metavar or argument.name.upper()
