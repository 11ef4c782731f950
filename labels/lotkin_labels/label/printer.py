"""Data to a label printer that listens on the network."""

from __future__ import annotations

import socket

from lotkin_labels.errors import PrinterUnreachable

__all__ = ["RAW_PORT", "send_zpl"]

RAW_PORT = 9100
"""Where label printers take raw data (common practice, no source)."""


def send_zpl(host: str, port: int, text: str, *, timeout_seconds: float = 10.0) -> None:
    """Send labels to a printer over TCP; returns once it has taken all of them.

    The printer gives no receipt: that it took the data does not say that they came out.

    Args:
        host, port: Address of the printer; the port is `RAW_PORT` as a rule.
        text: What `write_zpl` gave.
        timeout_seconds: Longest wait for the connection, and again for each part of the data.

    Raises:
        PrinterUnreachable: It cannot be reached, or stops taking data; some labels may be printed.
    """
    address = f"{host}:{port}"
    try:
        with socket.create_connection((host, port), timeout=timeout_seconds) as connection:
            connection.sendall(text.encode("ascii"))
            connection.shutdown(socket.SHUT_WR)
    except TimeoutError as err:
        raise PrinterUnreachable(address, f"no answer in {timeout_seconds:g} seconds") from err
    except (OSError, OverflowError, UnicodeError) as err:
        # UnicodeError: a host name that cannot be one; OverflowError: a port beyond 65535.
        raise PrinterUnreachable(address, str(err) or type(err).__name__) from err
