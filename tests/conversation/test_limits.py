"""A shelf and its reminders have a size that they do not pass; what would pass it is told and not stored."""

from bot.conversation import guided, reminders


def test_one_reminder_too_many_is_not_stored_and_told(chat, monkeypatch):
    monkeypatch.setattr(reminders, "_MOST_OPEN", 2)
    for n in range(2):
        assert chat.told(f"remind me to look at box {n} tomorrow at 9").startswith("I will remind you")
    assert "which is the most" in chat.told("remind me to look at box 3 tomorrow at 9")
    with chat.store.look() as work:
        assert len(work.reminders.open(chat.keeper.shelf_id)) == 2
    chat.told("undo")
    assert chat.told("remind me to look at box 3 tomorrow at 9").startswith("I will remind you")


def test_one_animal_too_many_is_not_added_and_told(chat, monkeypatch):
    monkeypatch.setattr(guided, "_MOST_ANIMALS", 10)
    chat.told("add animal Zoe, Brachypelma hamorii, to shelf A")
    assert chat.told("yes") == "A shelf holds 10 animals at most. Nothing was added."
    with chat.store.look() as work:
        assert len(work.shelves.specimens(chat.keeper.shelf_id)) == 10
