"""The group of all verbs: help by sections, and one place where errors become exit statuses."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import typer
from typer.core import TyperGroup

from lotkin_cli.options.plain_words import take_words
from lotkin_cli.output.failures import Failure, report
from lotkin_cli.output.streams import make_streams_safe, silence

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["LotkinGroup"]

INTERRUPTED = 130
READER_GONE = 141
"""128 and the number of the signal, as shells count: SIGINT is 2, SIGPIPE is 13 (POSIX)."""


class LotkinGroup(TyperGroup):
    """Runs a verb; whatever goes wrong reaches the user as a message, never as a traceback."""

    # The arguments are typer's own, and its context has no public type: hence every `Any` here.
    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,
    ) -> Any:
        """Run the command line and leave with its exit status."""

        def run() -> Any:
            return super(LotkinGroup, self).main(
                args,
                prog_name,
                complete_var,
                standalone_mode=False,
                windows_expand_args=windows_expand_args,
                **extra,
            )

        if not standalone_mode:
            return run()
        make_streams_safe()
        given = sys.argv[1:] if args is None else args
        status = 0
        failure: Failure | None = None
        try:
            answer = run()
            status = answer if isinstance(answer, int) else 0
        except typer.TyperException as error:
            failure = Failure.of_usage(error)
        except typer.Abort:
            status = INTERRUPTED
        except Exception as error:  # noqa: BLE001 - the last place where it can be told
            failure = _explain(error)
        if failure is not None:
            status = failure.exit_status
            report(failure, as_json="--json" in given)
        sys.exit(status)

    def get_params(self, ctx: Any) -> list[Any]:
        """List what it takes, `--help` included."""
        params = super().get_params(ctx)
        take_words(params)
        return params

    def invoke(self, ctx: Any) -> Any:
        """Run the verb; a reader that has gone away is no error worth a word."""
        try:
            answer = super().invoke(ctx)
            sys.stdout.flush()
        except BrokenPipeError:
            silence()
            raise typer.Exit(READER_GONE) from None
        except OSError:
            # a full disk, say: Python must not complain again when it ends
            silence()
            raise
        return answer

    def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002 - typer passes it
        """List the verbs in the order of work, section by section."""
        sections: dict[str, list[tuple[str, str]]] = {}
        for name, command in self.commands.items():
            section = getattr(command, "rich_help_panel", None) or "Verbs"
            sections.setdefault(section, []).append(
                (name, command.get_short_help_str(formatter.width))
            )
        widest = max(len(name) for name in self.commands)
        for section, rows in sections.items():
            with formatter.section(section):
                # all sections in step: names as wide as the widest of all
                formatter.write_dl([(name.ljust(widest), said) for name, said in rows])


def _explain(error: Exception) -> Failure:
    from lotkin.core.errors import LotkinError

    if isinstance(error, LotkinError):
        return Failure.of_ours(error)
    return Failure.of_unexpected(error)
