"""`lotkin serve` as a process of its own, and talking to it byte by byte."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
from pathlib import Path
from urllib.parse import urlsplit

__all__ = ["LOTKIN", "Served", "answer_to"]

LOTKIN = str(Path(sys.executable).with_name("lotkin"))


class Served:
    """`lotkin serve` as a process of its own."""

    def __init__(self, db: str, *options: str) -> None:
        self.process = subprocess.Popen(
            [LOTKIN, "serve", "--port", "0", "--db", db, *options],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        self.address = self.process.stdout.readline().split(" at ")[-1].strip()
        self.first = self.process.stdout.readline() if "127" in self.address else ""

    def stop(self) -> tuple[str, str]:
        self.process.send_signal(signal.SIGTERM)
        return self.process.communicate(timeout=30)

    def end(self) -> None:
        """Stop it, whatever it is about."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.communicate()

    def connect(self, timeout_s: float = 30.0) -> socket.socket:
        """Open a connection to it, over which nothing was sent yet."""
        parts = urlsplit(self.address)
        return socket.create_connection((parts.hostname, parts.port), timeout=timeout_s)

    def most_memory_mib(self) -> int:
        """Give the most memory that it has had (`VmHWM`, proc(5))."""
        lines = Path(f"/proc/{self.process.pid}/status").read_text().splitlines()
        return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) // 1024


def answer_to(connection: socket.socket) -> tuple[int, bytes]:
    """Read an answer to its end: status and all that came; (0, b"") if it was closed instead."""
    come = b""
    try:
        while chunk := connection.recv(65536):
            come += chunk
            head, end, rest = come.partition(b"\r\n\r\n")
            if end and b"content-length: " in head.lower():
                length = int(head.lower().split(b"content-length: ")[1].split(b"\r\n")[0])
                if len(rest) >= length:
                    break
    except ConnectionError:
        pass
    return int(come.split(b" ", 2)[1]) if come else 0, come
