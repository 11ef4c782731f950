"""Hostile uploads and files: huge, wrong, damaged, bombs, names that are paths."""

from __future__ import annotations

import io
import json
import random
import warnings
import zipfile
import zlib
from datetime import UTC
from functools import cache
from typing import TYPE_CHECKING

import openpyxl
from fastapi.testclient import TestClient
from reportlab.pdfgen.canvas import Canvas

from faults.outcome import Outcome
from lotkin.core.access.rights import Right, Who
from lotkin.core.errors import LotkinError
from lotkin.core.plain_tables.workbook_mapping import propose
from lotkin.core.values.instants import from_us
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who as Importer
from lotkin.uses.exchange.import_tables import import_tables
from lotkin.wiring import now_us, open_store
from lotkin.wiring.workbooks import read_workbook
from lotkin_service.access.guard import who_if_any, who_is
from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from lotkin.store.store import Store

__all__ = ["upload_hostile_files"]

MIB = 1024 * 1024
NAMES = (
    "cert.pdf",
    "../../../etc/passwd",
    "..\\..\\lotkin.db",
    "/dev/full",
    "CON",
    "a" * 5_000 + ".pdf",
    "x\r\nSet-Cookie: a=b.pdf",
    "<script>alert(1)</script>.png",
    "\u202efdp.exe",
)
"""Names of files as somebody hostile would give them."""


def upload_hostile_files(demo: Path, folder: Path, times: int, seed: int = 6) -> list[Outcome]:
    """Send hostile files to the service, and import hostile files, so many times each.

    Nothing of it may crash anything, and what is refused leaves nothing behind.
    """
    work = folder / "hostile"
    work.mkdir()
    path = work / "works.db"
    path.write_bytes(demo.read_bytes())
    good = _good_files(open_store(str(demo)), work)
    chance = random.Random(seed)
    return [_sent(path, good, times, chance), _imported(path, good, work, times, chance)]


# --- files


def _good_files(store: Store, work: Path) -> dict[str, bytes]:
    """Give a sound file of each kind, to be damaged."""
    with store.reading() as view:
        export_epcis(view, Scope(items=("DP40-0404",)), work / "unit", zone=UTC, now=now_us())
    store.close()
    paper = io.BytesIO()
    canvas = Canvas(paper)
    canvas.drawString(50, 700, "Inspection certificate 3.1  Heat 4711  Cu 58.1 %")
    canvas.save()
    book = openpyxl.Workbook()
    for row in (("Lot", "Part", "Quantity"), ("A-1", "PIN", 20), ("A-2", "PIN", 30)):
        book.active.append(row)  # type: ignore[union-attr]
    table = io.BytesIO()
    book.save(table)
    return {
        "pdf": paper.getvalue(),
        "png": _picture(8, 8),
        "xlsx": table.getvalue(),
        "epcis": (work / "unit").read_bytes(),
        "csv": b"code,kind,part,quantity,unit,made_at\nA-1,purchased-lot,PIN,20,pcs,\n",
        "event": json.dumps({"events": [{"kind": "move", "item": "PIN-001"}]}).encode(),
    }


def _picture(width: int, height: int) -> bytes:
    """Give a PNG of one grey; what it claims to be may be far more than it holds."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        whole = kind + data
        return len(data).to_bytes(4, "big") + whole + zlib.crc32(whole).to_bytes(4, "big")

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((8, 0, 0, 0, 0))
    rows = zlib.compress((b"\0" + b"\x80" * width) * height if width * height < MIB else b"\0" * 99)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@cache
def _bombs() -> dict[str, bytes]:
    """Give small files that say to be huge, once unpacked or drawn."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as bomb:
        for number in range(11):
            bomb.writestr(f"xl/worksheets/sheet{number}.xml", bytes(100 * MIB))
    flate = zlib.compress(bytes(200 * MIB))
    pdf = (
        b"%%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
        b"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
        b"3 0 obj<</Type/Page/Parent 2 0 R/Contents 4 0 R/MediaBox[0 0 9 9]>>endobj\n"
        b"4 0 obj<</Filter/FlateDecode/Length %d>>stream\n%s\nendstream endobj\n"
        b"trailer<</Root 1 0 R>>\n%%%%EOF" % (len(flate), flate)
    )
    deep = b"[" * 500_000
    return {
        "pdf": pdf,
        "png": _picture(60_000, 60_000),
        "xlsx": packed.getvalue(),
        "epcis": b'{"@context": ' + deep,
        "csv": b'"' + b"x" * (20 * MIB),
        "event": b'{"events": ' + deep,
    }


class _Hostile:
    """Makes hostile files out of sound ones."""

    def __init__(self, good: dict[str, bytes], chance: random.Random) -> None:
        self._good, self._chance = good, chance
        self._bombs = _bombs()

    def each(self, kinds: tuple[str, ...], times: int) -> Iterator[tuple[str, bytes]]:
        """Yield (kind, content): first every special one, then damaged ones at random."""
        for kind in kinds:
            yield kind, b""
            yield kind, self._bombs[kind]
            yield kind, bytes(40 * MIB)
            yield from ((kind, self._good[other]) for other in self._good if other != kind)
        for number in range(times):
            kind = kinds[number % len(kinds)]
            yield kind, self._damaged(self._good[kind])

    def _damaged(self, content: bytes) -> bytes:
        chance = self._chance
        changed = bytearray(content)
        for _ in range(chance.randint(1, 8)):
            at = chance.randrange(len(changed))
            match chance.randrange(5):
                case 0:
                    changed[at] ^= 1 << chance.randrange(8)
                case 1:
                    del changed[at : at + chance.randint(1, 200)]
                case 2:
                    changed[at:at] = chance.randbytes(chance.randint(1, 50))
                case 3:
                    changed[at:at] = changed[: chance.randint(1, 500)]
                case 4:
                    del changed[at:]
            changed = changed or bytearray(b"\0")
        return bytes(changed)

    def name(self) -> str:
        """Give the name of an upload."""
        return self._chance.choice(NAMES)


# --- sent to the service


def _sent(path: Path, good: dict[str, bytes], times: int, chance: random.Random) -> Outcome:
    app = make_app(ServiceSettings(str(path)))
    who = Who("ANN", "Ann", frozenset(Right))
    app.dependency_overrides[who_is] = lambda: who
    app.dependency_overrides[who_if_any] = lambda: who
    client = TestClient(app, raise_server_exceptions=False)
    hostile = _Hostile(good, chance)
    told = taken = failures = 0
    for kind, content in hostile.each(("pdf", "png", "event"), times):
        status = _send(client, kind, hostile.name(), content)
        told += 400 <= status < 500
        taken += status < 400
        failures += status >= 500
    app.state.works.close()
    failures += not _is_sound(path)
    note = "certificates, pictures and events"
    return Outcome(
        "a hostile upload to the service", told + taken + failures, told, taken, failures, note
    )


def _send(client: TestClient, kind: str, name: str, content: bytes) -> int:
    if kind == "pdf":
        files = {"papers": (name, content, "application/pdf")}
        return client.post("/goods-in", data={"do": "read"}, files=files).status_code
    if kind == "png":
        files = {"picture": (name, content, "image/png")}
        return client.post("/api/v1/frames", files=files).status_code
    headers = {"content-type": "application/json"}
    return client.post("/api/v1/events", content=content, headers=headers).status_code


# --- files to import


def _imported(
    path: Path, good: dict[str, bytes], work: Path, times: int, chance: random.Random
) -> Outcome:
    store = open_store(str(path))
    file = work / "upload"

    def take_document() -> object:
        return import_epcis(store, file, Importer("ANN", prefix="X/"), dry_run=False, clock=now_us)

    def take_tables() -> object:
        return import_tables(
            store, file, None, by="ANN", at=from_us(now_us()), dry_run=False, clock=now_us
        )

    def take_workbook() -> object:
        return propose(read_workbook(file, UTC))

    takers: dict[str, Callable[[], object]] = {
        "epcis": take_document,
        "csv": take_tables,
        "xlsx": take_workbook,
    }
    told = taken = failures = 0
    hostile = _Hostile(good, chance)
    for kind, content in hostile.each(tuple(takers), times):
        file.write_bytes(content)
        before = _head(store)
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                takers[kind]()
        except LotkinError:
            told += 1
            failures += _head(store) != before
        except Exception:  # noqa: BLE001 - whatever escapes is a failure
            failures += 1
        else:
            taken += 1
    store.close()
    failures += not _is_sound(path)
    note = "documents, spreadsheets and tables; what was sound was taken over"
    return Outcome("a hostile file to import", told + taken + failures, told, taken, failures, note)


def _head(store: Store) -> tuple[int, str]:
    with store.reading() as view:
        return view.journal_head()


def _is_sound(path: Path) -> bool:
    store = open_store(str(path))
    sound = verify(store).is_sound and not rebuild(store, check_only=True).difference
    store.close()
    return sound
