"""`seal` and `seal-key`: signing the journal."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lotkin_cli.opening import open_db
from lotkin_cli.options.common import By, Db, Json, check_file
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import KEEP, add_verb

__all__ = ["add_to"]


def seal_command(
    *,
    key: Annotated[
        Path | None,
        typer.Option(
            "--key", metavar="FILE", callback=check_file, help="Private key; else LOTKIN_SEAL_KEY."
        ),
    ] = None,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Sign all events that there are, and put the signature on record.

    Whoever has the public key can tell later that the journal was so by then. With LOTKIN_SEAL_KEY
    set, closing a case seals as well; a service does so by `--seal-key`.
    """
    from lotkin.uses.evidence.seal import seal
    from lotkin.wiring import now_us
    from lotkin.wiring.sealing import KeyFile, sealing_key

    signer = KeyFile(key) if key is not None else sealing_key()
    if signer is None:
        raise typer.BadParameter("name a key with --key or LOTKIN_SEAL_KEY")
    done = seal(open_db(db), signer, by or "seal", now_us)
    if json:
        from lotkin_answers.documents.keeping import seal_data
        from lotkin_cli.text.form.json_document import write_document

        write_document({"seal": seal_data(done) if done is not None else None})
    elif done is None:
        write("nothing was recorded since the last seal")
    else:
        write(f"sealed events 1 to {done.events}, last hash {done.head}")
        write(f"by key {done.key}")


def key_command(
    *,
    path: Annotated[
        Path, typer.Argument(metavar="FILE", callback=check_file, help="The file to make.")
    ],
    json: Json = False,
) -> None:
    """Make a key for seals, and tell its public half.

    Note the public key where others can find it, such as a drawer or a contract. Whoever has the
    file can seal in your name.
    """
    from lotkin.wiring.sealing import make_seal_key

    public = make_seal_key(path)
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"key": str(path), "public_key": public})
    else:
        write(f"the key is in {clean(str(path))}; its public half is")
        write(public)


def add_to(app: typer.Typer) -> None:
    """Add both verbs."""
    add_verb(
        app,
        "seal",
        seal_command,
        section=KEEP,
        examples=("lotkin seal --key works.seal --by quinn",),
    )
    add_verb(app, "seal-key", key_command, section=KEEP, examples=("lotkin seal-key works.seal",))
