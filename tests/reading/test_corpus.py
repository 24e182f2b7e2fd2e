"""The labelled messages: how many are read exactly, and which are read wrongly.

The floors are what the reader reaches; they go up with it and never down. ``contract`` are the reading
contract's own messages, ``siblings`` and ``geschwister`` were written beside the words they
try; ``ledger``, ``racks``, ``loft``,
``round``, ``evening``, ``cellar``, ``bench``, ``hallway``, ``landing``, ``counter``, ``porchlight``,
``nightbus``, ``linnet`` were labelled before the reader was tried on them, by somebody who knew it; the
others were written by people who did not.
"""

from collections import Counter

import pytest

from tests.reading.corpus import FOLDER, Verdict, corpus, judged

#: For each corpus the least share read exactly, and the most messages read wrongly, in per cent.
FLOORS = {
    "contract": (100.0, 0.0),
    "en/contract": (94.6, 0.0),
    "en/tubs": (93.8, 0.0),
    "en/attic": (95.5, 0.0),
    "en/contract_2": (96.0, 0.0),
    "en/tubs_2": (92.1, 0.0),
    "en/attic_2": (97.4, 0.0),
    "en/evening": (100.0, 0.0),
    "en/ledger": (98.1, 0.0),
    "en/loft": (95.5, 0.0),
    "en/racks": (97.3, 0.0),
    "en/round": (100.0, 0.0),
    "en/siblings": (100.0, 0.0),
    "en/cellar": (98.9, 0.0),
    "en/bench": (95.9, 0.0),
    "en/hallway": (98.1, 0.0),
    "de/kalender": (100.0, 0.0),
    "es/calendario": (100.0, 0.0),
    "en/chaffinch": (72.6, 0.7),
    "en/cowbird": (69.3, 2.0),
    "en/dipper": (73.0, 0.0),
    "en/sanderling": (78.0, 1.4),
    "en/redstart": (90.6, 0.0),
    "en/nuthatch": (92.0, 0.0),
    "en/skylark": (90.0, 0.0),
    "en/fulmar": (85.3, 0.0),
    "en/ptarmigan": (80.0, 0.0),
    "en/corncrake": (82.6, 0.0),
    "en/pochard": (92.6, 0.0),
    "en/teal": (88.0, 0.0),
    "en/gannet": (88.6, 0.7),
    "en/petrel": (69.3, 0.7),
    "en/knot": (93.3, 0.7),
    "en/turnstone": (85.3, 0.0),
    "en/bittern": (87.5, 0.0),
    "en/noddy": (91.8, 0.0),
    "en/jackdaw": (86.2, 0.0),
    "en/dotterel": (76.2, 1.3),
    "en/hoopoe": (95.6, 0.0),
    "en/phalarope": (90.0, 0.7),
    "en/smew": (85.0, 0.7),
    "en/whimbrel": (97.6, 0.0),
    "en/shearwater": (99.3, 0.0),
    "en/oystercatcher": (88.0, 0.0),
    "en/razorbill": (97.6, 0.0),
    "en/guillemot": (88.4, 0.0),
    "en/gadwall": (99.3, 0.0),
    "en/wigeon": (96.0, 0.0),
    "en/garganey": (97.3, 0.0),
    "en/shoveler": (96.6, 0.0),
    "en/stonechat": (77.0, 0.0),
    "en/goosander": (76.0, 0.0),
    "de/hafen": (81.6, 0.0),
    "es/ladera": (93.3, 0.0),
    "de/ufer": (90.9, 0.0),
    "es/sierra": (91.8, 0.0),
    "en/dunlin": (92.0, 0.0),
    "en/avocet": (90.6, 0.0),
    "de/gasse": (80.0, 0.0),
    "es/barrio": (80.9, 0.0),
    "de/dorf": (95.8, 0.0),
    "es/ocaso": (95.0, 0.0),
    "en/landing": (100.0, 0.0),
    "en/porch": (99.2, 0.0),
    "en/stairwell": (96.4, 0.0),
    "en/counter": (99.1, 0.0),
    "en/pantry": (100.0, 0.0),
    "en/veranda": (98.8, 0.0),
    "en/mantel": (100.0, 0.0),
    "en/greenhouse": (96.4, 0.0),
    "en/quarry": (100.0, 0.0),
    "en/orchard": (99.1, 0.0),
    "en/harbour": (100.0, 0.0),
    "en/meadow": (97.5, 0.0),
    "en/mill": (97.2, 0.0),
    "en/willow": (91.6, 0.0),
    "en/lantern": (93.8, 0.0),
    "en/finch": (95.6, 0.0),
    "en/dunnock": (97.2, 0.0),
    "en/siskin": (98.5, 0.0),
    "en/pipit": (99.5, 0.0),
    "en/swift": (96.2, 0.0),
    "en/heron": (99.3, 0.0),
    "en/kestrel": (98.8, 0.0),
    "en/plover": (96.8, 0.0),
    "en/robin": (91.3, 0.0),
    "en/thrush": (98.0, 0.0),
    "en/lapwing": (98.0, 0.0),
    "en/redpoll": (98.6, 0.0),
    "en/brambling": (100.0, 0.0),
    "en/fieldfare": (100.0, 0.0),
    "en/goldcrest": (98.5, 0.0),
    "en/firecrest": (94.0, 0.5),
    "en/serin": (100.0, 0.0),
    "en/twite": (93.0, 0.0),
    "en/ouzel": (91.0, 0.0),
    "en/waxwing": (100.0, 0.0),
    "en/bunting": (91.0, 0.0),
    "en/crossbill": (88.5, 1.0),
    "en/whinchat": (83.3, 0.0),
    "de/morgen": (94.2, 0.0),
    "es/manana": (91.4, 0.0),
    "de/nacht": (84.1, 0.0),
    "es/noche": (80.0, 0.0),
    "en/wren": (98.7, 0.0),
    "en/martin": (100.0, 0.0),
    "en/curlew": (98.1, 0.0),
    "en/magpie": (96.3, 0.0),
    "en/starling": (94.5, 0.0),
    "en/linnet": (85.0, 0.0),
    "en/porchlight": (98.3, 0.0),
    "en/nightbus": (81.6, 0.0),
    "de/regal": (100.0, 0.0),
    "de/abend": (100.0, 0.0),
    "de/geschwister": (99.4, 0.0),
    "es/tarde": (100.0, 0.0),
    "es/hermanas": (100.0, 0.0),
    "es/estante": (100.0, 0.0),
}


@pytest.mark.parametrize("name", FLOORS)
def test_messages_are_read_as_a_keeper_means_them(name: str) -> None:
    messages = corpus(name)
    verdicts = {m.name: judged(m, reading) for m, reading in messages.readings()}
    counted = Counter(verdicts.values())
    exact = 100 * counted[Verdict.EXACT] / len(verdicts)
    wrong = 100 * counted[Verdict.WRONG] / len(verdicts)
    least_exact, most_wrong = FLOORS[name]
    wrong_ones = [n for n, v in verdicts.items() if v is Verdict.WRONG]
    assert (exact >= least_exact, wrong <= most_wrong) == (True, True), f"{exact=} {wrong=} {wrong_ones=}"


@pytest.mark.parametrize("name", FLOORS)
def test_every_label_is_exact_by_its_own_judge(name: str) -> None:
    for message in corpus(name).messages:
        assert judged(message, message.golds[0]) is Verdict.EXACT


def test_every_corpus_has_its_floor() -> None:
    folders = {str(path.parent.relative_to(FOLDER)) for path in FOLDER.glob("**/messages.jsonl")}
    assert folders <= set(FLOORS), f"no floor for {folders - set(FLOORS)}"
