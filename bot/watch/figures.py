"""The figures of a running bot, for Prometheus. None of them holds a keeper's words, name or number.

Names follow the Prometheus naming practice: seconds as the unit, ``_total`` for what only grows.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Final

from prometheus_client import CollectorRegistry, Counter, Histogram, generate_latest
from prometheus_client.core import GaugeMetricFamily
from prometheus_client.registry import Collector

#: Seconds; the aim is a reply in well under a quarter of a second.
_STORE_STEPS: Final = (0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5)
#: Seconds after its wall time at which a round was made; from a quarter of an hour on it is told late.
_LATE_STEPS: Final = (1.0, 5.0, 15.0, 60.0, 300.0, 900.0, 3600.0, 6 * 3600.0, 24 * 3600.0)


class Figures:
    """One set of figures; each process has one."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        self._updates = self._counter("updates", "Updates taken in, by what became of them", "outcome")
        self._readings = self._counter("readings", "Typed messages, by how they were read", "reading")
        self._sent = self._counter("requests_sent", "Requests that Telegram took", "method")
        self._send_errors = self._counter(
            "send_errors", "Requests that Telegram did not take, by what was done", "then"
        )
        self._late = Histogram(
            "burrowbell_round_lateness_seconds",
            "From a round's wall time until it was made",
            buckets=_LATE_STEPS,
            registry=self.registry,
        )
        self._store = Histogram(
            "burrowbell_store_seconds",
            "Time taken by a transaction and what is worked out in it",
            ["what"],
            buckets=_STORE_STEPS,
            registry=self.registry,
        )

    def _counter(self, name: str, says: str, label: str) -> Counter:
        return Counter(f"burrowbell_{name}", says, [label], registry=self.registry)

    def update(self, outcome: str) -> None:
        """An update was "handled", "set_aside" or "unreadable"."""
        self._updates.labels(outcome).inc()

    def reading(self, kind: str) -> None:
        """A typed message was read as entries, a question, unclear …"""
        self._readings.labels(kind).inc()

    def sent(self, method: str) -> None:
        """Telegram took a request."""
        self._sent.labels(method).inc()

    def send_error(self, then: str) -> None:
        """Telegram did not take a request, and this was done about it."""
        self._send_errors.labels(then).inc()

    def round_made(self, late_by: float) -> None:
        """A round was made so many seconds after its wall time."""
        self._late.observe(max(0.0, late_by))

    @contextmanager
    def timed(self, what: str) -> Iterator[None]:
        """Times a transaction."""
        start = time.perf_counter()
        try:
            yield
        finally:
            self._store.labels(what).observe(time.perf_counter() - start)

    def watch_queues(self, ages: Callable[[], Mapping[str, float]]) -> None:
        """Has the age of the oldest that waits in each queue asked for whenever the figures are read."""
        self.registry.register(_QueueAges(ages))

    def text(self) -> bytes:
        """All figures in the text format that Prometheus reads."""
        return generate_latest(self.registry)


class _QueueAges(Collector):
    def __init__(self, ages: Callable[[], Mapping[str, float]]) -> None:
        self._ages = ages

    def collect(self) -> Iterable[GaugeMetricFamily]:
        family = GaugeMetricFamily(
            "burrowbell_queue_age_seconds",
            "Age of the oldest that waits; 0 where nothing does",
            labels=["queue"],
        )
        for queue, age in self._ages().items():
            family.add_metric([queue], age)
        yield family

    def describe(self) -> Iterable[GaugeMetricFamily]:
        """Nothing, so that registering it does not ask the store."""
        return ()
