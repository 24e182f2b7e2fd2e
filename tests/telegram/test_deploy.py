"""The service unit does what ``serve`` expects of a supervisor."""

import shutil
import subprocess
from configparser import ConfigParser
from pathlib import Path

import pytest
import yaml

from bot.settings import PREFIX, Settings
from bot.telegram import service

DEPLOY = Path(__file__).parents[2] / "deploy"
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


@pytest.fixture
def container():
    """The steps of the container file's last stage, as (word, rest)."""
    joined = (DEPLOY / "Containerfile").read_text().replace("\\\n", " ")
    lines = [line.split(None, 1) for line in joined.splitlines() if line.strip() and line[0] != "#"]
    last = max(number for number, (word, _) in enumerate(lines) if word == "FROM")
    return lines[last:]


def test_the_container_runs_as_nobody_special_and_tells_how_it_is(container):
    steps = dict(container)
    assert int(steps["USER"]) > 0
    assert "8090/healthz" in steps["HEALTHCHECK"] + str(container)
    assert "8090" in Settings.model_fields["watch_listen"].default
    assert steps["STOPSIGNAL"].strip() == "SIGTERM"
    runs = [rest for word, rest in container if word == "RUN"]
    assert not any("pip install" in rest or "apt" in rest.split() for rest in runs)


def test_what_the_image_is_built_from_is_there():
    root = DEPLOY.parent
    copied = [
        part
        for line in (DEPLOY / "Containerfile").read_text().splitlines()
        if line.startswith("COPY ") and "--from" not in line
        for part in line.split()[1:-1]
    ]
    allowed = (DEPLOY / "Containerfile.dockerignore").read_text().splitlines()
    assert copied
    assert all((root / part).exists() and f"!{part}" in allowed for part in copied)


@pytest.fixture
def compose():
    return yaml.safe_load((DEPLOY / "compose.yaml").read_text())


@pytest.mark.parametrize("name", ["bot", "worker"])
def test_a_composed_bot_cannot_write_to_its_image_nor_gain_rights(compose, name):
    bot = compose["services"][name]
    assert bot["read_only"] is True
    assert bot["cap_drop"] == ["ALL"]
    assert bot["security_opt"] == ["no-new-privileges:true"]
    assert int(bot["stop_grace_period"].removesuffix("s")) > 10
    assert "ports" not in bot


def test_composed_secrets_come_as_files_that_settings_know_and_the_project_does_not_keep(compose):
    known = {f"{PREFIX}{name}".lower() for name in Settings.model_fields}
    secrets = set(compose["services"]["bot"]["secrets"])
    assert secrets <= known
    assert secrets <= set(compose["secrets"])
    plain = {key for key in compose["services"]["bot"]["environment"] if "TOKEN" in key or "PASSWORD" in key}
    assert plain == set()
    assert "/deploy/secrets/" in (DEPLOY.parent / ".gitignore").read_text()


def test_only_the_bot_reaches_the_composed_database(compose):
    assert compose["networks"]["inside"]["internal"] is True
    assert compose["services"]["postgres"]["networks"] == ["inside"]
    assert "ports" not in compose["services"]["postgres"]
