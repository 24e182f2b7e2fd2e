"""A shelf as a Darwin Core archive, for museums, breeders' registers and anyone who reads biodiversity data.

The core is the journal as events; each event has an occurrence of its specimen, and what was measured.
Terms: Darwin Core, http://rs.tdwg.org/dwc/terms/ (TDWG, vocabulary of 2026-05-26); the form of an archive:
Darwin Core text guide (TDWG). Who the keeper is does not appear, nor where the animals stand.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any, Final
from xml.etree import ElementTree as ET

from bot.terms import Entry, Kind, Sex, Specimen, Stage
from bot.terms.as_of import AsOf

_DWC: Final = "http://rs.tdwg.org/dwc/terms/"
_TEXT: Final = "http://rs.tdwg.org/dwc/text/"
_ID: Final = "id"
#: Archives with the same content are the same file, whenever they are made.
_NO_TIME: Final = (1980, 1, 1, 0, 0, 0)

_EVENT: Final = ("eventID", "eventDate", "eventTime", "eventType", "eventRemarks")
_OCCURRENCE: Final = (
    "occurrenceID",
    "basisOfRecord",
    "organismID",
    "organismName",
    "catalogNumber",
    "scientificName",
    "vernacularName",
    "sex",
    "lifeStage",
    "individualCount",
    "vitality",
    "behavior",
    "occurrenceStatus",
    "occurrenceRemarks",
)
_MEASUREMENT: Final = (
    "measurementID",
    "measurementType",
    "measurementValue",
    "measurementUnit",
    "measurementDeterminedDate",
)

#: What the trade calls the stages, in words that are understood elsewhere.
_LIFE_STAGE: Final = MappingProxyType(
    {
        Stage.SLING: "spiderling",
        Stage.JUVENILE: "juvenile",
        Stage.ADULT: "adult",
        Stage.MATURE_MALE: "adult",
    }
)
_BEHAVIOR: Final = MappingProxyType(
    {
        Kind.FED: "feeding",
        Kind.REFUSED: "refused food",
        Kind.MOLTED: "molting",
        Kind.MATURED: "molting",
        Kind.SEALED: "sealed its burrow",
        Kind.OPENED: "opened its burrow",
        Kind.PAIRED: "mating",
        Kind.SAC: "egg sac",
    }
)
#: What is measured: the entry's field, what it is called, and its unit.
_MEASURED: Final = (
    ("span_cm", "leg span", "cm"),
    ("carapace_mm", "carapace length", "mm"),
    ("weight_g", "body mass", "g"),
    ("temp_c", "air temperature", "°C"),
    ("humidity_pct", "relative humidity", "%"),
    ("volume_l", "enclosure volume", "l"),
    ("substrate_cm", "substrate depth", "cm"),
    ("ml", "water given", "ml"),
)


@dataclass(frozen=True, slots=True)
class _Table:
    file: str
    row_type: str
    terms: tuple[str, ...]
    rows: tuple[Mapping[str, Any], ...]


#: A specimen with the day on which it came to the shelf, where that is known, and what it was then.
Arrived = tuple[Specimen, date | None, AsOf]
#: An entry of one specimen with what that was then, or of none.
Told = tuple[Entry, AsOf | None]


def archive(specimens: Sequence[Arrived], entries: Iterable[Told], *, title: str) -> bytes:
    """The archive as a ZIP file.

    Each tag stands for one specimen. ``entries`` in journal order, each of a specimen among these or of none.
    """
    by_tag = {specimen.tag: specimen for specimen, _, _ in specimens}
    events = list(_events(specimens, entries))
    tables = (
        _Table("event.csv", "Event", _EVENT, tuple(_event(number, e) for number, e, _ in events)),
        _Table(
            "occurrence.csv",
            "Occurrence",
            _OCCURRENCE,
            tuple(_occurrence(number, e, by_tag[e.specimens[0]], then) for number, e, then in events if then),
        ),
        _Table(
            "measurementorfact.csv",
            "MeasurementOrFact",
            _MEASUREMENT,
            tuple(row for number, e, _ in events for row in _measurements(number, e)),
        ),
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        _put(packed, "meta.xml", _meta(tables))
        _put(packed, "eml.xml", _eml(title))
        for table in tables:
            _put(packed, table.file, _csv(table).encode())
    return out.getvalue()


def _put(packed: zipfile.ZipFile, name: str, content: bytes) -> None:
    entry = zipfile.ZipInfo(name, _NO_TIME)
    entry.compress_type = zipfile.ZIP_DEFLATED
    packed.writestr(entry, content)


def _events(
    specimens: Sequence[Arrived], entries: Iterable[Told]
) -> Iterator[tuple[str, Entry, AsOf | None]]:
    """Each entry with its number, after one for each specimen's coming to the shelf."""
    for specimen, on, then in specimens:
        if on is not None:
            yield f"came-{specimen.tag}", Entry(kind=Kind.ACQUIRED, day=on, specimens=(specimen.tag,)), then
    for number, (entry, as_of) in enumerate(entries, start=1):
        yield f"entry-{number}", entry, as_of


def _event(number: str, entry: Entry) -> dict[str, Any]:
    return {
        "eventID": number,
        "eventDate": entry.day.isoformat(),
        "eventTime": entry.time.strftime("%H:%M") if entry.time else "",
        "eventType": entry.kind.value,
        "eventRemarks": entry.note or _told(entry),
    }


def _told(entry: Entry) -> str:
    measured = {field for field, _, _ in _MEASURED}
    details = entry.details()
    return " | ".join(f"{name}: {value}" for name, value in details.items() if name not in measured)


def _occurrence(number: str, entry: Entry, specimen: Specimen, then: AsOf) -> dict[str, Any]:
    """The specimen at an event, as it was then; what was not known is left empty."""
    return {
        _ID: number,
        "occurrenceID": f"{number}-{specimen.tag}",
        "basisOfRecord": "LivingSpecimen",
        "organismID": specimen.tag,
        "organismName": specimen.name or "",
        "catalogNumber": specimen.tag,
        "scientificName": specimen.species,
        "vernacularName": " | ".join(specimen.common),
        "sex": "" if then.sex is Sex.UNKNOWN else then.sex.value,
        "lifeStage": _LIFE_STAGE[then.stage] if then.stage else "",
        "individualCount": then.count or "",
        "vitality": _vitality(entry, then),
        "behavior": _BEHAVIOR.get(entry.kind, ""),
        "occurrenceStatus": "detected",
        "occurrenceRemarks": " | ".join(specimen.aka),
    }


def _vitality(entry: Entry, then: AsOf) -> str:
    """Of a lot of which some died then, that it is mixed; nothing of what is told once all are gone."""
    if not then.count:
        return ""
    if entry.kind is not Kind.DIED:
        return "alive"
    return "mixedLot" if entry.count is not None and entry.count < then.count else "dead"


def _measurements(number: str, entry: Entry) -> Iterator[dict[str, Any]]:
    for field, kind, unit in _MEASURED:
        value = getattr(entry, field)
        if value is not None:
            yield {
                _ID: number,
                "measurementID": f"{number}-{field}",
                "measurementType": kind,
                "measurementValue": f"{value.normalize():f}",
                "measurementUnit": unit,
                "measurementDeterminedDate": entry.day.isoformat(),
            }


# --- the files of the archive --------------------------------------------------------------------


def _columns(table: _Table) -> tuple[str, ...]:
    """The columns of a table; an extension's first one is the number of the event that it belongs to."""
    return table.terms if table.row_type == "Event" else (_ID, *table.terms)


def _csv(table: _Table) -> str:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(_columns(table))
    writer.writerows([row.get(column, "") for column in _columns(table)] for row in table.rows)
    return out.getvalue()


def _meta(tables: Sequence[_Table]) -> bytes:
    """What stands in which column of which file, as the text guide asks for it."""
    root = ET.Element("archive", {"xmlns": _TEXT, "metadata": "eml.xml"})
    for table in tables:
        is_core = table.row_type == "Event"
        part = ET.SubElement(
            root,
            "core" if is_core else "extension",
            {
                "encoding": "UTF-8",
                "fieldsTerminatedBy": ",",
                "linesTerminatedBy": "\\r\\n",
                "fieldsEnclosedBy": '"',
                "ignoreHeaderLines": "1",
                "rowType": _DWC + table.row_type,
            },
        )
        ET.SubElement(ET.SubElement(part, "files"), "location").text = table.file
        ET.SubElement(part, "id" if is_core else "coreid", {"index": "0"})
        for index, column in enumerate(_columns(table)):
            if column != _ID:
                ET.SubElement(part, "field", {"index": str(index), "term": _DWC + column})
    return _xml(root)


def _eml(title: str) -> bytes:
    """What the archive is, in the Ecological Metadata Language; it names nobody."""
    space = "https://eml.ecoinformatics.org/eml-2.2.0"
    root = ET.Element("eml:eml", {"xmlns:eml": space, "packageId": "shelf", "system": "keeper"})
    dataset = ET.SubElement(root, "dataset")
    ET.SubElement(dataset, "title").text = title
    for role in ("creator", "contact"):
        ET.SubElement(ET.SubElement(dataset, role), "positionName").text = "keeper"
    return _xml(root)


def _xml(root: ET.Element) -> bytes:
    ET.indent(root)
    text: bytes = ET.tostring(root, encoding="UTF-8", xml_declaration=True)
    return text + b"\n"
