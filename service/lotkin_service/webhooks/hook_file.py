"""The file that names who is told of cases; secrets are in files of their own.

Neither is in the store: a copy or a backup of the store lets nobody forge a notice.
"""

from __future__ import annotations

import base64
import binascii
import ipaddress
import os
import stat
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated
from urllib.parse import urlsplit

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lotkin.core.cases.letters import NOTICE_KINDS
from lotkin.core.errors import BadFile

__all__ = ["Hook", "read_hooks"]

PREFIX = "whsec_"
LEAST_BYTES, MOST_BYTES = 24, 64
"""Size of a secret. Source: Standard Webhooks 1.0.0, Signature scheme."""

MAKE_ONE = "make one with: umask 077; openssl rand -base64 32 > FILE"


@dataclass(frozen=True, slots=True)
class Hook:
    """Somebody who is told.

    Attributes:
        name: How it is called in logs and on pages.
        url: Where notices are sent.
        kinds: Which ones.
        secret: Key that they are signed with.
    """

    name: str
    url: str
    kinds: tuple[str, ...]
    secret: bytes = field(repr=False)


class _Entry(BaseModel):
    model_config = ConfigDict(extra="forbid")

    name: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$")]
    url: str
    tell: Annotated[list[str], Field(min_length=1)] = list(NOTICE_KINDS)
    secret_file: str


class _File(BaseModel):
    model_config = ConfigDict(extra="forbid")

    hook: Annotated[list[_Entry], Field(min_length=1)]


def read_hooks(path: Path) -> tuple[Hook, ...]:
    """Read who is told.

    Args:
        path: A TOML file with a table `[[hook]]` for each.

    Raises:
        BadFile: It cannot be read, says what it must not, or a secret is missing or open to all.
    """
    try:
        parsed = _File.model_validate(tomllib.loads(path.read_text("utf-8")))
    except OSError as error:
        raise BadFile(str(path), error.strerror or "it cannot be read") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadFile(str(path), f"it is no TOML: {error}") from error
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        raise BadFile(str(path), f"{where}: {first['msg']}") from error
    names = [entry.name for entry in parsed.hook]
    for name in names:
        if names.count(name) > 1:
            raise BadFile(str(path), f"there are several hooks named {name}")
    return tuple(_hook(path, entry) for entry in parsed.hook)


def _hook(path: Path, entry: _Entry) -> Hook:
    for kind in entry.tell:
        if kind not in NOTICE_KINDS:
            kinds = ", ".join(NOTICE_KINDS)
            raise BadFile(str(path), f"{entry.name}: {kind!r} cannot be told; there are {kinds}")
    why = _why_not(entry.url)
    if why:
        raise BadFile(str(path), f"{entry.name}: {why}")
    return Hook(
        entry.name,
        entry.url,
        tuple(dict.fromkeys(entry.tell)),
        _secret(path.parent / entry.secret_file),
    )


def _why_not(url: str) -> str:
    """Tell why notices cannot be sent to an address; "" if they can.

    What a case says is nobody else's business: it goes by https, or stays on this machine.
    """
    try:
        parts = urlsplit(url)
        host = parts.hostname
    except ValueError:
        return "its url is no address"
    if parts.scheme not in ("http", "https") or not host:
        return "its url must begin with https://"
    if parts.username or parts.password:
        return "its url must hold no password; notices are signed instead"
    if parts.scheme == "http" and not _is_this_machine(host):
        return "its url must begin with https:// unless it is on this machine"
    return ""


def _is_this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _secret(path: Path) -> bytes:
    try:
        mode = path.stat().st_mode
        text = path.read_text("ascii").strip()
    except OSError as error:
        raise BadFile(str(path), error.strerror or "cannot be read", hint=MAKE_ONE) from error
    except UnicodeDecodeError:
        raise BadFile(str(path), "it is no secret in base64", hint=MAKE_ONE) from None
    if os.name == "posix" and mode & (stat.S_IRWXG | stat.S_IRWXO):
        raise BadFile(str(path), "others may read this secret", hint=f"chmod 600 {path}")
    try:
        secret = base64.b64decode(text.removeprefix(PREFIX), validate=True)
    except (binascii.Error, ValueError):
        raise BadFile(str(path), "it is no secret in base64", hint=MAKE_ONE) from None
    if not LEAST_BYTES <= len(secret) <= MOST_BYTES:
        why = f"a secret has {LEAST_BYTES} to {MOST_BYTES} bytes, this one {len(secret)}"
        raise BadFile(str(path), why, hint=MAKE_ONE)
    return secret
