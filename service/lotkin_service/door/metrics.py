"""Figures of the service in the text format of Prometheus."""

from __future__ import annotations

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest

__all__ = ["Metrics"]


class Metrics:
    """Requests by route and status, how long they took, and the head of the journal."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        labels = ("method", "route", "status")
        self._requests = Counter(
            "lotkin_requests_total", "Requests answered.", labels, registry=self.registry
        )
        self._seconds = Histogram(
            "lotkin_request_seconds", "Seconds to answer.", ("route",), registry=self.registry
        )
        self._head = Gauge(
            "lotkin_journal_head", "Number of the last event.", registry=self.registry
        )

        self._backup = Gauge(
            "lotkin_last_backup_seconds",
            "When the last scheduled backup was made, in seconds since 1970; 0 for never.",
            registry=self.registry,
        )

    def backed_up(self, moment: float) -> None:
        """Note when the last scheduled backup was made."""
        self._backup.set(moment)

    def answered(self, method: str, route: str, status: int, seconds: float) -> None:
        """Count an answer."""
        self._requests.labels(method, route, str(status)).inc()
        self._seconds.labels(route).observe(seconds)

    def text(self, head: int) -> bytes:
        """Write all figures; the head is the number of the last event."""
        self._head.set(head)
        return generate_latest(self.registry)
