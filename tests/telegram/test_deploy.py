"""The service unit does what ``serve`` expects of a supervisor."""

import shutil
import subprocess
from configparser import ConfigParser
from pathlib import Path

import pytest

from bot.telegram import service

UNIT = Path(__file__).parents[2] / "deploy" / "burrowbell.service"


@pytest.fixture
def unit():
    read = ConfigParser(interpolation=None, strict=False)
    read.optionxform = str
    read.read(UNIT)
    return read["Service"]


def test_a_fault_brings_a_new_start_and_a_refused_token_does_not(unit):
    assert unit["Restart"] == "always"
    assert unit["RestartPreventExitStatus"] == str(service.TOKEN_REFUSED)


def test_it_is_given_more_time_to_stop_than_it_takes(unit):
    assert int(unit["TimeoutStopSec"]) > 10


def test_it_starts_serve_with_a_store_in_its_own_folder(unit):
    assert unit["ExecStart"].endswith("burrowbell serve")
    assert f"/var/lib/{unit['StateDirectory']}/" in unit["Environment"]


@pytest.mark.skipif(not shutil.which("systemd-analyze"), reason="needs systemd's own checker")
def test_the_service_managers_own_checker_finds_nothing(tmp_path):
    checked = tmp_path / UNIT.name
    checked.write_text(UNIT.read_text().replace("/opt/burrowbell/.venv/bin/burrowbell", shutil.which("true")))
    told = subprocess.run(
        ["systemd-analyze", "verify", str(checked)], capture_output=True, text=True, check=False
    )
    assert UNIT.name not in told.stderr
