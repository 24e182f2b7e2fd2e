"""A keeper who wants all of it gone has all of it gone, and nobody else misses anything."""

import json
from dataclasses import fields, replace
from datetime import date
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from sqlalchemy import select

from bot.conversation import kept_beside, passing
from bot.conversation.texts import say
from bot.reading.short_answers import is_word
from bot.terms import KeeperSettings, Specimen
from storage.tables import METADATA
from tests.storage.given import entry
from tests.storage.test_move import all_rows
from tests.telegram import updates as make

ADA, BO, CY, GROUP = 71001, 72002, 73003, -74004
#: Words that only Ada ever says, or that only Ada is called: none of them may be left.
MARKS = ("Adasname", "Quillmark", "zettelwort", "Rackofada", "remindword", str(ADA))


def shelf_of(name, place):
    return (
        Specimen(tag="A1", name=name, species="Grammostola pulchra", place=place),
        Specimen(tag="A2", name="Rust", species="Brachypelma hamorii", place=place),
    )


@pytest.fixture
def two(street):
    """Ada and Bo, with the same tags and some of the same names, and much said."""
    street.moves_in(ADA, "Adasname", shelf_of("Quillmark", "Rackofada"))
    street.moves_in(BO, "Bo", shelf_of("Ink", "rack B"))
    for person, name in ((ADA, "Quillmark"), (BO, "Ink")):
        street.says(person, f"fed {name} 2 crickets")
        street.says(person, f"{name} dug a {'zettelwort' if person == ADA else 'deep'} burrow")
        street.says(person, f"remind me to look at {'remindword' if person == ADA else 'him'} tomorrow at 9")
        street.says(person, "pause feeding Rust until 1 June")
        street.says(person, "undo")
        street.says(person, "what is due today?")
    return street


def left_of(street, marks=MARKS):
    """(table, mark) for every mark that stands in any row of any table."""
    with street.store.reader() as connection:
        rows = {t.name: list(map(str, connection.execute(select(t)))) for t in METADATA.sorted_tables}
    return {(name, mark) for name, found in rows.items() for row in found for mark in marks if mark in row}


def everything_sent(street):
    """What the sender does once all has gone out."""
    with street.store.begin() as work:
        for row in work.outbox.waiting(street.now, 1000):
            if row.payload.get("traceless"):
                work.outbox.drop(row.id)


@pytest.fixture
def much(two):
    """Ada and Bo, and of Ada a row in every table that tells of a keeper or a shelf; Cy shares hers."""
    share(two, ADA, CY, "Cy")
    for text in (
        "watered Quillmark",
        "feed slings every 4 days",
        "rename Rust to Rusty",
        "my sister looks after the shelf from tomorrow to Sunday",
        "round",
    ):
        two.says(ADA, text)
    two.says(ADA, None, caption="photo of Quillmark", photo=[make.photo("of-zettelwort", 9, 9)])
    return two


def tables_that_tell_of(street, person):
    """The tables with a row that refers to a person or to their shelf; among the others none may."""
    with street.store.look() as work:
        keeper = work.keepers.by_contact("telegram", str(person))
    return tables_with(street, {"keeper": keeper.id, "shelf": keeper.shelf_id})


def tables_with(street, numbers):
    found = set()
    with street.store.reader() as connection:
        for name, columns in COLUMNS_OF.items():
            for column, of in columns:
                query = select(column).where(column == numbers[of]).limit(1)
                found |= {name} if connection.execute(query).first() else set()
    return found


#: The columns of each table that refer to a keeper or a shelf.
COLUMNS_OF = {
    table.name: [
        (column, key.column.table.name)
        for column in table.c
        for key in column.foreign_keys
        if key.column.table.name in {"keeper", "shelf"}
    ]
    for table in METADATA.sorted_tables
}


def test_of_a_keeper_there_is_a_row_in_every_table_with_a_keeper_or_a_shelf(much):
    assert tables_that_tell_of(much, ADA) == {name for name, columns in COLUMNS_OF.items() if columns}


def test_the_marks_stand_in_every_table_that_keeps_words_of_a_keeper(much):
    worded = {"keeper", "contact", "specimen", "place", "entry", "dialog", "prompt", "inbox", "outbox"}
    assert {name for name, _ in left_of(much)} >= worded | {"photo", "reminder", "change"}


def test_the_word_leaves_no_row_that_refers_to_the_keeper_or_their_shelf(much):
    with much.store.look() as work:
        ada = work.keepers.by_contact("telegram", str(ADA))
    much.says(ADA, "delete all my data")
    much.says(ADA, "forever")
    everything_sent(much)
    assert tables_with(much, {"keeper": ada.id, "shelf": ada.shelf_id}) == set()
    assert {name for name, _ in left_of(much)} == set()


def test_the_word_that_was_asked_for_leaves_nothing_in_any_table(two):
    asked = two.told(ADA, "please delete everything you have of me")
    assert "2 animals and" in asked
    assert "forever" in asked
    assert two.told(ADA, "forever") == say("own_data.erased")
    everything_sent(two)
    assert left_of(two) == set()


def test_what_others_have_is_row_by_row_what_it_was(two):
    before = all_rows(two.store)
    two.says(ADA, "delete all my data")
    two.says(ADA, "Forever!")
    for name, rows in all_rows(two.store).items():
        theirs = [row for row in before[name] if row in rows]
        assert [row for row in rows if row not in before[name]] == [] or name == "outbox", name
        assert theirs == [row for row in rows if row in before[name]], name
    assert "Ink" in two.told(BO, "list my animals")
    assert "2 crickets" in two.told(BO, "when did Ink last eat?")
    with two.store.look() as work:
        assert work.keepers.by_contact("telegram", str(BO)) is not None
        assert len(work.journal.entries(work.keepers.by_contact("telegram", str(BO)).shelf_id)) == 2


def test_no_other_word_deletes_anything(two):
    for word in ("forever and ever", "yes", "delete", "erase", "ok", "forever ate", "delete all my data"):
        two.says(ADA, "delete all my data")
        two.says(ADA, word)
    asked = two.last_message
    two.says(ADA, "delete all my data")
    two.says(ADA, "forever", edits=asked)
    two.says(ADA, "forever", forward_origin={"type": "hidden_user", "sender_user_name": "Eve", "date": 1})
    assert ("keeper", "Adasname") in left_of(two)


def test_the_word_alone_and_the_word_too_late_delete_nothing(two):
    two.says(ADA, "forever")
    two.says(ADA, "delete all my data")
    two.now = two.now.replace(hour=23)
    two.says(ADA, "forever")
    assert ("keeper", "Adasname") in left_of(two)


def test_the_word_of_another_keeper_deletes_nothing(two):
    two.says(ADA, "delete all my data")
    two.says(BO, "forever")
    assert ("keeper", "Adasname") in left_of(two)
    assert ("keeper", "'Bo'") in left_of(two, ("'Bo'",))


def test_keep_everything_keeps_everything(two):
    (asked,) = two.says(ADA, "forget me")
    ((label, data),) = asked.buttons
    assert label == say("own_data.keep")
    assert say("own_data.kept") in "".join(one.text for one in two.presses(ADA, data))
    two.says(ADA, "forever")
    assert ("keeper", "Adasname") in left_of(two)


def test_the_word_in_the_question_is_the_word_that_does_it():
    assert is_word("erase_for_good", say("own_data.type_it").rpartition(": ")[2])


def test_after_it_the_keeper_is_a_stranger_who_is_told_nothing(two):
    two.says(ADA, "delete all my data")
    two.says(ADA, "forever")
    assert "do not know you" in two.told(ADA, "list my animals")
    assert two.told(ADA, "list my animals") == ""


def share(street, owner, person, name):
    """A person joins a shelf."""
    with street.store.begin() as work:
        host = work.keepers.by_contact("telegram", str(owner))
        work.keepers.invite(
            host.shelf_id,
            role="partner",
            code_hash=f"code of {name}",
            by=host.id,
            expires_at=street.now.replace(year=2027),
            at=street.now,
        )
        work.keepers.redeem(
            f"code of {name}",
            name=name,
            front_end="telegram",
            address=str(person),
            settings=KeeperSettings(),
            at=street.now,
        )


def test_what_answers_to_those_who_shared_the_shelf_quote_of_it_goes_too(two):
    share(two, ADA, CY, "Cy")
    two.says(CY, "how is Quillmark?")
    two.says(CY, "list my animals")
    assert say("own_data.shared", n=1) in two.told(ADA, "delete all my data")
    two.says(ADA, "forever")
    everything_sent(two)
    left = left_of(two)
    assert {name for name, _ in left} == {
        "inbox"
    }  # what Cy wrote is Cy's, and swept like all that was handled
    assert "empty" in two.told(CY, "list my animals")


def test_what_was_logged_for_others_stays_without_a_name(two):
    with two.store.begin() as work:
        bo = work.keepers.by_contact("telegram", str(BO))
        ada = work.keepers.by_contact("telegram", str(ADA))
        change = work.journal.change(bo.shelf_id, ada.id, at=two.now, origin=f"{ADA}:1")
        work.journal.log(change, [entry("watered", "A1")], zone="UTC")
    two.says(ADA, "delete all my data")
    two.says(ADA, "forever")
    everything_sent(two)
    assert left_of(two) == set()
    with two.store.look() as work:
        left = work.keepers.get(ada.id)
        assert left.is_erased
        assert work.journal.entries(bo.shelf_id)[0].entry.kind.value == "watered"


def test_what_was_written_in_a_group_of_others_goes_and_what_others_wrote_there_stays(two):
    share(two, BO, ADA, "A")
    two.says(BO, "/start", where=GROUP)
    two.takes(make.says("@burrow_test_bot is zettelwort fine?", user=ADA, where=GROUP))
    two.takes(make.says("@burrow_test_bot how is Ink?", user=BO, where=GROUP))
    assert ("inbox", "zettelwort") in left_of(two)
    two.says(ADA, "delete all my data")
    two.says(ADA, "forever")
    everything_sent(two)
    assert left_of(two) == set()
    assert ("inbox", "how is Ink?") in left_of(two, ("how is Ink?",))


def test_in_a_group_nothing_is_deleted_or_sent(two):
    two.says(ADA, "/start", where=GROUP)
    for text in ("@burrow_test_bot delete all my data", "@burrow_test_bot export my data"):
        (answer,) = two.takes(make.says(text, user=ADA, where=GROUP))
        assert (answer.text, answer.file) == (say("own_data.alone"), b"")


def test_an_address_of_the_same_digits_at_another_front_end_is_somebody_else(two):
    with two.store.begin() as work:
        dee = work.keepers.create("Dee", KeeperSettings(), at=two.now)
        work.keepers.link(dee.id, "elsewhere", str(ADA))
        work.inbox.put("elsewhere", 1, chat=str(ADA), payload={"of": "Dee"}, at=two.now)
        work.outbox.put(keeper_id=None, chat=str(ADA), method="say", payload={"to": "Dee"}, at=two.now)
        work.outbox.put(keeper_id=dee.id, chat=str(ADA), method="say", payload={"to": "Dee"}, at=two.now)
    two.says(ADA, "delete all my data")
    two.says(ADA, "forever")
    rows = all_rows(two.store)
    assert [row.payload for row in rows["inbox"] if row.source == "elsewhere"] == [{"of": "Dee"}]
    assert [row.payload for row in rows["outbox"] if row.method == "say"] == [{"to": "Dee"}] * 2


# --- all of it in one file


def test_the_file_holds_all_that_was_told_and_nothing_of_others(two):
    sent = two.says(ADA, "export my data")
    whole = json.loads(sent[-1].file)
    assert whole["keeper"]["name"] == "Adasname"
    assert [card["name"] for card in whole["specimens"]] == ["Quillmark", "Rust"]
    assert {entry["kind"] for entry in whole["journal"]} == {"fed", "note"}
    assert "remindword" in json.dumps(whole["reminders"])
    for mark in MARKS:
        assert mark.encode() in sent[-1].file, mark
    assert b"Ink" not in sent[-1].file
    assert "2 animals and 2 entries" in sent[0].text


def test_what_was_taken_back_is_in_the_file_too(two):
    two.says(ADA, "Rust weighs 12.5 g")
    two.says(ADA, "undo")
    whole = json.loads(two.says(ADA, "export my data")[-1].file)
    assert [(entry["specimens"], entry["weight_g"]) for entry in whole["taken_back"]] == [(["A2"], 12.5)]


#: Under which part of the file a table's rows are; or why they are in none.
WHERE_IN_THE_FILE = {
    "keeper": "settings",
    "contact": "keeper",
    "specimen": "specimens",
    "entry": "journal",
    "supersession": "taken_back",
    "schedule": "how_often",
    "reminder": "reminders",
    "reminder_specimen": "reminders",
    "hold": "holds",
    "photo": "photos",
    "place": "places",
    "membership": "shared_with",
    "invite": "invitations",
    "handover": "handovers",
    "occurrence": "rounds",
    "shelf": "nothing that was told: whose it is, and how often it was changed",
    "change": "nothing that was told: when entries were made, and which of them together",
    "alteration": "said in the specimens, as it is now",
    "state": "worked out of the journal",
    "news": "nothing that was told: which changes others have heard of",
    "dialog": "the messages of the last days once more, which the answer says are left out",
    "prompt": "the messages of the last days once more, which the answer says are left out",
    "inbox": "the messages of the last days, which the answer says are left out",
    "outbox": "the messages of the last days, which the answer says are left out",
    "bookmark": "of nobody",
}


def a_full_life(two):
    """Ada with something in every table, and photos, one of them of what she took back."""
    two.says(ADA, "Rust weighs 12.5 g")
    two.says(ADA, "undo")
    two.says(ADA, "feed slings every 3 days")
    two.says(ADA, "pause feeding Quillmark until 1 July")
    share(two, ADA, CY, "Cy")
    with two.store.begin() as work:
        ada = work.keepers.by_contact("telegram", str(ADA))
        settings = replace(ada.settings, delivery_weekday=2, quiet_until=two.now)
        work.keepers.save_settings(ada.id, settings)
        period = {"first": date(2026, 6, 1), "last": date(2026, 6, 9)}
        work.handovers.begin(
            ada.shelf_id,
            by=ada.id,
            called="Deesname",
            **period,
            code_hash="h",
            expires_at=two.now,
            at=two.now,
        )
        work.rounds.open_(ada.id, ada.shelf_id, two.now.date(), due_at=two.now, tasks=[], at=two.now)
        for number in (1, 2):
            change = work.journal.change(ada.shelf_id, ada.id, at=two.now, origin=None)
            photo = work.photos.add(change, "A1", reference=f"ref{number}", path=None, at=two.now)
            path = f"{ada.shelf_id}/{photo}.jpg"
            work.photos.kept(photo, path, (1, 1))
            if work.album is not None:
                work.album.write(path, b"invented picture %d" % number)
        work.journal.undo(change, at=two.now)


def files_sent(two):
    """By their names' ends, what is sent as files and was not handed over yet."""
    with two.store.look() as work:
        named = [row.payload.get("file") for row in work.outbox.waiting(two.now, 1000)]
    return {Path(one[1]).suffix: Path(one[1]).read_bytes() for one in named if one}


def test_every_table_is_in_the_file_or_is_known_to_say_nothing_of_its_own(two):
    a_full_life(two)
    two.says(ADA, "export my data")
    whole = json.loads(files_sent(two)[".json"])
    assert {table.name for table in METADATA.sorted_tables} == set(WHERE_IN_THE_FILE)
    parts = {part for part in WHERE_IN_THE_FILE.values() if " " not in part and part != "reminders"}
    assert {part for part in parts if not whole[part]} == set()
    assert set(whole["settings"]) == {one.name for one in fields(KeeperSettings)}
    assert (whole["settings"]["delivery_weekday"], whole["settings"]["quiet_until"][:10]) == (2, "2026-05-14")
    assert whole["handovers"] == [
        {"called": "Deesname", "first_day": "2026-06-01", "last_day": "2026-06-09", "settled": False}
    ]
    assert whole["places"] == [{"name": "Rackofada"}]
    assert [(photo["reference"], bool(photo["taken_back"])) for photo in whole["photos"]] == [
        ("ref2", True),
        ("ref1", False),
    ]


@pytest.mark.parametrize(("room", "fit"), [(None, 2), (20, 1), (5, 0)])
def test_the_photos_come_in_a_file_of_their_own_the_newest_first_as_far_as_they_fit(
    two, monkeypatch, room, fit
):
    a_full_life(two)
    if room is not None:
        monkeypatch.setattr(kept_beside, "_MOST_ZIPPED", room)
    told = two.told(ADA, "export my data")
    sent = files_sent(two)
    whole = json.loads(sent[".json"])
    paths = [photo["file"] for photo in whole["photos"]]
    if two.store.album is None:  # a server has no place beside it
        assert (paths, set(sent)) == ([None, None], {".json"})
        return
    assert (say("own_data.photos_left", photos=f"{2 - fit} photo" + "s" * (fit == 0)) in told) == (fit < 2)
    assert (".zip" in sent) == (say("own_data.photos_too") in told) == (fit > 0)
    if fit:
        with ZipFile(BytesIO(sent[".zip"])) as zipped:
            assert zipped.testzip() is None
            assert zipped.namelist() == paths[:fit]
            assert zipped.read(paths[0]) == b"invented picture 2"


def test_the_file_is_gone_once_it_was_sent(two):
    two.says(ADA, "export my data")
    with two.store.look() as work:
        (file,) = [
            Path(r.payload["file"][1])
            for r in work.outbox.waiting(two.now, 1000)
            if "document" in str(r.payload)
        ]
    assert file.parent.stat().st_mode & 0o077 == 0
    passing.drop(file)
    assert not file.exists()
