"""Small references for pictures: ``python -m tests.pictures.references`` draws them anew.

A reference is the picture at an eighth of its size, in colour. Look at the pictures before storing new ones.
"""

from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image

from bot.pictures.data import PictureKind
from bot.pictures.drawing import draw
from bot.pictures.theme import DARK, LIGHT, Look

FOLDER = Path(__file__).parent / "references"
#: The mean difference of a channel, 0 to 255, that another version of the libraries may make.
LIKENESS = 2.0
_SCALE = 8


@dataclass(frozen=True)
class Reference:
    """A picture of the demo shelf that is held to a stored one."""

    name: str
    kind: PictureKind
    tag: str | None = None
    species: str | None = None
    dark: bool = False

    def draw(self, records):
        animal = next((one for one in records.specimens if one.tag == self.tag), None)
        look = Look(theme=DARK if self.dark else LIGHT)
        return draw(self.kind, records, look, animal=animal, species=self.species)[0]

    @property
    def path(self):
        return FOLDER / f"{self.name}.png"

    def stored(self):
        return Image.open(self.path).convert("RGB")


REFERENCES = {
    one.name: one
    for one in (
        Reference("life-of-a-sling", PictureKind.LIFE, tag="S2"),
        Reference("life-of-an-adult-dark", PictureKind.LIFE, tag="K2", dark=True),
        Reference("shelf", PictureKind.SHELF),
        Reference("shelf-dark", PictureKind.SHELF, dark=True),
        Reference("meals", PictureKind.MEALS),
        Reference("molts", PictureKind.MOLTS, species="Lasiodora parahybana"),
        Reference("acceptance", PictureKind.ACCEPTANCE),
        Reference("climate", PictureKind.CLIMATE),
    )
}


def thumbnail(png):
    image = Image.open(BytesIO(png)).convert("RGB")
    return image.resize((image.width // _SCALE, image.height // _SCALE), Image.Resampling.BOX)


def likeness(one, other):
    """The mean difference of their channels, 0 for equal ones; those of different size are wholly unlike."""
    if one.size != other.size:
        return 255.0
    return float(np.abs(np.asarray(one, dtype=float) - np.asarray(other, dtype=float)).mean())


def _store():
    from tests.pictures.conftest import demo_records

    FOLDER.mkdir(exist_ok=True)
    records = demo_records()
    for one in REFERENCES.values():
        thumbnail(one.draw(records).png).save(one.path, optimize=True)


if __name__ == "__main__":
    _store()
