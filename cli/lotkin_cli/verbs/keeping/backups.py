"""`backup`, `restore` and `backup-key`: copies while the works goes on, and back."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.options.common import Db, Json, check_file, check_path
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import KEEP, add_verb

if TYPE_CHECKING:
    from lotkin.uses.evidence.back_up import BackedUp

__all__ = ["add_to"]

NOT_WHOLE = 1

Key = Annotated[
    Path | None,
    typer.Option("--key", metavar="FILE", callback=check_file, help="Key of an encrypted backup."),
]


def backup_command(
    *,
    to: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            callback=check_file,
            help="The file to make, or a folder: the file is then named after the time.",
        ),
    ],
    recipients: Annotated[
        list[str] | None,
        typer.Option(
            "--encrypt-to",
            metavar="RECIPIENT",
            help="Who can read it: age1… or an SSH public key; may be given several times.",
        ),
    ] = None,
    json: Json = False,
    db: Db = None,
) -> None:
    """Copy the store and its documents into one file, others recording meanwhile.

    The copy is verified before it is kept. Exit status 1 if a document that an event names is
    missing, or one was altered: the backup is made without it, and says which.
    """
    from lotkin.uses.evidence.back_up import back_up
    from lotkin.wiring import db_url, now_us
    from lotkin.wiring.backups import Backups, named_after

    path = named_after(to, now_us(), encrypted=bool(recipients)) if to.is_dir() else to
    done = back_up(Backups(db_url(db)), path, now_us, recipients or ())
    if json:
        _write_json(done)
    else:
        write(f"backed up into {clean(str(done.path))}: {_held(done)}")
        _print_lost(done)
    if done.lost:
        raise typer.Exit(NOT_WHOLE)


def restore_command(
    *,
    path: Annotated[Path, typer.Argument(metavar="FILE", callback=check_file, help="The backup.")],
    key: Key = None,
    check: Annotated[bool, typer.Option("--check", help="Only prove it; restore nothing.")] = False,
    head: Annotated[
        str,
        typer.Option("--head", metavar="HASH", callback=check_path, help="Hash of its last event."),
    ] = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Restore a backup to where there is no store yet.

    First every file in it is compared with its hash and the whole journal is verified: a damaged
    backup, or one that is none, is refused and changes nothing. Documents that are there already
    stay. Exit status 1 if a document that an event names is not in it. Derived tables are not
    compared: restore it, and run `lotkin rebuild --check`.
    """
    from lotkin.uses.evidence.back_up import restore
    from lotkin.wiring import db_url
    from lotkin.wiring.backups import Backups

    backups = Backups(db_url(db))
    done = restore(backups, path, key, check_only=check, expected_head=head)
    if json:
        _write_json(done)
    else:
        whole = "not whole" if done.lost else "journal and documents sound"
        where = whole if check else f"restored to {clean(str(backups.place()))}"
        write(f"{where}: {_held(done)}")
        _print_lost(done)
        write(
            "derived tables not compared: restore it, and run `lotkin rebuild --check`"
            if check
            else "derived tables not compared: run `lotkin rebuild --check`"
        )
    if done.lost:
        raise typer.Exit(NOT_WHOLE)


def key_command(
    *,
    path: Annotated[
        Path, typer.Argument(metavar="FILE", callback=check_file, help="The file to make.")
    ],
    json: Json = False,
) -> None:
    """Make a key for encrypted backups, and tell whom to encrypt to.

    Keep the key away from the store: with it lost, no encrypted backup can be read any more.
    """
    from lotkin.wiring.backups import make_key

    recipient = make_key(path)
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"key": str(path), "recipient": recipient})
    else:
        write(f"the key is in {clean(str(path))}; encrypt to")
        write(recipient)


def _print_lost(done: BackedUp) -> None:
    for one in done.lost:
        named = f", named by event {one.document.event}," if one.document.event else ""
        write(f"not in it: {clean(one.document.title)}{named} {one.why}")


def _held(done: BackedUp) -> str:
    return (
        f"{counted(done.events, 'event')}, {counted(done.documents, 'document')}, "
        f"{done.size / 1e6:.1f} MB, last hash {done.head}"
    )


def _write_json(done: BackedUp) -> None:
    from lotkin_answers.documents.keeping import backup_document
    from lotkin_cli.text.form.json_document import write_document

    write_document(backup_document(done))


def add_to(app: typer.Typer) -> None:
    """Add the verbs."""
    add_verb(
        app,
        "backup",
        backup_command,
        section=KEEP,
        examples=("lotkin backup works.backup", "lotkin backup /backups --encrypt-to age1…"),
    )
    add_verb(
        app,
        "restore",
        restore_command,
        section=KEEP,
        examples=("lotkin restore works.backup --check", "lotkin restore works.backup --db new.db"),
    )
    add_verb(
        app,
        "backup-key",
        key_command,
        section=KEEP,
        examples=("lotkin backup-key backups.key",),
    )
