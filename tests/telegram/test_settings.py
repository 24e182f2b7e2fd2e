"""Half-made settings are refused in one line; the token never shows."""

import os
from pathlib import Path

import pytest

from bot.settings import Settings, SettingsError, load_settings

TOKEN = "123456789:" + "aB3-_" * 7
KEY = "age1clhmf7umkytdevjuf58u5urckfr4nv4jcymjqqjzshkml5cxl4wqaaxw24"  # of age-keygen 1.1.1, for tests
SAMPLE = Path(__file__).parents[2] / "deploy" / "burrowbell.env.sample"


@pytest.fixture(autouse=True)
def empty_surroundings(monkeypatch, tmp_path):
    for name in list(os.environ):
        if name.startswith("BURROWBELL_") or name == "CREDENTIALS_DIRECTORY":
            monkeypatch.delenv(name)
    monkeypatch.chdir(tmp_path)


def environment(monkeypatch, **values):
    for name, value in ({"token": TOKEN, "keepers": "7"} | values).items():
        monkeypatch.setenv(f"BURROWBELL_{name.upper()}", value)


def test_settings_come_from_the_environment(monkeypatch):
    environment(monkeypatch, keepers="7, 8;9", log_level="debug", api_base_url="http://127.0.0.1:8081/")
    settings = load_settings()
    assert settings.token.get_secret_value() == TOKEN
    assert (settings.keepers, settings.log_level) == ((7, 8, 9), "DEBUG")
    assert settings.api_base_url == "http://127.0.0.1:8081"
    assert settings.database_url.startswith("sqlite:///")


def test_copies_are_kept_as_set(monkeypatch):
    environment(monkeypatch, backup_folder="copies", backup_keep="3, 2, 0", backup_key=KEY)
    assert load_settings().backup_keep == (3, 2, 0)


def test_settings_come_from_a_file_in_the_working_folder(tmp_path):
    (tmp_path / ".env").write_text(f"BURROWBELL_TOKEN={TOKEN}\nBURROWBELL_KEEPERS=7\nOTHER=1\n")
    assert load_settings().keepers == (7,)


@pytest.mark.parametrize("name", ["BURROWBELL_SECRETS_DIR", "CREDENTIALS_DIRECTORY"])
def test_secrets_come_from_files(monkeypatch, tmp_path, name):
    (tmp_path / "secrets").mkdir()
    (tmp_path / "secrets" / "burrowbell_token").write_text(TOKEN + "\n")
    monkeypatch.setenv(name, str(tmp_path / "secrets"))
    monkeypatch.setenv("BURROWBELL_KEEPERS", "7")
    assert load_settings().token.get_secret_value() == TOKEN


def test_the_command_line_wins_over_the_environment(monkeypatch):
    environment(monkeypatch, database_url="sqlite:///a.db")
    assert load_settings(database_url="sqlite:///b.db").database_url == "sqlite:///b.db"


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"token": ""}, "BURROWBELL_TOKEN"),
        ({"token": "put-your-token-here"}, "BURROWBELL_TOKEN"),
        ({"token": TOKEN[:20]}, "BURROWBELL_TOKEN"),
        ({"token": TOKEN + " "}, "BURROWBELL_TOKEN"),
        ({"keepers": ""}, "BURROWBELL_KEEPERS"),
        ({"keepers": "ada"}, "BURROWBELL_KEEPERS"),
        ({"keepers": "7,-100"}, "BURROWBELL_KEEPERS"),
        ({"keepers": "put-your-user-id-here"}, "BURROWBELL_KEEPERS"),
        ({"database_url": "mysql://x"}, "BURROWBELL_DATABASE_URL"),
        ({"api_base_url": "telegram"}, "BURROWBELL_API_BASE_URL"),
        ({"poll_timeout": "90"}, "BURROWBELL_POLL_TIMEOUT"),
        ({"log_level": "loud"}, "BURROWBELL_LOG_LEVEL"),
        ({"backup_keep": "7,4"}, "BURROWBELL_BACKUP_KEEP"),
        ({"backup_keep": "0,4,12"}, "BURROWBELL_BACKUP_KEEP"),
        ({"backup_keep": "seven,4,12"}, "BURROWBELL_BACKUP_KEEP"),
        ({"backup_key": KEY}, "BURROWBELL_BACKUP_FOLDER"),
        ({"backup_key": "age1…", "backup_folder": "copies"}, "BURROWBELL_BACKUP_KEY"),
        ({"backup_key": "a passphrase", "backup_folder": "copies"}, "BURROWBELL_BACKUP_KEY"),
        ({"secrets_dir": "/nowhere/at/all"}, "BURROWBELL_SECRETS_DIR"),
    ],
)
def test_half_made_settings_are_refused_in_one_line_that_names_them(monkeypatch, values, told):
    environment(monkeypatch, **values)
    with pytest.raises(SettingsError) as refused:
        load_settings()
    line = str(refused.value)
    assert told in line
    assert "\n" not in line
    assert not values.get("token") or values["token"] not in line


def test_nothing_set_names_all_that_is_missing():
    with pytest.raises(SettingsError, match=r"BURROWBELL_TOKEN is missing.*BURROWBELL_KEEPERS is missing"):
        load_settings()


def test_the_sample_file_is_refused_as_it_is_and_complete_when_filled_in(tmp_path):
    sample = SAMPLE.read_text()
    (tmp_path / ".env").write_text(sample)
    with pytest.raises(SettingsError):
        load_settings()
    filled = sample.replace("put-your-token-here", TOKEN).replace("put-your-user-id-here", "7")
    (tmp_path / ".env").write_text(filled)
    assert load_settings().keepers == (7,)
    named = {line.split("=")[0].lstrip("#") for line in sample.splitlines() if "=" in line}
    assert named == {f"BURROWBELL_{name.upper()}" for name in Settings.model_fields} | {
        "BURROWBELL_SECRETS_DIR"
    }


def test_the_token_never_shows_when_settings_are_printed(monkeypatch):
    environment(monkeypatch)
    settings = load_settings()
    assert TOKEN not in f"{settings!r} {settings} {settings.model_dump_json()}"
