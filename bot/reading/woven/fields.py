"""The further fields of an entry, from what its clause says: one small function for each kind."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Mapping
from decimal import Decimal
from itertools import pairwise
from typing import Any, Final

from bot.reading.amounts.amounts import BARE_BOX
from bot.reading.clauses.figures import measures
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item, Ref
from bot.reading.kinds.borne_out import into_so_many
from bot.reading.kinds.drafts import Doubt
from bot.reading.model import About
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.numbers import find_numbers
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words
from bot.reading.words.word_groups import Group
from bot.terms import Kind
from bot.terms.keeper import CM_PER_INCH, LITRES_PER_US_GALLON


class Filled:
    """Fields found, and the doubts met on the way. ``loose`` numbers are those used up."""

    def __init__(self) -> None:
        self.fields: dict[str, Any] = {}
        self.doubts: list[Doubt] = []
        self.used_loose = 0
        self.used_amounts = 0

    def put(self, name: str, value: Any) -> None:
        """Sets a field that is said."""
        if value is not None:
            self.fields[name] = value


def fill(kind: Kind, frame: Frame, groups: list[Group]) -> Filled:
    """The fields that a clause gives an entry of this kind."""
    filled = Filled()
    filler = _FILLERS.get(kind)
    if filler is not None:
        filler(frame, groups, filled)
    return filled


def _amount(frame: Frame, dimension: str, but: Container[int] = ()) -> tuple[int, Any] | None:
    return next(((at, a) for at, a in frame.amounts if a.dimension == dimension and at not in but), None)


def _value(frame: Frame, dimension: str, filled: Filled, but: Container[int] = ()) -> Decimal | None:
    """The first amount of a dimension, those at the places ``but`` left out."""
    found = _amount(frame, dimension, but)
    if found is None:
        return None
    filled.used_amounts += 1
    if found[1].doubt:
        filled.doubts.append(Doubt(About.AMOUNT, str(found[1].doubt), getattr(found[1], "words", "")))
    value: Decimal = found[1].value
    return value


def _meal(frame: Frame, groups: list[Group], filled: Filled) -> None:
    if not frame.meals:
        _bare_count(frame, filled)
        return
    meal = frame.meals[0]
    filled.put("prey", meal.prey)
    filled.put("count", meal.count)
    filled.put("size", meal.size)
    if meal.prekilled:
        filled.put("prekilled", True)
    if meal.unknown:
        filled.doubts.append(Doubt(About.PREY, "strange_prey", meal.words))
    if meal.doubt:
        filled.doubts.append(Doubt(About.AMOUNT, "how_many", meal.words))
    if "or" in frame.flags and len({m.prey for m in frame.meals}) > 1:
        filled.doubts.append(_which_prey(frame))
    _bare_count(frame, filled)


def _which_prey(frame: Frame) -> Doubt:
    choices = [(m.prey or "", {"prey": m.prey}) for m in frame.meals if m.prey]
    return Doubt(About.PREY, "which_prey", " / ".join(m.words for m in frame.meals), choices)


def _bare_count(frame: Frame, filled: Filled) -> None:
    for number in frame.loose:
        filled.used_loose += 1
        if number.doubt:
            filled.doubts.append(Doubt(About.AMOUNT, "how_many"))
        elif "count" in filled.fields and filled.fields["count"] != number.value:
            filled.doubts.append(Doubt(About.AMOUNT, "number_unexplained", str(number.value)))
        elif number.value == int(number.value):
            filled.put("count", int(number.value))


def _water(frame: Frame, groups: list[Group], filled: Filled) -> None:
    how = next((g.how for g in groups if g.how is not None), None) or _by_which_work(frame)
    if how is None and "dish" in frame.nouns:
        how = _how("dish")
    if how is None and "sub" in frame.nouns:
        how = _how("substrate")
    filled.put("how", how)
    litres = _value(frame, "volume", filled)
    if litres is not None:
        filled.put("ml", litres * 1000)


def _by_which_work(frame: Frame) -> Any:
    """ "watered the arboreals by misting": a second verb says how; "in the dish" says it itself."""
    said = (verb.group.how for _, item in frame.verbs for verb in item.senses.verbs)
    return None if "dish" in frame.nouns else next((how for how in said if how is not None), None)


def _how(word: str) -> Any:
    from bot.terms import WaterHow  # noqa: PLC0415

    return WaterHow(word)


def _measures(frame: Frame, groups: list[Group], filled: Filled) -> None:
    lengths = [amount.value for _, amount in frame.amounts if amount.dimension == "length"]
    both = len(lengths) == 2 and "carapace" in frame.flags and min(lengths) * 2 <= max(lengths)
    for _, amount in frame.amounts:
        filled.used_amounts += 1
        if amount.doubt:
            filled.doubts.append(Doubt(About.AMOUNT, str(amount.doubt), getattr(amount, "words", "")))
        if amount.dimension == "weight":
            filled.put("weight_g", amount.value)
        elif amount.dimension == "length":
            of_carapace = (
                amount.value == min(lengths) if both else "span" not in frame.flags or amount.value < 4
            )
            if "carapace" in frame.flags and of_carapace:
                filled.put("carapace_mm", amount.value * 10)
            else:
                filled.put("span_cm", amount.value)
    if not frame.amounts:
        _without_unit(frame, filled)


def _without_unit(frame: Frame, filled: Filled) -> None:
    """ "weighed Ink 18.4", "legspan 14": a figure whose unit is asked."""
    if len(frame.loose) != 1 or not measures(frame):
        return
    value = frame.loose[0].value
    if "weight" in frame.flags:
        _ask_unit(filled, value, "weight_g", {"g": 1})
    elif "carapace" in frame.flags:
        _ask_unit(filled, value, "carapace_mm", {"mm": 1, "cm": 10})
    else:
        _ask_unit(filled, value, "span_cm", {"cm": 1, "in": CM_PER_INCH})


def _ask_unit(filled: Filled, value: Decimal, field: str, factors: Mapping[str, int | Decimal]) -> None:
    """Asks which unit a bare number has; each one's factor leads to the unit of the field."""
    filled.used_loose += 1
    choices = [(f"{value} {unit}", {field: value * factor}) for unit, factor in factors.items()]
    filled.doubts.append(Doubt(About.AMOUNT, "which_unit", str(value), choices))


_CUBIC_INCH: Final = CM_PER_INCH**3


def _home(frame: Frame, groups: list[Group], filled: Filled) -> None:
    volume = _value(frame, "volume", filled)
    sides = {at: box for at, amount in frame.amounts if (box := _side_of(frame, at, amount)) is not None}
    filled.used_amounts += len(sides)
    if volume is None and len(sides) == 1:
        ((at, box),) = sides.items()
        volume = frame.clause.items[at].val.value ** 3 / 1000 if box.text in _CUBES else None
    if volume is None and not sides and into_so_many(frame) and len(frame.loose) == 1:
        litres: Mapping[str, int | Decimal] = {"l": 1, "gal": LITRES_PER_US_GALLON}  # "moved Mole into a 20"
        _ask_unit(filled, frame.loose[0].value, "volume_l", litres)
    filled.put("volume_l", volume)
    filled.put("bare_box", any(a.unit == BARE_BOX for _, a in frame.amounts) or None)
    for doubt in filled.doubts:
        if doubt.key == "cm_or_inches" and volume is not None:
            doubt.choices = [("cm", {"volume_l": volume / _CUBIC_INCH}), ("inches", {"volume_l": volume})]
    filled.put("substrate_cm", _value(frame, "length", filled, but=sides))


def _side_of(frame: Frame, at: int, amount: Any) -> Item | None:
    """The home that a length right before it is a side of: "30 cm cube", "10 inch tall deli"."""
    here = frame.clause.items[at : at + 1]
    if amount.dimension != "length" or not here or here[0].val is not amount:  # of another clause
        return None
    behind = frame.clause.items[at + 1 : at + 1 + _TO_THE_HOME]
    box = next((n for n, item in enumerate(behind) if item.senses.part == "box"), None)
    plain = box is not None and all(i.cat == "U" or "trait" in i.senses for i in behind[:box])
    return behind[box] if plain and box is not None else None


#: "12 inch tall square tub": at most so many words behind the length, the last of them the home.
_TO_THE_HOME: Final = 3
_CUBES: Final = rule_words("cubes")


def _climate(frame: Frame, groups: list[Group], filled: Filled) -> None:
    filled.put("temp_c", _value(frame, "temperature", filled))
    humidity = _value(frame, "humidity", filled)
    if humidity is None and "humid" in frame.flags and frame.loose:
        said = frame.loose[0]
        filled.used_loose += 1
        if said.value is None or said.doubt:
            filled.doubts.append(Doubt(About.AMOUNT, "range"))
        else:
            humidity = Decimal(said.value)
    filled.put("humidity_pct", humidity)


def _sex(frame: Frame, groups: list[Group], filled: Filled) -> None:
    said = {g.group.sex for g in frame.groups if g.group.sex} | {g.sex for g in groups if g.sex}
    if len(said) == 1:
        filled.put("sex", said.pop())
    else:
        filled.doubts.append(Doubt(About.KIND, "which_sex"))


#: What a price without a currency may be in, as ISO 4217 writes it.
LIKELY_MONEY: Final = ("EUR", "GBP", "USD")


def _price(frame: Frame, filled: Filled) -> None:
    money = _amount(frame, "money")
    if money is None:
        return
    filled.used_amounts += 1
    count = filled.fields.get("count")
    of_all = "money in all" in frame.flags or "each length" in frame.flags
    each = "each money" in frame.flags or ("each" in frame.flags and not of_all)
    if each and (count is None or "each money" not in frame.flags):
        filled.doubts.append(Doubt(About.AMOUNT, "number_unexplained"))
    filled.put("price", money[1].value * (count if each and count else 1))
    filled.put("currency", money[1].currency)
    if money[1].doubt == "what_money":
        price = str(money[1].value)
        choices = [(f"{price} {currency}", {"currency": currency}) for currency in LIKELY_MONEY]
        filled.doubts.append(Doubt(About.AMOUNT, "what_money", price, choices))


def _bought(frame: Frame, groups: list[Group], filled: Filled) -> None:
    species = [s for s in frame.taxa if s] or [s for r in frame.refs if (s := r.called_by_species)]
    filled.put("species", species[0] if species else None)
    filled.put("span_cm", _value(frame, "length", filled))
    if frame.from_words:
        filled.put("source", frame.from_words)
    if frame.loose and not frame.loose[0].doubt and not _one_is_said(frame):
        filled.put("count", int(frame.loose[0].value))
        filled.used_loose += 1
    elif "a" in frame.flags:
        filled.put("count", 1)
    else:
        by_sex = (_by_sex(f"{sense.words} ") for sense in frame.groups)
        numbers = (*map(_number_of, frame.refs), *by_sex)
        filled.put("count", next((n for n in numbers if n), None))
    _price(frame, filled)


def _one_is_said(frame: Frame) -> bool:
    """ "una B. emilia, 300 soles": one by its article, so that a number behind it counts something else."""
    items = frame.clause.items
    species = next((n for n, item in enumerate(items) if item.cat == "T"), 0)
    counted = any(item.cat == "N" for item in items[:species])
    return species > 0 and "a" in items[species - 1].senses and not counted


def _number_of(ref: Ref) -> int | None:
    """ "2x B. hamorii slings": the number that a description of animals begins with.

    The trade counts males before the point, females behind it: "0.1 B. hamorii" is one.
    """
    by_sex = _by_sex(ref.words)
    if by_sex is not None:
        return by_sex
    said = find_numbers(Words(ref.words)) if ref.how not in EXACT else []
    return said[0].value if said and said[0].start == 0 and not said[0].doubt else None


def _by_sex(words: str) -> int | None:
    """How many males and females words begin with, "0.1 …" or "1,2 …", if they do."""
    said = _BY_SEX.match(words)
    return sum(map(int, said.groups())) or None if said is not None else None


_BY_SEX: Final = re.compile(r"(\d)[.,](\d)\s")


def _left(frame: Frame, groups: list[Group], filled: Filled) -> None:
    if frame.to_words:
        filled.put("to", frame.to_words)
    _lot_part(frame, filled)
    _price(frame, filled)  # "3 of the balfouri to Kev, £15 each": after how many they were


def _lot_part(frame: Frame, filled: Filled) -> None:
    part = next((r.lot_part for r in frame.refs if r.lot_part), None)
    said = frame.loose[0] if len(frame.loose) == 1 else None
    left = "leftover" in frame.flags or _down_to_so_many(frame)
    if part is None and said is not None and said.value is not None and not (said.doubt or left):
        part = int(said.value)
        filled.used_loose += 1
    filled.put("count", part)


def _down_to_so_many(frame: Frame) -> bool:
    """ "the commune is down to 7": how many are left, and not how many are gone."""
    return any("to" in a.senses and b.cat == "N" for a, b in pairwise(frame.clause.items))


def _died(frame: Frame, groups: list[Group], filled: Filled) -> None:
    _lot_part(frame, filled)
    within = frame.flags & {"on", "from", "of"}
    if within and "count" not in filled.fields and any(item.text in _ONE_DEAD for _, item in frame.verbs):
        filled.put("count", 1)  # "found one dead in the commune"


#: Phrases that tell of one of several.
_ONE_DEAD: Final = rule_words("one_dead")


#: Doubts about a number that was said.
_COUNTED: Final = frozenset({"range", "approx", "part"})


def _stocked(frame: Frame, groups: list[Group], filled: Filled) -> None:
    _meal(frame, groups, filled)
    if all(m.count is None and m.doubt not in _COUNTED for m in frame.meals):  # "a tub of waxworms"
        filled.doubts = [d for d in filled.doubts if d.key != "how_many"]
    filled.fields.pop("prekilled", None)
    _price(frame, filled)


def _sac(frame: Frame, groups: list[Group], filled: Filled) -> None:
    filled.put("event", next((g.event for g in groups if g.event is not None), None))
    if frame.loose:
        filled.used_loose += 1
        if frame.loose[0].doubt:
            filled.doubts.append(Doubt(About.AMOUNT, "how_many"))
        else:
            filled.put("count", int(frame.loose[0].value))


_FILLERS: Final[Mapping[Kind, Callable[[Frame, list[Group], Filled], None]]] = {
    Kind.FED: _meal,
    Kind.REFUSED: _meal,
    Kind.OFFERED: _meal,
    Kind.WATERED: _water,
    Kind.MEASURED: _measures,
    Kind.REHOUSED: _home,
    Kind.CLIMATE: _climate,
    Kind.SEXED: _sex,
    Kind.ACQUIRED: _bought,
    Kind.LEFT: _left,
    Kind.DIED: _died,
    Kind.STOCKED: _stocked,
    Kind.SAC: _sac,
}
