"""Who is answered, and what one update does: everything or nothing, once."""

import itertools
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from bot.telegram import words
from bot.telegram.admit import Door
from bot.telegram.deep_link import payload_for_invite, payload_for_tag
from bot.telegram.poller import store_updates
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from bot.terms.language import speaking
from storage import Store
from storage.codes import hash_of
from storage.errors import StoreUnavailableError
from tests.telegram import updates as make
from tests.telegram.fake_talks import FakeTalks

NOW = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
ADA, BO, EVE, GROUP = 7, 8, 666, -55


class Plans:
    """Notes for whom a round was planned."""

    def __init__(self):
        self.planned = []

    def plan(self, work, keeper, at):
        self.planned.append(keeper.id)
        work.keepers.set_next_round(keeper.id, at + timedelta(days=1))


class Desk:
    """A store, a worker, and updates that are put in one after another."""

    def __init__(self):
        self.store, self.talks, self.plans, self.now = Store.open("sqlite://"), FakeTalks(), Plans(), NOW
        self.worker = Worker(
            self.store,
            me=Me(id=make.BOT["id"], username=make.BOT["username"]),
            door=Door([ADA, BO]),
            talks=self.talks,
            plans=self.plans,
            now=lambda: self.now,
        )
        self._numbers = itertools.count(1)

    def put(self, update):
        return store_updates(self.store, [update | {"update_id": next(self._numbers)}], self.now)

    def take(self, *updates):
        """Puts updates in and handles all that waits; the requests that came of it: (chat, method, what)."""
        for update in updates:
            self.put(update)
        sent = []
        while rows := self.worker.waiting():
            for row in rows:
                sent += [(int(s.chat), s.method, told(s)) for s in self.worker.handle(row)]
        return sent

    def says(self, text, *, user=ADA, **more):
        return self.take(make.says(text, user=user, **more))

    def texts(self, text, **more):
        return [what for _chat, _method, what in self.says(text, **more)]

    def keeper(self, address):
        with self.store.look() as work:
            return work.keepers.by_contact("telegram", str(address))

    def notes(self, user=ADA):
        with self.store.look() as work:
            rows = work.journal.entries(self.keeper_shelf(work, user), newest_first=False)
            return [row.entry.note for row in rows]

    def keeper_shelf(self, work, user):
        return work.keepers.by_contact("telegram", str(user)).shelf_id

    def photos(self, user=ADA):
        with self.store.look() as work:
            return [photo.reference for photo in work.photos.of(self.keeper_shelf(work, user), None)][::-1]

    def invite(self, code, *, shelf=True, expires=timedelta(days=2)):
        ada = self.keeper(ADA)
        with self.store.begin() as work:
            work.keepers.invite(
                ada.shelf_id if shelf else None,
                role="partner" if shelf else "owner",
                code_hash=hash_of(code),
                by=ada.id,
                expires_at=self.now + expires,
                at=self.now,
            )
        return "/start " + payload_for_invite(code)


def told(sent):
    params = sent.payload["params"]
    return params.get("text", params.get("callback_query_id"))


@pytest.fixture
def desk():
    made = Desk()
    yield made
    made.store.close()


# --- who is answered


def test_a_keeper_of_the_settings_is_greeted_with_the_first_message_and_it_is_handled(desk):
    assert desk.texts("fed Ink") == ["Hello Ada", "stored fed Ink"]
    assert desk.texts("fed Mole") == ["stored fed Mole"]
    assert desk.notes() == ["fed Ink", "fed Mole"]


def test_start_greets_and_stores_nothing(desk):
    assert desk.texts("/start") == ["Hello Ada"]
    assert desk.texts("/start") == ["Hello Ada"]
    assert desk.notes() == []


def test_a_new_keepers_round_is_planned(desk):
    desk.says("/start")
    assert desk.plans.planned == [desk.keeper(ADA).id]
    desk.says("fed Ink")
    assert len(desk.plans.planned) == 1


def test_a_stranger_gets_one_line_once_and_nothing_is_stored_of_them(desk):
    assert desk.texts("hello", user=EVE) == [words.stranger()]
    assert desk.texts("fed Ink", user=EVE) == []
    assert desk.take(make.update(edited_message=make.message("x", user=EVE))) == []
    assert desk.keeper(EVE) is None


def test_a_strangers_press_is_answered_and_does_nothing(desk):
    desk.says("ask")
    assert desk.take(make.presses("p1:0", user=EVE)) == [(EVE, "answerCallbackQuery", words.not_yours())]
    with desk.store.look() as work:
        assert work.prompts.get(1).answered_at is None


def test_an_invitation_lets_one_person_in_once(desk):
    desk.says("/start")
    link = desk.invite("code-of-the-test")
    assert desk.texts(link, user=EVE) == [words.joined(), "Hello Ada"]
    assert desk.texts("fed Ink", user=EVE) == ["stored fed Ink"]
    assert desk.texts(link, user=999) == [words.invite_refused()]
    assert desk.keeper(999) is None


def test_an_invitation_to_a_shelf_of_ones_own_says_nothing_of_sharing(desk):
    desk.says("/start")
    assert desk.texts(desk.invite("own", shelf=False), user=EVE) == ["Hello Ada"]


def test_an_invitation_that_is_too_old_is_refused(desk):
    desk.says("/start")
    link = desk.invite("old")
    desk.now += timedelta(days=3)
    assert desk.texts(link, user=EVE) == [words.invite_refused()]


def test_guessing_codes_is_slowed_down(desk):
    desk.says("/start")
    link = desk.invite("right")
    for n in range(5):
        assert desk.texts(f"/start iwrong{n}", user=EVE) == [words.invite_refused()]
    assert desk.texts(link, user=EVE) == [words.too_many_tries()]
    assert desk.texts(link, user=EVE) == []
    assert desk.keeper(EVE) is None
    desk.now += timedelta(hours=1, seconds=1)
    assert desk.texts(link, user=EVE) == [words.joined(), "Hello Ada"]


def test_a_keeper_makes_an_invitation_of_which_only_the_hash_is_kept(desk):
    desk.says("/start")
    (text,) = desk.texts("/invite")
    code = text.rsplit("start=i", 1)[1]
    assert desk.texts(f"/start i{code}", user=EVE) == [words.joined(), "Hello Ada"]
    assert "https://t.me/burrow_test_bot?start=i" in text


def test_a_partner_cannot_invite_to_the_shelf_of_another(desk):
    desk.says("/start")
    desk.says(desk.invite("code"), user=EVE)
    ada = desk.keeper(ADA)
    (text,) = desk.texts("/invite", user=EVE)
    desk.says("/start i" + text.rsplit("start=i", 1)[1], user=999)
    eve, guest = desk.keeper(EVE), desk.keeper(999)
    with desk.store.look() as work:
        shelves = {m.shelf_id for m in work.shelves.of(guest.id, on=NOW.date())}
    assert shelves == {guest.shelf_id, eve.shelf_id}
    assert ada.shelf_id not in shelves


def test_a_scanned_label_asks_for_the_state_of_its_animal(desk):
    desk.says("/start")
    assert desk.texts("/start " + payload_for_tag("C1")) == ["stored status of C1"]


# --- groups


def test_a_strangers_group_and_a_group_not_linked_hear_nothing(desk):
    desk.says("/start")
    assert desk.says("fed Ink", user=EVE, where=GROUP) == []
    assert desk.says("@burrow_test_bot fed Ink", user=EVE, where=GROUP) == []
    assert desk.says("/start@burrow_test_bot", user=EVE, where=GROUP) == []
    assert desk.says("@burrow_test_bot fed Ink", where=GROUP) == []


def test_a_keeper_links_a_group_and_is_told_what_is_seen_there(desk):
    desk.says("/start")
    joined = make.membership("member", where=GROUP)
    assert desk.take(joined) == [(GROUP, "sendMessage", words.group_not_linked("burrow_test_bot"))]
    assert desk.says("/start@burrow_test_bot", where=GROUP) == [
        (GROUP, "sendMessage", words.group_greeting())
    ]
    assert desk.says("@burrow_test_bot fed Ink", where=GROUP) == [(GROUP, "sendMessage", "stored fed Ink")]
    assert desk.says("are you coming?", where=GROUP) == []
    assert desk.says("@burrow_test_bot fed Ink", user=EVE, where=GROUP) == []
    assert desk.notes() == ["fed Ink"]


def test_in_a_linked_group_only_those_are_answered_who_share_its_shelf(desk):
    desk.says("/start")
    desk.says("/start", user=BO)
    desk.says("/start@burrow_test_bot", where=GROUP)
    assert desk.texts("@burrow_test_bot fed Ink", user=BO, where=GROUP) == [words.group_already_linked()]
    desk.says(desk.invite("for-bo"), user=BO)
    assert desk.texts("@burrow_test_bot fed Ink", user=BO, where=GROUP) == ["stored fed Ink"]


def test_a_group_that_moved_keeps_its_link_its_dialogs_and_what_waits(desk):
    desk.says("/start")
    desk.says("/start@burrow_test_bot", where=GROUP)
    new = -1000000000055
    assert desk.take(make.update(message=make.message(where=GROUP, migrate_to_chat_id=new))) == []
    assert desk.take(make.update(message=make.message(where=new, migrate_from_chat_id=GROUP))) == []
    assert desk.says("@burrow_test_bot fed Ink", where=new) == [(new, "sendMessage", "stored fed Ink")]
    with desk.store.look() as work:
        assert {row.chat for row in work.outbox.waiting(NOW, 99)} == {str(ADA), str(new)}


def test_unasked_words_go_to_the_private_chat_and_not_to_the_group(desk):
    desk.says("/start")
    desk.says("/start@burrow_test_bot", where=GROUP)
    ada = desk.keeper(ADA)
    with desk.store.look() as work:
        contacts = work.keepers.contacts(ada.id)
    assert {contact.address for contact in contacts} == {str(ADA), str(GROUP)}
    assert Post().home(contacts) == str(ADA)


def test_blocking_pauses_and_unblocking_or_writing_resumes(desk):
    desk.says("/start")
    for back in (make.membership("member"), make.says("fed Ink")):
        desk.take(make.membership("kicked"))
        assert desk.keeper(ADA).paused
        desk.take(back)
        assert not desk.keeper(ADA).paused


def test_leaving_a_group_pauses_nobody(desk):
    desk.says("/start")
    desk.take(make.membership("left", where=GROUP))
    assert not desk.keeper(ADA).paused


# --- once, and all or nothing


def test_an_update_that_comes_twice_is_handled_once(desk):
    update = make.says("fed Ink") | {"update_id": 5}
    for _ in range(2):
        assert store_updates(desk.store, [update], NOW) == 5
    desk.take()
    assert desk.notes() == ["fed Ink"]


def test_every_press_is_answered_first_and_its_message_is_edited(desk):
    desk.says("/start")
    desk.says("ask")
    assert desk.take(make.presses("p1:0")) == [
        (ADA, "answerCallbackQuery", "4711"),
        (ADA, "editMessageText", "pressed"),
    ]


def test_a_press_that_says_nothing_is_answered(desk):
    desk.says("/start")
    pressed = make.presses("p1:0")
    del pressed["callback_query"]["data"]
    assert desk.take(pressed) == [(ADA, "answerCallbackQuery", "4711")]


def test_what_the_conversation_trips_over_leaves_nothing_behind_and_is_told(desk):
    desk.says("/start")
    assert desk.texts("slip") == [words.not_taken_in()]
    assert desk.texts("fed Ink") == ["stored fed Ink"]
    assert desk.worker.waiting() == ()


def test_also_somebody_whose_first_message_fails_is_told(desk):
    assert desk.texts("slip") == [words.not_taken_in()]
    assert desk.texts("slip", user=EVE) == [words.stranger()]
    assert desk.texts("fed Ink") == ["Hello Ada", "stored fed Ink"]


def test_while_the_store_cannot_be_used_the_update_waits(desk):
    desk.says("/start")
    desk.put(make.says("fed Ink"))
    original = desk.talks.respond

    def full(*_args):
        raise StoreUnavailableError("The disk is full.")

    desk.talks.respond = full
    (row,) = desk.worker.waiting()
    with pytest.raises(StoreUnavailableError):
        desk.worker.handle(row)
    desk.talks.respond = original
    assert [what for *_, what in desk.take()] == ["stored fed Ink"]


def test_chats_take_turns_and_each_keeps_its_order(desk):
    for text in ("one", "two", "three"):
        desk.put(make.says(text, user=ADA))
    desk.put(make.says("other", user=BO))
    assert [row.chat for row in desk.worker.waiting()] == [str(ADA), str(BO)]
    desk.take()
    assert desk.notes() == ["one", "two", "three"]


def test_what_has_no_number_is_not_stored_and_does_not_stop_the_rest(desk):
    whole = make.says("fed Ink") | {"update_id": 9}
    numbers = ("x", -1, 2**70, True)
    broken = [None, 3, [], {}, *({"update_id": number} for number in numbers)]
    assert store_updates(desk.store, [*broken, whole], NOW) == 9
    assert store_updates(desk.store, broken, NOW) is None


def test_numbers_that_are_none_can_be_stored(desk):
    odd = make.says("x") | {"update_id": 3, "odd": [float("nan"), float("inf"), "\ud83d"]}
    assert store_updates(desk.store, [odd], NOW) == 3
    desk.take()
    assert desk.notes() == ["x"]


# --- languages


@pytest.mark.parametrize("language", ["de", "es", "en"])
def test_a_keeper_is_answered_in_their_language_by_the_front_end_too(desk, language):
    desk.says("/start")
    ada = desk.keeper(ADA)
    with desk.store.begin() as work:
        work.keepers.save_settings(ada.id, replace(ada.settings, language=language))
    with speaking(language):
        expected = words.group_greeting()
    assert desk.says("/start@burrow_test_bot", where=GROUP) == [(GROUP, "sendMessage", expected)]
    assert desk.texts("hello", user=EVE) == [words.stranger()]


# --- albums


def photo(reference, **more):
    body = make.message(photo=[make.photo(reference, 9, 9)], media_group_id="a", **more)
    return make.update(message=body)


@pytest.mark.parametrize("first", [0, 1, 2])
def test_an_album_is_logged_once_with_all_its_photos_wherever_the_caption_stands(desk, first):
    desk.says("/start")
    album = [photo(f"p{n}", number=20 + n) for n in range(3)]
    album[first]["message"]["caption"] = "Ink molted"
    texts = [what for *_, what in desk.take(*album)]
    assert texts == (["a photo needs words"] if first else []) + ["stored Ink molted"]
    assert desk.notes() == ["Ink molted"]
    assert desk.photos() == ["p0", "p1", "p2"]


def test_an_album_without_words_is_asked_about_once(desk):
    desk.says("/start")
    sent = desk.take(*(photo(f"p{n}", number=20 + n) for n in range(3)))
    assert [what for *_, what in sent] == ["a photo needs words"]
    assert desk.photos() == []


def test_an_edited_caption_brings_its_photo_no_second_time(desk):
    desk.says("/start")
    first = photo("p0", number=20, caption="Ink molted")
    edited = make.update(edited_message=first["message"] | {"caption": "Mole molted"})
    desk.take(first, edited)
    assert desk.notes() == ["Ink molted", "Mole molted"]
    assert desk.photos() == ["p0"]


def test_a_photo_whose_words_come_by_an_edit_is_attached(desk):
    desk.says("/start")
    bare = photo("p0", number=20)
    edited = make.update(edited_message=bare["message"] | {"caption": "Ink molted"})
    desk.take(bare, edited)
    assert desk.photos() == ["p0"]


def test_the_next_album_is_another(desk):
    desk.says("/start")
    desk.take(photo("p0", number=20, caption="Ink molted"))
    other = photo("p1", number=21, caption="Mole molted")
    other["message"]["media_group_id"] = "b"
    desk.take(other)
    assert desk.notes() == ["Ink molted", "Mole molted"]
