"""`serve`: the pages and the interface for programs, on this machine or for the works."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.options.common import Db, Json, check_file
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import KEEP, add_verb

if TYPE_CHECKING:
    from lotkin.uses.evidence.seal import Signer
    from lotkin_service.settings import BackupPlan

__all__ = ["add_to"]


LEVELS = ("debug", "info", "warning", "error")


def _check_level(value: str) -> str:
    if value not in LEVELS:
        raise typer.BadParameter(f"{value!r} is no level; choose from {', '.join(LEVELS)}")
    return value


def serve_command(
    *,
    host: Annotated[
        str, typer.Option("--host", help="Address to listen at; 0.0.0.0 for the whole network.")
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Port; 0 for any that is free.")
    ] = 8441,
    certificate: Annotated[
        Path | None,
        typer.Option(
            "--tls-cert", metavar="FILE", callback=check_file, help="Certificate for https (PEM)."
        ),
    ] = None,
    key: Annotated[
        Path | None,
        typer.Option("--tls-key", metavar="FILE", callback=check_file, help="Its private key."),
    ] = None,
    behind_https: Annotated[
        bool,
        typer.Option("--behind-https", help="Browsers reach it by https through a proxy."),
    ] = False,
    read_db: Annotated[
        str,
        typer.Option(
            "--read-db", metavar="STORE", help="A replica to ask; events go to --db all the same."
        ),
    ] = "",
    hooks: Annotated[
        Path | None,
        typer.Option(
            "--hooks", metavar="FILE", callback=check_file, help="Programs to tell of cases (TOML)."
        ),
    ] = None,
    backups: Annotated[
        Path | None,
        typer.Option(
            "--backups", metavar="FOLDER", callback=check_file, help="Make backups by itself, here."
        ),
    ] = None,
    every: Annotated[
        float, typer.Option("--backup-every", min=0.1, help="Hours from one backup to the next.")
    ] = 24.0,
    keep: Annotated[
        int, typer.Option("--backups-kept", min=2, help="How many there are; the oldest go.")
    ] = 30,
    recipients: Annotated[
        list[str] | None,
        typer.Option("--encrypt-to", metavar="RECIPIENT", help="Who can read them (age1…)."),
    ] = None,
    seal_key: Annotated[
        Path | None,
        typer.Option(
            "--seal-key",
            metavar="FILE",
            callback=check_file,
            help="Seal the journal with it.",
        ),
    ] = None,
    seal_every: Annotated[
        float, typer.Option("--seal-every", min=0.1, help="Hours from one seal to the next.")
    ] = 24.0,
    log_level: Annotated[
        str, typer.Option("--log-level", callback=_check_level, help="How much is logged.")
    ] = "info",
    json: Json = False,
    db: Db = None,
) -> None:
    """Serve the station pages, the quality pages and the interface for programs.

    The very first start prints a password for the person `admin`, good for one sign-in. Cameras and
    work without a connection need https on any address but this machine's own. It stops on
    Ctrl-C after answering what it has begun.
    """
    if (certificate is None) != (key is None):
        raise typer.BadParameter("--tls-cert and --tls-key go together")
    from lotkin.wiring import db_url
    from lotkin_service.serving import Listening, serve
    from lotkin_service.settings import ServiceSettings
    from lotkin_service.webhooks.hook_file import read_hooks

    secure = certificate is not None or behind_https
    settings = ServiceSettings(
        db_url(db),
        read_db=read_db,
        secure=secure,
        hooks=() if hooks is None else read_hooks(hooks),
        signer=None if seal_key is None else _signer(seal_key),
        seal_every_h=seal_every,
        backups=None if backups is None else _planned(backups, every, keep, recipients or []),
    )
    serve(
        settings, Listening(host, port, certificate, key, log_level), _tell_json if json else _tell
    )


def _signer(path: Path) -> Signer:
    from lotkin.wiring.sealing import KeyFile

    return KeyFile(path)


def _planned(folder: Path, every: float, keep: int, recipients: list[str]) -> BackupPlan:
    """Check at the start what would else be noticed at night only."""
    from lotkin.wiring.backups import check_recipients, kept_in
    from lotkin_service.settings import BackupPlan

    kept_in(folder)
    check_recipients(recipients)
    return BackupPlan(folder, every, keep, tuple(recipients))


def _tell_json(address: str, password: str) -> None:
    from lotkin_cli.text.form.json_document import write_document

    write_document({"address": address, "first_password": password or None}, at_once=True)
    typer.get_text_stream("stdout").flush()


def _tell(address: str, password: str) -> None:
    write(f"serving at {address}")
    if password:
        write(f"first start: sign in as admin with {password}")
    typer.get_text_stream("stdout").flush()


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "serve",
        serve_command,
        section=KEEP,
        examples=(
            "lotkin serve",
            "lotkin serve --host 0.0.0.0 --tls-cert works.pem --tls-key works.key",
        ),
    )
