"""What verifying found, for people: each part by itself, and what was not looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.words import counted
from lotkin_cli.output.streams import clean, write

if TYPE_CHECKING:
    from lotkin.uses.evidence.verify import Verified

__all__ = ["print_verified"]


def print_verified(found: Verified) -> None:
    """Print what holds, what does not, and what nothing is said about."""
    if found.broken:
        _print_broken(found)
    else:
        _print_journal(found)
        _print_seals(found)
    _print_documents(found)
    write("derived tables not compared: run `lotkin rebuild --check`")


def _print_broken(found: Verified) -> None:
    seq, why = found.broken[0]
    write(f"damaged: {counted(len(found.broken), 'row')} of {found.events}")
    write(f"first damaged row: {seq}, {clean(why)}")
    before = f"up to event {seq - 1} the chain of hashes holds; " if seq > 1 else ""
    write(f"{before}compare with a backup, and restore it")
    write("seals not looked at: they cover a chain that is broken")


def _print_journal(found: Verified) -> None:
    chain = f"{counted(found.events, 'event')}, last hash {found.head}"
    if found.false_seals or found.lacks_seal:
        write(f"the chain of hashes holds: {chain}")
    else:
        write(f"journal sound: {chain}")


def _print_seals(found: Verified) -> None:
    for seq, why in found.false_seals:
        write(f"false seal: event {seq} {clean(why)}")
    if found.lacks_seal:
        write(f"not sealed: no seal by key {found.key} is on record")
        write("whoever may write the store can have written this journal anew")
    elif not found.sealed_to:
        write("not sealed")
    else:
        rest = found.events - found.sealed_to
        write(f"sealed to event {found.sealed_to} of {found.events}; {rest} not sealed")
        for key in dict.fromkeys(one.key for one in found.true_seals):
            write(f"sealed by key {key}")


def _print_documents(found: Verified) -> None:
    named = counted(len(found.named), "document")
    if found.lost is None:
        write(f"documents not looked at: events name {named}")
        return
    if not found.named:
        write("documents: events name none")
        return
    if not found.lost:
        write(f"documents sound: {named} named by events, all as they were kept")
        return
    write(f"documents not sound: {len(found.lost)} of {named} named by events")
    for one in found.lost:
        write(f"  {clean(one.document.title)}, named by event {one.document.event}, {one.why}")
