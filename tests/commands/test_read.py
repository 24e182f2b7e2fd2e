"""``read``: a line of JSON for every line of input, whatever the line holds."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

SHELF = {
    "keeper": {"zone": "Europe/Oslo", "units": "metric", "date_order": "dmy"},
    "specimens": [
        {"tag": "K1", "name": "Soot", "species": "Grammostola pulchra", "sex": "female", "stage": "adult"},
        {"tag": "K2", "name": "Wren", "species": "Davus pentaloris", "aka": ["the horned one"]},
    ],
}


@pytest.fixture
def shelf(tmp_path):
    path = tmp_path / "shelf.json"
    path.write_text(json.dumps(SHELF), encoding="utf-8")
    return path


def test_a_line_of_plain_text_is_read_as_of_now(burrowbell, shelf):
    told = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14T19:30", input="fed Soot\n")
    assert told.status == 0
    assert told.lines == [
        {
            "text": "fed Soot",
            "reading": "entries",
            "entries": [{"kind": "fed", "specimens": ["K1"], "day": "2026-05-14"}],
        }
    ]


def test_a_line_of_json_brings_its_own_time(burrowbell, shelf):
    line = json.dumps({"id": 7, "text": "fed the horned one", "now": "2026-03-02T08:00", "gold": {}})
    (answer,) = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14", input=line).lines
    assert answer["text"] == "fed the horned one"
    assert answer["entries"] == [{"kind": "fed", "specimens": ["K2"], "day": "2026-03-02"}]


def test_a_time_with_an_offset_is_turned_to_the_keepers_zone(burrowbell, shelf):
    line = json.dumps({"text": "fed Soot", "now": "2026-05-14T23:30+00:00"})
    (answer,) = burrowbell("read", "--shelf", shelf, input=line).lines
    assert answer["entries"][0]["day"] == "2026-05-15"


LINES = [
    pytest.param("", "", id="blank"),
    pytest.param("   ", "   ", id="spaces"),
    pytest.param('{"txt": "fed Soot"}', '{"txt": "fed Soot"}', id="an object with no text"),
    pytest.param('{"text": 5}', '{"text": 5}', id="a text that is no text"),
    pytest.param('["fed Soot"]', '["fed Soot"]', id="a list"),
    pytest.param('{"text": "fed Soot"', '{"text": "fed Soot"', id="an open object"),
    pytest.param('"fed Soot"', '"fed Soot"', id="a string"),
    pytest.param("[" * 5000, "[" * 5000, id="deeply nested"),
    pytest.param('{"text": "fed Soot", "now": "noon"}', "fed Soot", id="a time that is none"),
    pytest.param('{"text": "x", "now": "0001-01-01T00:00+14:00"}', "x", id="a time out of reach"),
    pytest.param('{"text": "\\ud800"}', "\ud800", id="half a character"),
    pytest.param("a" * 5000, "a" * 5000, id="5,000 letters"),
    pytest.param("<b>fed</b> & Soot\x1b[31m\x00\x07", "<b>fed</b> & Soot\x1b[31m\x00\x07", id="control"),
    pytest.param("fed Soot\u2028and Wren\x85too", "fed Soot\u2028and Wren\x85too", id="other separators"),
]


@pytest.mark.parametrize(("line", "text"), LINES)
def test_any_line_gives_one_line_and_its_text_back(burrowbell, shelf, line, text):
    told = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14", input=f"{line}\nfed Soot\n")
    assert (told.status, told.err) == (0, "")
    assert told.out.count("\n") == 2
    assert [answer["text"] for answer in map(json.loads, told.out.split("\n")[:2])] == [text, "fed Soot"]


def test_bytes_that_are_no_text_give_a_line_too(burrowbell, shelf):
    told = burrowbell("read", "--shelf", shelf, input=b"\xff\xfe fed\r\nfed Soot")
    assert told.status == 0
    assert [answer["text"] for answer in told.lines] == ["\ufffd\ufffd fed", "fed Soot"]


def test_no_line_gives_no_line(burrowbell, shelf):
    assert burrowbell("read", "--shelf", shelf, input="").out == ""


@given(st.lists(st.text().map(lambda text: text.replace("\n", " ")), max_size=4))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
def test_there_are_as_many_lines_out_as_in(burrowbell, shelf, lines):
    raw = "".join(f"{line}\n" for line in lines).encode("utf-8", errors="replace")
    told = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14", input=raw)
    assert told.status == 0
    assert len(told.lines) == len(lines)
    assert all(answer["reading"] for answer in told.lines)


def test_explain_tells_how_it_was_taken(burrowbell, shelf):
    plain = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14", input="fed Soot\n").lines[0]
    (told,) = burrowbell(
        "read", "--shelf", shelf, "--now", "2026-05-14", "--explain", input="fed Soot\n"
    ).lines
    assert {key: value for key, value in told.items() if key != "explain"} == plain
    assert all(isinstance(line, str) for line in told["explain"])


def test_a_reader_that_trips_costs_one_line_not_the_rest(burrowbell, shelf, monkeypatch):
    from bot.commands import reading as command

    real = command.read

    def trips(text, *arguments, **more):
        if text == "boom":
            raise ZeroDivisionError
        return real(text, *arguments, **more)

    monkeypatch.setattr(command, "read", trips)
    told = burrowbell("read", "--shelf", shelf, "--now", "2026-05-14", input="boom\nfed Soot\n")
    assert told.status == 0
    assert [answer["reading"] for answer in told.lines] == ["unclear", "entries"]


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        pytest.param("{", "Expecting property name", id="not json"),
        pytest.param('{"specimens": [{"tag": "K1"}]}', "specimen 1: species is missing", id="no species"),
        pytest.param("\xff", "expected a JSON object", id="other text"),
    ],
)
def test_a_shelf_file_that_is_none_is_refused_in_one_line(burrowbell, tmp_path, content, problem):
    path = tmp_path / "bad.json"
    path.write_text(json.dumps(content) if content == "\xff" else content, encoding="utf-8")
    told = burrowbell("read", "--shelf", path, input="fed Soot\n")
    assert (told.status, told.out) == (2, "")
    assert told.err.startswith(f"burrowbell: {path}: {problem}")
    assert told.err.count("\n") == 1


def test_a_shelf_file_that_is_not_there_is_refused(burrowbell):
    told = burrowbell("read", "--shelf", "nowhere.json", input="fed Soot\n")
    assert told.status == 2
    assert "'nowhere.json' does not exist" in told.err
