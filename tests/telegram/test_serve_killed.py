"""``serve`` over HTTP against the stand-in: nothing is lost or logged twice, whenever it is killed."""

import random
import signal
from collections import Counter

import pytest

from tests.telegram.run_serve import POINTS
from tests.telegram.stand_in import INTERNAL, LOST, LOST_AFTER_DELIVERY, too_many


@pytest.mark.parametrize("point", POINTS)
async def test_killed_at_any_instant_an_entry_is_there_once_and_its_reply_comes(api, serving, point):
    await serving.start(KILL_AT=point)
    api.says("fed Ink")
    assert await serving.ends() == -signal.SIGKILL
    assert serving.flag.exists()
    await serving.start(KILL_AT=point)
    await api.until(lambda: "stored fed Ink" in api.texts())
    api.says("and then")
    await api.until(lambda: api.texts()[-1] == "stored and then")
    assert await serving.stop() == 0
    assert serving.notes() == ["fed Ink", "and then"]
    assert api.texts().count("stored fed Ink") <= 2
    assert api.waiting == 0


async def test_killed_at_random_while_telegram_is_faulty_nothing_is_lost_or_double_or_out_of_order(
    api, serving
):
    chance = random.Random(20260514)
    lost = 0
    said = {user: [f"{user} entry {n}" for n in range(8)] for user in (7, 8, 9)}
    left = {user: list(texts) for user, texts in said.items()}
    for _ in range(4):
        await serving.start()
        for user, texts in left.items():
            for _ in range(2):
                api.says(texts.pop(0), user=user)
        for method in ("getUpdates", "sendMessage"):
            faults = chance.choices((INTERNAL, LOST, LOST_AFTER_DELIVERY, too_many(1)), k=2)
            api.fails(method, *faults)
            lost += faults.count(LOST_AFTER_DELIVERY)
        seen = api.count("sendMessage")
        await api.until(lambda seen=seen: api.count("sendMessage") > seen + chance.randrange(5))
        await serving.kill()
    await serving.start()

    def all_answered():
        return all(f"stored {text}" in api.texts(user) for user, texts in said.items() for text in texts)

    await api.until(all_answered)
    assert await serving.stop() == 0
    notes = serving.notes()
    for user, texts in said.items():
        assert [note for note in notes if note.startswith(f"{user} ")] == texts
        repeats = Counter(api.texts(user))
        # at most one for each kill, and for each answer that was lost after delivery
        assert sum(repeats.values()) - len(repeats) <= 4 + lost
