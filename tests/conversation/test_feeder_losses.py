"""Feeders that die in the box are taken off what it holds; where that is not sure, it is asked."""


def held(chat):
    return chat.told("how many crickets do I have").split("\n")[1:-1]


def test_feeders_that_died_are_taken_off_the_box(chat):
    chat.told("bought 100 small crickets")
    assert chat.told("30 of the crickets died") == "Counted 70 small crickets in the feeder box."
    assert held(chat) == ["70 small crickets"]
    chat.told("undo")
    assert held(chat) == ["100 small crickets"]


def test_the_same_feeders_bought_twice_are_one_line(chat):
    chat.told("bought 100 small crickets on 12 May")
    chat.told("bought 50 small crickets")
    assert held(chat) == ["150 small crickets"]


def test_more_than_the_box_holds_is_asked_about(chat):
    chat.told("bought 100 small crickets")
    assert "how many are left?" in chat.told("300 crickets died")
    assert held(chat) == ["100 small crickets"]


def test_of_which_size_they_were_is_asked_where_the_box_has_several(chat):
    chat.told("bought 100 small crickets")
    chat.told("bought 20 large crickets")
    assert "how many are left?" in chat.told("10 crickets died")
    assert chat.told("10 large crickets died") == "Counted 10 large crickets in the feeder box."
