"""Updates in, what was heard out."""

from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.conversation.model import Photo
from bot.telegram.translate import (
    ALLOWED_UPDATES,
    Heard,
    Me,
    Moved,
    Passed,
    Standing,
    UnreadableUpdateError,
    chat_of,
    translate,
)
from tests.telegram.updates import BOT, SENT, membership, message, photo, presses, says, update

ME = Me(id=BOT["id"], username=BOT["username"])
RECEIVED = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
GROUP = -55


def what(given_update):
    return translate(given_update, received_at=RECEIVED, me=ME)


def heard(given_update) -> Heard:
    found = what(given_update)
    assert isinstance(found, Heard)
    return found


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("fed Ink two crickets", "fed Ink two crickets"),
        ("/round", "what is due today?"),
        ("/round@Burrow_Test_Bot", "what is due today?"),
        ("/undo", "undo"),
        ("/settings", "settings"),
        ("/fed Ink a cricket", "fed Ink a cricket"),
        ("/not_eaten", "not eaten"),
        ("@burrow_test_bot fed Ink", "fed Ink"),
        ("@burrow_test_bot: fed Ink", "fed Ink"),
        ("fed Ink @burrow_test_bot", "fed Ink"),
        ("fed Ink @burrow_test_bot_2", "fed Ink @burrow_test_bot_2"),
        ("1/2 a cricket", "1/2 a cricket"),
        ("/ fed", "/ fed"),
        ("half \ud83d a pair, nul \0.", "half \ufffd a pair, nul ."),
        ("<b>fed</b> &amp; Ink", "<b>fed</b> &amp; Ink"),
    ],
)
def test_a_message_gives_the_words_that_the_keeper_means(written, words):
    assert heard(says(written)).incoming.text == words


def test_the_time_of_a_message_is_when_it_was_sent_and_not_when_it_came():
    assert heard(says("fed Ink")).incoming.sent_at == datetime.fromtimestamp(SENT, UTC)


def test_a_message_carries_who_where_and_its_own_id():
    found = heard(says("fed Ink", user=9, number=31))
    assert (found.chat, found.private, found.person.id, found.person.name) == (9, True, 9, "Ada")
    assert (found.incoming.reference, found.incoming.edits) == ("31", False)


def test_an_edited_message_has_the_same_id_and_says_that_it_edits():
    changed = message("fed Ink 3 crickets", number=31) | {"edit_date": SENT + 60}
    incoming = heard(update(edited_message=changed)).incoming
    assert (incoming.reference, incoming.edits, incoming.text) == ("31", True, "fed Ink 3 crickets")
    assert incoming.sent_at == datetime.fromtimestamp(SENT, UTC)


def test_an_answer_to_a_message_carries_its_id():
    assert heard(says("ate", reply_to_message=message("Ink", number=12))).incoming.reply_to == "12"


def test_of_a_photo_the_largest_size_is_kept_with_the_caption():
    sizes = [photo("s", 90, 90), photo("l", 1280, 960), photo("m", 320, 240)]
    found = heard(update(message=message(photo=sizes, caption="Ink molted", media_group_id="a1")))
    assert found.incoming.photos == (Photo(reference="l", width=1280, height=960),)
    assert (found.incoming.text, found.album) == ("Ink molted", "a1")


def test_a_picture_sent_as_a_file_is_a_photo():
    file = {"file_id": "f", "file_unique_id": "uf", "mime_type": "image/png"}
    assert heard(update(message=message(document=file))).incoming.photos == (Photo(reference="f"),)


@pytest.mark.parametrize(
    ("part", "name"),
    [
        ("sticker", "sticker"),
        ("voice", "voice message"),
        ("document", "file"),
        ("location", "location"),
        ("poll", "poll"),
        ("checklist", "checklist"),
    ],
)
def test_what_is_neither_text_nor_photo_is_named(part, name):
    incoming = heard(update(message=message(**{part: {"file_id": "x"}}))).incoming
    assert (incoming.unsupported, incoming.text) == (name, "")


def test_the_caption_of_a_video_is_read_as_words():
    incoming = heard(update(message=message(video={"file_id": "v"}, caption="Ink ate"))).incoming
    assert (incoming.text, incoming.unsupported) == ("Ink ate", None)


def test_a_forwarded_message_is_not_taken_for_the_keepers_own_words():
    origin = {"type": "hidden_user", "date": SENT - 999, "sender_user_name": "Bo"}
    incoming = heard(says("fed Ink", forward_origin=origin)).incoming
    assert (incoming.text, incoming.unsupported) == ("", "forwarded message")


def test_start_and_invite_are_commands_of_the_front_end():
    assert heard(says("/start iABC")).command.rest == "iABC"
    assert heard(says("/start")).command.name == "start"
    assert heard(says("/invite")).command.name == "invite"
    assert heard(says("/undo")).command is None


def test_an_edited_start_opens_nothing():
    assert heard(update(edited_message=message("/start iABC"))).command is None


def test_a_button_press_counts_as_sent_when_it_came_in():
    found = heard(presses("p12:0", shown=5))
    assert (found.incoming.pressed, found.incoming.sent_at) == ("p12:0", RECEIVED)
    assert (found.callback, found.shown, found.incoming.reply_to) == ("4711", 5, "5")


def test_two_presses_of_one_message_have_different_references():
    first, second = presses("p12:0"), presses("p12:0")
    second["callback_query"]["id"] = "4712"
    assert heard(first).incoming.reference != heard(second).incoming.reference


def test_a_press_on_a_message_too_old_to_be_shown_is_heard():
    pressed = presses("p12:0")
    pressed["callback_query"]["message"] = {"chat": {"id": 7, "type": "private"}, "message_id": 5, "date": 0}
    assert heard(pressed).incoming.pressed == "p12:0"


def test_a_press_without_message_is_passed_but_has_to_be_answered():
    pressed = presses("p12:0")
    del pressed["callback_query"]["message"]
    assert what(pressed) == Passed(why="a button without message or data", callback="4711")


@pytest.mark.parametrize(
    ("written", "mine"),
    [
        ("fed Ink", False),
        ("@burrow_test_bot fed Ink", True),
        ("/round", True),
        ("/round@burrow_test_bot", True),
        ("/start@burrow_test_bot", True),
        ("ask @burrow_test_bot2", False),
    ],
)
def test_in_a_group_only_what_is_addressed_to_the_bot_is_its_own(written, mine):
    assert heard(says(written, where=GROUP)).mine is mine


def test_in_a_group_an_answer_to_the_bot_is_addressed_to_it():
    answered = message("Which one?", where=GROUP, number=3) | {"from": BOT}
    assert heard(says("Ink", where=GROUP, reply_to_message=answered)).mine


def test_a_command_for_another_bot_is_passed():
    assert isinstance(what(says("/round@some_other_bot", where=GROUP)), Passed)


@pytest.mark.parametrize(
    "more",
    [
        {"from": BOT},
        {"sender_chat": {"id": -9, "type": "channel", "title": "x"}},
        {"text": None, "new_chat_members": [BOT]},
        {"text": None, "pinned_message": {}},
    ],
)
def test_what_no_person_wrote_is_passed(more):
    assert isinstance(what(update(message=message("hello", where=GROUP) | more)), Passed)


@pytest.mark.parametrize(
    ("status", "present"), [("kicked", False), ("left", False), ("member", True), ("administrator", True)]
)
def test_blocking_and_unblocking_are_told_apart(status, present):
    found = what(membership(status))
    assert isinstance(found, Standing)
    assert (found.present, found.private, found.person.id) == (present, True, 7)


def test_a_group_that_becomes_a_supergroup_has_moved():
    new = -1000000000055
    assert what(update(message=message(where=GROUP, migrate_to_chat_id=new))) == Moved(old=GROUP, new=new)
    assert what(update(message=message(where=new, migrate_from_chat_id=GROUP))) == Moved(old=GROUP, new=new)


def test_a_kind_of_update_not_asked_for_is_passed():
    assert isinstance(what(update(message_reaction={"chat": {"id": 7}})), Passed)


@pytest.mark.parametrize(
    "broken",
    [
        update(message="?"),
        update(message=message("x") | {"date": "today"}),
        update(message=message("x") | {"date": 10**18}),
        update(message=message("x") | {"chat": {"id": "seven"}}),
        update(message=message("x") | {"from": {"first_name": "Ada"}}),
        update(message=message("x") | {"text": ["x"]}),
        update(message=message("x") | {"message_id": True}),
        update(callback_query={"from": {}}),
        update(my_chat_member={"chat": {"id": 7, "type": "private"}}),
    ],
)
def test_an_update_that_is_not_as_described_is_unreadable(broken):
    with pytest.raises(UnreadableUpdateError):
        what(broken)


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(
        ["id", "from", "chat", "date", "text", "photo", "document", "message", "data", "type", "message_id",
         "reply_to_message", "caption", "media_group_id", "migrate_to_chat_id", "new_chat_member", "status",
         "first_name", "file_id", "width", "mime_type"]), inner, max_size=6),
    max_leaves=25,
)  # fmt: skip


@given(st.sampled_from(ALLOWED_UPDATES), _JSON, st.dictionaries(st.sampled_from(["text", "photo"]), _JSON))
@settings(max_examples=300, deadline=None)
def test_whatever_comes_is_heard_passed_or_unreadable_and_belongs_to_some_chat(kind, part, more):
    for built in (update(**{kind: part}), update(**{kind: message("fed Ink") | more})):
        assert isinstance(chat_of(built), int)
        try:
            found = what(built)
        except UnreadableUpdateError:
            continue
        assert isinstance(found, Heard | Passed | Moved | Standing)


@pytest.mark.parametrize("nothing", [None, 7, "x", [], {}, {"message": []}])
def test_what_is_no_update_belongs_to_no_chat(nothing):
    assert chat_of(nothing) == 0


@pytest.mark.parametrize(("where", "private"), [(None, True), (-5, False), (-(10**12) - 5, False)])
def test_whether_others_read_along_is_told_by_the_kind_of_chat(where, private):
    for given_update in (says("fed Ink", where=where), presses("5:1", where=where)):
        heard = translate(given_update, received_at=RECEIVED, me=ME)
        assert heard.private is heard.incoming.private is private
