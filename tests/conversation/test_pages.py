"""Long lists come in pages, and nothing is lost between them."""

from __future__ import annotations

from bot.terms import Specimen
from tests.conversation.given import a_keeper
from tests.conversation.replay import Player


def crowd(n: int) -> list[Specimen]:
    return [
        Specimen(
            tag=f"Q{i}",
            name=f"Invented {i} of a long name",
            species="Grammostola pulchra",
            place=f"rack {i % 9}",
        )
        for i in range(1, n + 1)
    ]


def test_long_lists_come_in_pages_by_button_and_by_word(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=crowd(300))
    first = player.told("what is due today?")
    assert len(first) <= 4000
    pages = [first]
    while any(button.label == "More" for row in player.shown[-1].buttons for button in row):
        pages.append(player.told("more") if len(pages) % 2 else player.press("More"))
        assert len(pages[-1]) <= 4000
    everything = "\n".join(pages)
    assert all(f"(Q{i})" in everything for i in range(1, 301))


def test_a_group_is_told_in_few_lines(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=crowd(200))
    said = player.told("everyone ate a cricket")
    assert len(player.entries()) == 200
    assert len(said) <= 4000
    assert said.count("\n") < 12


def test_a_page_is_never_empty_and_loses_no_line():
    from bot.conversation.pages import pages

    text = "\n".join(f"line {n} " + "x" * (n % 700) for n in range(400))
    found = pages(text)
    assert all(0 < len(page) <= 4000 for page in found)
    assert "\n".join(found) == text
    assert all(len(page) <= 4000 for page in pages("y" * 30_000))


def test_reading_on_uses_up_no_other_button(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=crowd(200))
    player.now = "2026-05-14 08:00"
    player.shown += player.play("! round")
    player.press("More")
    player.press("All done")
    assert len({tag for entry in player.entries() for tag in entry.specimens}) == 200
