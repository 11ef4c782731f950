"""Sending labels to a printer: it gets every byte, and a dead one is a clear error."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager

import pytest

from lotkin_labels import send_zpl
from lotkin_labels.errors import PrinterUnreachable

HERE = "127.0.0.1"


@contextmanager
def listening() -> Iterator[socket.socket]:
    with closing(socket.create_server((HERE, 0))) as server:
        server.settimeout(10)
        yield server


def test_the_printer_gets_every_byte() -> None:
    text = "^XA^FDlabel^FS^XZ\n" * 5000
    received = bytearray()

    def take(server: socket.socket) -> None:
        connection, _ = server.accept()
        with connection:
            while part := connection.recv(65536):
                received.extend(part)

    with listening() as server:
        printer = threading.Thread(target=take, args=(server,))
        printer.start()
        send_zpl(HERE, server.getsockname()[1], text)
        printer.join(timeout=10)

    assert received.decode("ascii") == text


def test_a_printer_that_does_not_listen_is_named() -> None:
    with listening() as server:
        port = server.getsockname()[1]

    with pytest.raises(PrinterUnreachable, match=f"{HERE}:{port}") as caught:
        send_zpl(HERE, port, "^XA^XZ")

    assert caught.value.kind == "printer-unreachable"
    assert caught.value.exit_status == 5
    assert caught.value.hint


def test_a_printer_that_stops_taking_data_is_given_up() -> None:
    with (
        listening() as server,
        pytest.raises(PrinterUnreachable, match=r"no answer in 0\.2 seconds"),
    ):
        # Nobody accepts or reads: the data fills the buffers and then stands still.
        send_zpl(HERE, server.getsockname()[1], "x" * 50_000_000, timeout_seconds=0.2)


@pytest.mark.parametrize(
    ("host", "port"), [("", 70000), ("printer..invalid", 9100), ("a" * 300, 1)]
)
def test_an_address_that_cannot_be_one_is_a_clear_error(host: str, port: int) -> None:
    with pytest.raises(PrinterUnreachable):
        send_zpl(host, port, "^XA^XZ", timeout_seconds=1)
