"""Paper read back by libraries that had no part in writing it."""

from dataclasses import dataclass
from io import BytesIO

import pypdfium2
import zxingcpp
from pypdf import PdfReader

MM = 72 / 25.4
_POINTS = 72


@dataclass(frozen=True)
class Sign:
    """A character with its box in mm from the page's top left."""

    char: str
    left: float
    top: float
    right: float
    bottom: float


def text_of(pdf):
    """The words of all pages, line ends as spaces."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())


def sizes_mm(pdf):
    """Width and height of each page."""
    boxes = [page.mediabox for page in PdfReader(BytesIO(pdf)).pages]
    return [(float(box.width) / MM, float(box.height) / MM) for box in boxes]


def rendered(pdf, page=0, dpi=150):
    """A page as an image."""
    return pypdfium2.PdfDocument(pdf)[page].render(scale=dpi / _POINTS).to_pil().convert("L")


def codes(pdf, page=0, dpi=150):
    """The texts of the QR codes on a page, with the middle of each in mm."""
    found = zxingcpp.read_barcodes(rendered(pdf, page, dpi), formats=zxingcpp.BarcodeFormat.QRCode)
    out = []
    for code in found:
        corners = [
            getattr(code.position, corner)
            for corner in ("top_left", "top_right", "bottom_left", "bottom_right")
        ]
        x, y = (sum(getattr(corner, axis) for corner in corners) / 4 / dpi * 25.4 for axis in "xy")
        out.append((code.text, x, y))
    return out


def signs(pdf, page=0):
    """Every visible character of a page."""
    leaf = pypdfium2.PdfDocument(pdf)[page]
    height, text = leaf.get_height(), leaf.get_textpage()
    found = []
    for number in range(text.count_chars()):
        char = text.get_text_range(number, 1)
        if char.strip():
            left, bottom, right, top = text.get_charbox(number)
            found.append(Sign(char, left / MM, (height - top) / MM, right / MM, (height - bottom) / MM))
    return found


def fonts(pdf):
    """For each font used, whether its file is embedded."""
    embedded = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        for reference in page["/Resources"]["/Font"].values():
            font = reference.get_object()
            descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            embedded[font["/BaseFont"]] = "/FontFile2" in descriptor
    return embedded
