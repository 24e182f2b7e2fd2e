"""Whatever keepers do, each sees what they would see if there were nobody else.

Two keepers with the same tags, names, species and places, and a stranger, do what Hypothesis thinks of:
messages, edits (also of the other's message numbers), presses (also of the other's buttons), labels scanned,
each other's invitations opened, forwarded messages, inline queries, groups, days that pass. The same is
played to each keeper alone, on a store of their own: every reply, label, file and count has to be the same
there. And the words that only one of them ever says or is called are looked for in all that others are shown.
"""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from bot.telegram import words
from bot.telegram.deep_link import payload_for_tag
from bot.terms import Specimen, Stage
from storage import Store
from tests.apart.street import Street
from tests.telegram import updates as make

ADA, BO, EVE = 71001, 72002, 79009
GROUP = {ADA: -74001, BO: -74002}
#: Whom only this keeper has, what only this keeper says: name, place, word, dealer, the keeper's own name.
SECRET = {
    ADA: ("Quillmark", "Larder", "zettelwort", "Hollowell", "Adasname"),
    BO: ("Ottershaw", "Scullery", "fennelgrub", "Brackwater", "Bosname"),
}
INVITED = re.compile(r"start=i[\w-]+")
#: Codes of invitations, in a link or alone: drawn anew each time.
CODE = re.compile(r"i?[\w-]{32}(?![\w-])")

TEXTS = (
    *("fed {0} 2 crickets", "fed Rust a roach", "everyone ate", "A1 refused", "Ink molted yesterday"),
    *("{0} dug a {2} burrow", "Rust weighs 12 g", "watered everyone", "A1 sealed her burrow", "undo", "redo"),
    *("no, yesterday", "not Rust, Ink", "yes", "no", "1", "A2", "more", "why?", "cancel", "help", "settings"),
    *("list my animals", "how is Rust?", "how is A1?", "when did A1 last eat?", "what is due today?"),
    *("how many tarantulas do I have?", "who is sealed?", "where is A1?", "history of A1", "show my notes"),
    *("anything to worry about?", "what did everyone eat this month?", "who has not eaten for 3 days?"),
    *(
        "remind me to {2} tomorrow at 9",
        "list my reminders",
        "end reminder 1",
        "pause feeding A1",
        "resume A1",
    ),
    *(
        "rename Rust to {0}x",
        "move Ink to {1}",
        "retag A2 to A9",
        "add animal {0}z, Brachypelma hamorii, {1}",
    ),
    *(
        "{0}z from {3} for 20 EUR",
        "retire Ink",
        "export my data",
        "delete all my data",
        "feed A1 every 9 days",
    ),
    *("round at 7:30", "my time zone is Europe/Dublin", "what does A1 usually eat?", "xyzzy", "🕷️", "/invite"),
    *("my sister looks after the shelf from tomorrow to Sunday", "who looks after the shelf?"),
)

keepers = st.sampled_from([ADA, BO])
anyone = st.sampled_from([ADA, ADA, BO, BO, EVE])
texts = st.integers(0, len(TEXTS) - 1)
some = st.integers(0, 40)
steps = st.one_of(
    st.tuples(st.just("says"), anyone, texts),
    st.tuples(st.just("says"), keepers, texts),
    st.tuples(st.just("presses"), keepers, some),
    st.tuples(st.just("presses what the other was shown"), anyone, some),
    st.tuples(st.just("edits"), keepers, some, texts),
    st.tuples(st.just("edits what the other wrote"), keepers, some, texts),
    st.tuples(st.just("answers what the other was shown"), keepers, some, texts),
    st.tuples(st.just("scans"), anyone, st.sampled_from(["A1", "A2", "B1", "Z9"])),
    st.tuples(st.just("opens the other's invitation"), keepers),
    st.tuples(st.just("forwards"), anyone, texts),
    st.tuples(st.just("asks inline"), anyone, texts),
    st.tuples(st.just("writes in the own group"), keepers, texts),
    st.tuples(st.just("writes in the other's group"), anyone, texts),
    st.tuples(st.just("a day passes"), st.just(0)),
)


#: Steps that leave a message behind which may be edited.
WRITES = {"says", "forwards", "answers what the other was shown"}


def shelf_of(person):
    name, place, *_ = SECRET[person]
    return (
        Specimen(tag="A1", name=name, species="Grammostola pulchra", stage=Stage.ADULT, place=place),
        Specimen(tag="A2", name="Rust", species="Brachypelma hamorii", stage=Stage.ADULT, place="rack 1"),
        Specimen(tag="B1", name="Ink", species="Brachypelma hamorii", stage=Stage.JUVENILE, place="rack 1"),
    )


class Play:
    """One street and those of the cast who live there; the steps of others are left out, and take as long."""

    def __init__(self, store, cast):
        self.street, self.cast = Street(store), cast
        self.shown = {person: [] for person in (ADA, BO, EVE)}
        self.wrote = {person: [] for person in (ADA, BO, EVE)}
        self.by_others_in = []
        self.at = self.street.now
        for person in (ADA, BO):
            if person in cast:
                self.street.now = self.at
                self.street.moves_in(person, SECRET[person][4], shelf_of(person))
                self._notes(person, self.street.says(person, "/start", where=GROUP[person]))

    def does(self, step):
        what, person, *rest = step
        self.at += timedelta(minutes=5) if person else timedelta(days=1)
        self.street.now = self.at
        if what == "a day passes":
            for one in self.street.ticks():
                self._notes(next(p for p in (ADA, BO) if one.chat in (p, GROUP[p])), [one])
        elif person in self.cast:
            getattr(self, "_" + what.replace(" ", "_").replace("'", ""))(person, *rest)
        elif what in WRITES:
            self.wrote[person].append(900_000 + len(self.wrote[person]))  # as many that nobody here knows

    def _notes(self, person, seen):
        self.shown[person] += seen

    def _text(self, person, index):
        return TEXTS[index].format(*SECRET.get(person, ("Rust", "rack 1", "nothing", "nobody", "Eve")))

    def _other(self, person):
        return BO if person == ADA else ADA

    def _says(self, person, index, **more):
        self._notes(person, self.street.says(person, self._text(person, index), **more))
        self.wrote[person].append(self.street.last_message)

    def _buttons(self, person):
        return [data for one in self.shown[person] for _, data in one.buttons]

    def _presses(self, person, number):
        mine = self._buttons(person)
        self._notes(person, self.street.presses(person, mine[number % len(mine)] if mine else "0:0"))

    def _presses_what_the_other_was_shown(self, person, number):
        theirs = self._buttons(self._other(person)) or ["900000:0"]
        self._notes(person, self.street.presses(person, theirs[number % len(theirs)]))

    def _edits(self, person, number, index):
        mine = self.wrote[person] or [800_000]
        text = self._text(person, index)
        self._notes(person, self.street.says(person, text, edits=mine[number % len(mine)]))

    def _edits_what_the_other_wrote(self, person, number, index):
        theirs = self.wrote[self._other(person)] or [899_999]  # no number that is written later
        text = self._text(person, index)
        self._notes(person, self.street.says(person, text, edits=theirs[number % len(theirs)]))

    def _answers_what_the_other_was_shown(self, person, number, index):
        self._says(person, index, reply_to_message=make.message("?", user=person, number=900_000 + number))

    def _scans(self, person, tag):
        self._notes(person, self.street.says(person, f"/start {payload_for_tag(tag)}"))

    def _opens_the_others_invitation(self, person):
        links = [INVITED.search(one.text) for one in self.shown[self._other(person)]]
        code = next((found[0].removeprefix("start=") for found in links if found), "iunknown")
        self._notes(person, self.street.says(person, f"/start {code}"))

    def _forwards(self, person, index):
        origin = {"type": "hidden_user", "sender_user_name": "Somebody", "date": 1}
        self._says(person, index, forward_origin=origin)

    def _asks_inline(self, person, index):
        query = {"id": "1", "from": make.person(person), "query": self._text(person, index), "offset": ""}
        self._notes(person, self.street.takes({"inline_query": query}))

    def _writes_in_the_own_group(self, person, index):
        text = f"@{make.BOT['username']} {self._text(person, index)}"
        self._notes(person, self.street.says(person, text, where=GROUP[person]))

    def _writes_in_the_others_group(self, person, index):
        text = f"@{make.BOT['username']} {self._text(person, index)}"
        self.by_others_in += self.street.says(person, text, where=GROUP[self._other(person)])


def as_read(seen):
    """What a person can read of what they were shown; an invitation's code is another each time."""
    return [(CODE.sub("…", one.text), tuple(label for label, _ in one.buttons), one.file) for one in seen]


def played(store, done, cast):
    play = Play(store, cast)
    for step in done:
        play.does(step)
    return play


def nothing_is_seen_of_others(open_store, done):
    together = played(open_store(), done, {ADA, BO, EVE})
    together.street.store.close()
    for person in (ADA, BO):
        other = together._other(person)
        seen = "\n".join(one.everything for one in (*together.shown[person], *together.shown[EVE]))
        assert [word for word in (*SECRET[other], str(other)) if word in seen] == []
    guests = {words.group_already_linked(), words.not_yours(), ""}
    assert {one.text for one in together.by_others_in} <= guests
    for person in (ADA, BO):
        alone = played(open_store(), done, {person})
        alone.street.store.close()
        assert as_read(together.shown[person]) == as_read(alone.shown[person])
    said = {one.text for one in together.shown[EVE]}
    assert said <= {words.stranger(), words.not_yours(), words.invite_refused(), words.too_many_tries(), ""}


@pytest.fixture(scope="module", autouse=True)
def own_folder(tmp_path_factory):
    """Files on their way lie where the tests may leave them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tempfile.tempdir", str(tmp_path_factory.mktemp("passing")))
        yield


RELAXED = dict.fromkeys(("deadline",)) | {"suppress_health_check": list(HealthCheck)}
ONE_OF_EACH = [
    *(("says", person, index) for index in range(0, len(TEXTS), 2) for person in (ADA, BO)),
    *(
        ("presses what the other was shown", person, number)
        for number in range(12)
        for person in (ADA, BO, EVE)
    ),
    ("opens the other's invitation", BO),
    ("a day passes", 0),
    *(("says", person, index) for index in range(1, len(TEXTS), 2) for person in (BO, ADA)),
    *(("edits what the other wrote", person, 3, 1) for person in (ADA, BO)),
    *(("writes in the other's group", person, 21) for person in (ADA, BO, EVE)),
    ("a day passes", 0),
]

#: Edits of what the other wrote, before it was written and after.
EDITED_BEFORE_AND_AFTER = [
    ("edits what the other wrote", BO, 0, 0),
    ("says", ADA, 0),
    ("edits what the other wrote", BO, 0, 0),
]


@settings(max_examples=25, **RELAXED)
@given(done=st.lists(steps, min_size=3, max_size=14))
@example(done=ONE_OF_EACH)
@example(done=EDITED_BEFORE_AND_AFTER)
def test_each_keeper_sees_what_they_would_see_alone(done):
    nothing_is_seen_of_others(lambda: Store.open("sqlite://"), done)


def test_each_keeper_sees_what_they_would_see_alone_on_postgresql(server):
    @settings(max_examples=10, **RELAXED)
    @given(done=st.lists(steps, min_size=3, max_size=12))
    @example(done=ONE_OF_EACH)
    def on_postgresql(done):
        nothing_is_seen_of_others(lambda: Store.open(server.cleared()), done)

    on_postgresql()
