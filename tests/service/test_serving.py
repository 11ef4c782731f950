"""The service as a process: started, asked, logged, stopped."""

from __future__ import annotations

import datetime as dt
import json
import signal
import ssl
import subprocess
import threading
import time
import urllib.request
from typing import TYPE_CHECKING
from urllib.parse import urlencode

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from lotkin_service.demo import prepare
from tests.service.served import LOTKIN, Served

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture
def served(planned_db: str) -> Iterator[Served]:
    running = Served(planned_db)
    yield running
    running.end()


def test_it_starts_answers_and_stops_well(served: Served) -> None:
    with urllib.request.urlopen(served.address + "health") as answer:
        assert json.load(answer) == {"status": "ok"}
        assert answer.headers["x-request-id"]
    with urllib.request.urlopen(served.address + "metrics") as answer:
        assert b"lotkin_requests_total" in answer.read()
    far = urllib.request.Request(served.address + "metrics", None, {"X-Forwarded-For": "1.2.3.4"})
    with urllib.request.urlopen(far) as answer:
        assert b"lotkin_requests_total" not in answer.read()
        assert "/sign-in" in answer.url
    assert "admin" in served.first
    served.stop()
    assert served.process.returncode in (0, -signal.SIGTERM)


def test_logs_are_json_and_hold_no_secret(served: Served) -> None:
    secret = "a-secret-of-ours-that-nobody-may-read"
    data = urlencode({"person": "ida", "password": secret}).encode()
    request = urllib.request.Request(
        f"{served.address}sign-in?next=/i/{secret}", data, {"Cookie": f"lotkin_session={secret}"}
    )
    with pytest.raises(urllib.error.HTTPError):
        urllib.request.urlopen(request)
    out, err = served.stop()
    assert secret not in out + err
    assert served.first.split()[-1] not in err
    lines = [json.loads(line) for line in err.splitlines()]
    answered = [line for line in lines if line.get("route") == "/sign-in"]
    assert answered[0]["status"] == 401
    assert answered[0]["request"]


def test_who_listens_for_changes_does_not_keep_it_from_stopping(
    planned_db: str, served: Served
) -> None:
    from lotkin.core.access.rights import Right
    from lotkin_service.settings import ServiceSettings
    from lotkin_service.state import Works

    works = Works(ServiceSettings(planned_db))
    token = works.sign_in.let_machine_in("listener", [Right.ASK], "admin")
    works.close()
    request = urllib.request.Request(
        served.address + "api/v1/changes?since=0", headers={"Authorization": f"Bearer {token}"}
    )
    answer = urllib.request.urlopen(request)
    assert b"retry" in answer.readline()
    told: list[bytes] = []
    reader = threading.Thread(target=lambda: told.extend(iter(answer.readline, b"")), daemon=True)
    reader.start()
    began = time.monotonic()
    while not any(b"event: recorded" in line for line in told) and time.monotonic() - began < 10:
        time.sleep(0.05)
    assert b"event: recorded\n" in told
    served.stop()
    assert served.process.returncode in (0, -signal.SIGTERM)


def test_a_port_that_is_taken_is_said(served: Served, planned_db: str) -> None:
    port = served.address.rstrip("/").rsplit(":", 1)[1]
    again = subprocess.run(
        [LOTKIN, "serve", "--port", port, "--db", planned_db],
        capture_output=True,
        text=True,
        check=False,
    )
    assert again.returncode == 5
    assert "cannot be used" in again.stderr


def test_without_a_store_it_says_so(tmp_path: Path) -> None:
    missing = subprocess.run(
        [LOTKIN, "serve", "--db", str(tmp_path / "none.db")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert missing.returncode == 5
    assert "Traceback" not in missing.stderr


def certificate(folder: Path) -> tuple[Path, Path]:
    """Make a certificate for 127.0.0.1 that signs itself."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "127.0.0.1")])
    now = dt.datetime.now(dt.UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - dt.timedelta(days=1))
        .not_valid_after(now + dt.timedelta(days=1))
        .sign(key, hashes.SHA256())
    )
    files = folder / "works.pem", folder / "works.key"
    files[0].write_bytes(made.public_bytes(serialization.Encoding.PEM))
    files[1].write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )
    return files


def test_it_serves_by_https(planned_db: str, tmp_path: Path) -> None:
    pem, key = certificate(tmp_path)
    running = Served(planned_db, "--tls-cert", str(pem), "--tls-key", str(key))
    trusting = ssl.create_default_context(cafile=str(pem))
    trusting.check_hostname = False
    with urllib.request.urlopen(running.address + "health", context=trusting) as answer:
        assert "max-age" in answer.headers["strict-transport-security"]
    running.stop()


def test_the_demo_tells_who_may_come_in(demo_db: str) -> None:
    lines = prepare(demo_db)
    assert [line.split()[0] for line in lines] == ["quality", "operator", "receiving"]
