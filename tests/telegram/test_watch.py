"""What an operator sees: figures that add up, nothing private among them, and honest health."""

from __future__ import annotations

import socket
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from prometheus_client.parser import text_string_to_metric_families

from bot.watch import Figures, WatchPage


class Health:
    """As ill as it is told to be."""

    def __init__(self):
        self.illness = self.unreadiness = None

    def ill(self):
        return self.illness

    def unready(self):
        return self.unreadiness


@pytest.fixture
def health():
    return Health()


@pytest.fixture
def figures():
    return Figures()


@pytest.fixture
def page(figures, health):
    made = WatchPage(("127.0.0.1", 0), figures, health)
    made.start()
    yield made
    made.stop()


def look(port, path):
    try:
        with urlopen(f"http://127.0.0.1:{port}{path}", timeout=5) as answer:
            return answer.status, answer.read().decode()
    except HTTPError as refused:
        return refused.code, refused.read().decode()


def samples(text):
    return {
        (sample.name, *sample.labels.values()): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
    }


def test_figures_are_read_back_by_the_parser_of_prometheus(page, figures):
    figures.update("handled")
    figures.update("handled")
    figures.reading("entries")
    figures.sent("sendMessage")
    figures.send_error("later")
    figures.round_made(2.0)
    with figures.timed("take in"):
        pass
    figures.watch_queues(lambda: {"inbox": 0.5, "outbox": 0.0})
    status, text = look(page.port, "/metrics")
    found = samples(text)
    assert status == 200
    assert found["burrowbell_updates_total", "handled"] == 2
    assert found["burrowbell_readings_total", "entries"] == 1
    assert found["burrowbell_requests_sent_total", "sendMessage"] == 1
    assert found["burrowbell_send_errors_total", "later"] == 1
    assert found["burrowbell_round_lateness_seconds_bucket", "5.0"] == 1
    assert found["burrowbell_round_lateness_seconds_bucket", "1.0"] == 0
    assert found["burrowbell_store_seconds_count", "take in"] == 1
    assert found["burrowbell_queue_age_seconds", "inbox"] == 0.5


def test_health_and_readiness_tell_why_not(page, health):
    assert look(page.port, "/healthz") == (200, "ok\n")
    health.illness, health.unreadiness = "the loop has stood still for 90 s", "The disk is full."
    assert look(page.port, "/healthz") == (503, "the loop has stood still for 90 s\n")
    assert look(page.port, "/readyz") == (503, "The disk is full.\n")
    assert look(page.port, "/anything")[0] == 404


def test_figures_that_cannot_be_told_do_not_end_the_page(page, figures):
    def broken():
        raise RuntimeError("the store is gone")

    figures.watch_queues(broken)
    assert look(page.port, "/metrics") == (500, "see the log\n")
    assert look(page.port, "/healthz")[0] == 200


def test_a_port_that_is_taken_does_not_keep_the_bot_from_serving(figures, health, caplog):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        page = WatchPage(taken.getsockname(), figures, health)
        page.start()
        assert page.port is None
        page.stop()
    assert "the watch page cannot listen" in caplog.text


async def test_serve_shows_figures_of_what_it_did_and_nothing_that_was_written(api, serving):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    await serving.start(BURROWBELL_WATCH_LISTEN=f"127.0.0.1:{port}")
    api.says("fed Ink two crickets")
    await api.until(lambda: api.count("sendMessage") == 2)
    found = samples(look(port, "/metrics")[1])
    assert found["burrowbell_updates_total", "handled"] == 1
    assert found["burrowbell_requests_sent_total", "sendMessage"] >= 1
    assert found["burrowbell_queue_age_seconds", "inbox"] == 0
    assert look(port, "/healthz") == (200, "ok\n")
    assert look(port, "/readyz") == (200, "ok\n")
    assert "Ink" not in look(port, "/metrics")[1]
