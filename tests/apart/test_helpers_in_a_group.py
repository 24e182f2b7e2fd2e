"""A helper who reads along in the group of a shelf: what the owner logged there stays the owner's."""

from datetime import timedelta

import pytest

from bot.conversation.texts import say
from bot.telegram.deep_link import payload_for_invite
from storage.codes import hash_of
from tests.apart.test_apart import CODE
from tests.apart.test_erasing import ADA, BO, CY, GROUP, shelf_of
from tests.storage.given import entry

ME = "@burrow_test_bot"


@pytest.fixture
def helped(street):
    """Ada's shelf and her group; Bo looks after it from today on, and Cy has a shelf of his own."""
    street.moves_in(ADA, "Adasname", shelf_of("Quillmark", "Rackofada"))
    street.moves_in(CY, "Cy", shelf_of("Ink", "rack C"))
    street.says(ADA, "/start", where=GROUP)
    told = street.told(ADA, "my sister looks after the shelf from today to Sunday")
    code = CODE.findall(told)[-1]
    street.says(BO, f"/start {payload_for_invite(code)}")
    return street


def meals(street, person=ADA):
    with street.store.look() as work:
        shelf = work.keepers.by_contact("telegram", str(person)).shelf_id
        return [(row.entry.prey, row.entry.count) for row in work.journal.entries(shelf)]


def in_reply(street, person, text):
    """What a person writes in the group in answer to the message before."""
    answered = {"message_id": street.last_message, "date": 1, "chat": {"id": GROUP, "type": "group"}}
    return street.told(person, f"{ME} {text}", where=GROUP, reply_to_message=answered)


@pytest.mark.parametrize("text", ["undo", "make it 3", "no, yesterday"])
def test_a_helper_who_answers_the_owners_message_changes_nothing_of_it(helped, text):
    helped.says(ADA, f"{ME} fed Quillmark 2 crickets", where=GROUP)
    assert in_reply(helped, BO, text) == say("handover.limited", keeper="Adasname")
    assert meals(helped) == [("cricket", 2)]


def test_a_helper_may_take_back_their_own_so_and_the_owner_a_helpers(helped):
    helped.says(BO, f"{ME} fed Quillmark 2 crickets", where=GROUP)
    in_reply(helped, BO, "undo")
    assert meals(helped) == []
    helped.says(BO, f"{ME} fed Quillmark 3 crickets", where=GROUP)
    in_reply(helped, ADA, "undo")
    assert meals(helped) == []


def test_who_shares_a_shelf_and_has_their_own_changes_only_what_is_on_their_own(helped):
    with helped.store.begin() as work:
        cy, ada = (work.keepers.by_contact("telegram", str(person)) for person in (CY, ADA))
        work.keepers.link(cy.id, "telegram", "-75001")
        change = work.journal.change(ada.shelf_id, ada.id, at=helped.now, origin="-75001:3")
        work.journal.log(change, [entry("fed", "A1", prey="cricket", count=2)], zone="UTC")
    helped.last_message = 3
    answered = {"message_id": 3, "date": 1, "chat": {"id": -75001, "type": "group"}}
    helped.says(CY, f"{ME} undo", where=-75001, reply_to_message=answered)
    assert meals(helped) == [("cricket", 2)]


def test_a_group_is_never_shown_a_link_that_lets_somebody_in(street):
    street.moves_in(ADA, "Adasname", shelf_of("Quillmark", "Rackofada"))
    street.says(ADA, "/start", where=GROUP)
    told = street.told(ADA, f"{ME} my sister looks after the shelf from today to Sunday", where=GROUP)
    assert "Your sister looks after your shelf" in told
    told += street.told(ADA, f"{ME} new link", where=GROUP) + street.told(ADA, "/invite", where=GROUP)
    assert told.count(say("handover.link_alone")) == 2
    assert CODE.findall(told) == []
    code = CODE.findall(street.told(ADA, "new link"))[-1]
    street.says(BO, f"/start {payload_for_invite(code)}")
    assert "Adasname" in street.told(BO, "help") + street.told(BO, "end reminder 1")


def test_a_link_that_was_sent_stays_good_though_another_is_asked_for_in_the_group(street):
    street.moves_in(ADA, "Adasname", shelf_of("Quillmark", "Rackofada"))
    street.says(ADA, "/start", where=GROUP)
    told = street.told(ADA, "my sister looks after the shelf from today to Sunday")
    street.says(ADA, f"{ME} new link", where=GROUP)
    street.says(BO, f"/start {payload_for_invite(CODE.findall(told)[-1])}")
    assert "Quillmark" in street.told(BO, "how is Quillmark?")


def test_a_former_helper_who_is_invited_to_keep_a_shelf_keeps_one(helped):
    helped.now += timedelta(days=10)
    assert say("handover.over") in helped.told(BO, "how is Quillmark?")
    with helped.store.begin() as work:
        ada = work.keepers.by_contact("telegram", str(ADA))
        work.keepers.invite(
            None,
            role="owner",
            code_hash=hash_of("c" * 32),
            by=ada.id,
            expires_at=helped.now.replace(year=2027),
            at=helped.now,
        )
    assert say("greet.hello") in helped.told(BO, f"/start {payload_for_invite('c' * 32)}")
    (asked,) = helped.says(BO, "add animal Ink, Brachypelma hamorii")
    _, sure = helped.presses(BO, asked.buttons[0][1])
    helped.presses(BO, sure.buttons[0][1])
    helped.says(BO, "fed Ink 2 crickets")
    assert meals(helped, BO) == [("cricket", 2)]
    assert CODE.findall(helped.told(BO, "/invite"))
