"""What a backup says of itself."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

__all__ = ["FORMAT", "MANIFEST", "STORE", "Manifest", "Member", "document_name"]

FORMAT = "lotkin-backup-1"
MANIFEST = "manifest.json"
STORE = "store.db"
DOCUMENT = r"documents/[0-9a-f]{2}/[0-9a-f]{64}"
HASH = r"^[0-9a-f]{64}$"


class Member(BaseModel):
    """A file in a backup.

    Attributes:
        name: Where it is in the backup; never where it goes.
        size: Bytes.
        sha256: Of its content (FIPS 180-4).
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str = Field(pattern=rf"^({STORE}|{DOCUMENT})$")
    size: int = Field(ge=0)
    sha256: str = Field(pattern=HASH)


class Manifest(BaseModel):
    """What a backup holds.

    Attributes:
        format: `FORMAT`.
        made_at: Microseconds UTC.
        tables: Revision of the tables of the store.
        events: Number of the last event.
        head: Hash of the last event; it stands for the whole journal.
        missing: Hashes of documents that were damaged when it was made, and are not in it.
        members: All other files.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    format: str = Field(pattern=rf"^{FORMAT}$")
    made_at: int
    tables: str
    events: int = Field(ge=0)
    head: str = Field(pattern=HASH)
    missing: tuple[str, ...] = ()
    members: tuple[Member, ...]


def document_name(sha256: str) -> str:
    """Give the name of a document in a backup."""
    return f"documents/{sha256[:2]}/{sha256}"
