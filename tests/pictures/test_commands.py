"""The commands that write pictures and paper, called as from a shell."""

from dataclasses import replace

import pytest

from bot.commands.store import KEYBOARD
from storage import Store
from tests.commands.conftest import _demo_file, burrowbell, demo_db  # noqa: F401  fixtures
from tests.pictures.reading_back import codes, text_of

NOW = ("--now", "2026-05-14T19:30")


@pytest.fixture
def call(burrowbell, demo_db):  # noqa: F811
    """A command on the demo shelf."""
    return lambda *arguments: burrowbell(*arguments, "--db", demo_db, *NOW)


@pytest.mark.parametrize(
    "arguments",
    [
        ("life", "x.png", "K1"),
        ("life", "x.png", "marzipan"),
        ("shelf", "x.png", "--dark"),
        ("meals", "x.png"),
        ("molts", "x.png", "lasiodora parahybana"),
        ("acceptance", "x.png"),
        ("climate", "x.png"),
        ("moisture", "x.png", "K1"),
    ],
    ids=" ".join,
)
def test_a_picture_is_written_and_told(call, tmp_path, arguments):
    outcome = call("picture", *arguments)
    assert (outcome.status, outcome.out) == (0, "x.png\n")
    assert outcome.err.strip()
    assert (tmp_path / "x.png").read_bytes().startswith(b"\x89PNG")


def test_labels_carry_the_deep_link_of_the_bot(call, tmp_path):
    assert call("labels", "l.pdf", "K1", "--bot", "@an_invented_bot").status == 0
    # the tag in URL-safe base64 behind a t, as /start takes it
    assert [text for text, _, _ in codes((tmp_path / "l.pdf").read_bytes())] == [
        "https://t.me/an_invented_bot?start=tSzE"
    ]


def test_labels_carry_another_text_where_one_is_given(call, tmp_path):
    assert call("labels", "l.pdf", "K1", "--link", "shelf/{tag}").status == 0
    assert [text for text, _, _ in codes((tmp_path / "l.pdf").read_bytes())] == ["shelf/K1"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("helper", "s.pdf", "--from", "2026-05-16", "--to", "2026-05-18"), "Mon 18 May 2026"),
        (("slips", "s.pdf"), "DO NOT DISTURB"),
        (("record", "s.pdf", "H3", "--picture"), "Record of Velvet (H3)"),
    ],
    ids=["helper", "slips", "record"],
)
def test_a_sheet_is_written(call, tmp_path, arguments, words):
    assert call("sheet", *arguments).status == 0
    assert words in text_of((tmp_path / "s.pdf").read_bytes())


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (("picture", "life", "x.png"), 2, "say which animal"),
        (("picture", "life", "x.png", "Nobody"), 2, "nobody on the shelf"),
        (("picture", "weight", "x.png", "K1"), 2, "no weight on record"),
        (("labels", "x.pdf", "--start", "99"), 2, "21 places"),
        (("labels", "no/folder/x.pdf"), 1, "No such file"),
        (("labels", "x.png"), 2, "ends in .pdf"),
        (("sheet", "slips", "x.txt"), 2, "ends in .pdf"),
        (("sheet", "record", "x", "K1"), 2, "ends in .pdf"),
        (("picture", "life", "x.pdf", "K1"), 2, "ends in .png"),
        (("sheet", "helper", "x.pdf", "--from", "2026-05-01", "--to", "2026-05-18"), 2, "past"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_what_cannot_be_made_is_one_line_and_no_file(call, tmp_path, arguments, status, words):
    outcome = call(*arguments)
    assert outcome.status == status
    assert outcome.out == ""
    assert words in outcome.err
    assert outcome.err.count("\n") == 1
    assert not list(tmp_path.glob("x.*"))


@pytest.fixture
def german_db(demo_db):  # noqa: F811
    """The demo shelf of a keeper who writes German."""
    store = Store.open(demo_db)
    with store.begin() as work:
        keeper = work.keepers.by_contact(*KEYBOARD)
        work.keepers.save_settings(keeper.id, replace(keeper.settings, language="de"))
    store.close()
    return demo_db


def test_what_the_commands_write_is_of_the_keepers_language(burrowbell, german_db, tmp_path):  # noqa: F811
    def call(*arguments):
        outcome = burrowbell(*arguments, "--db", german_db, *NOW)
        assert outcome.status == 0
        return outcome

    assert "zuletzt gefressen" in call("picture", "life", "x.png", "K1").err
    call("labels", "l.pdf")
    assert "starkes Gift" in text_of((tmp_path / "l.pdf").read_bytes())
    call("sheet", "slips", "s.pdf")
    assert "NICHT STÖREN" in text_of((tmp_path / "s.pdf").read_bytes())
