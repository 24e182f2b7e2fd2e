"""A photo taken in loses place, camera and comments, and keeps the picture."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from bot.pictures.photo import LONGEST_SIDE, MOST_BYTES, NotAPhotoError, clean_photo

#: TIFF tags of EXIF 2.32 (CIPA DC-008), from memory: orientation, maker, GPS directory and what is in it.
_ORIENTATION, _MAKE, _GPS_IFD = 0x0112, 0x010F, 0x8825
_SECRETS = (
    b"Exif\x00\x00",
    b"Inventacam",
    b"51.5",
    b"http://ns.adobe.com/xap",
    b"Photoshop",
    b"a comment of mine",
)


def picture(size=(64, 48), mode="RGB"):
    """A picture that has a red corner at its top left."""
    image = Image.new(mode, size, "white" if mode != "RGBA" else (255, 255, 255, 255))
    image.paste((255, 0, 0) if mode == "RGB" else (255, 0, 0, 255), (0, 0, size[0] // 4, size[1] // 4))
    return image


def tiff_with_gps(orientation=1):
    """An EXIF block built by hand: maker, orientation, and a GPS directory with latitude and longitude."""
    ascii_, short, long_, rational = 2, 3, 4, 5
    maker = b"Inventacam\x00"
    ifd0 = 8
    gps = ifd0 + 2 + 3 * 12 + 4
    data = gps + 2 + 4 * 12 + 4
    entries = struct.pack("<HHII", _MAKE, ascii_, len(maker), data)
    entries += struct.pack("<HHIHH", _ORIENTATION, short, 1, orientation, 0)
    entries += struct.pack("<HHII", _GPS_IFD, long_, 1, gps)
    at = data + len(maker) + 1
    directory = struct.pack("<HHI4s", 1, ascii_, 2, b"N\x00\x00\x00")
    directory += struct.pack("<HHII", 2, rational, 3, at)
    directory += struct.pack("<HHI4s", 3, ascii_, 2, b"W\x00\x00\x00")
    directory += struct.pack("<HHII", 4, rational, 3, at + 24)
    where = struct.pack("<6I", 51, 1, 30, 1, 26, 1) + struct.pack("<6I", 0, 1, 7, 1, 39, 1)
    return (
        b"II*\x00" + struct.pack("<I", ifd0)
        + struct.pack("<H", 3) + entries + struct.pack("<I", 0)
        + struct.pack("<H", 4) + directory + struct.pack("<I", 0)
        + maker + b"\x00" + where
    )  # fmt: skip


def segment(marker, body):
    return bytes([0xFF, marker]) + struct.pack(">H", len(body) + 2) + body


def jpeg_with_everything(orientation=1, size=(64, 48)):
    """A JPEG that carries GPS EXIF, XMP, IPTC and a comment, put together by hand (ITU-T T.81, B.1.1)."""
    out = BytesIO()
    picture(size).save(out, "JPEG", quality=95)
    plain = out.getvalue()
    more = segment(0xE1, b"Exif\x00\x00" + tiff_with_gps(orientation))
    more += segment(0xE1, b"http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>exif:GPSLatitude=51.5</x:xmpmeta>")
    more += segment(0xED, b"Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x0651.5 N")
    more += segment(0xFE, b"a comment of mine")
    return plain[:2] + more + plain[2:] + b"trailing bytes 51.5 after the end"


def segments(jpeg):
    """Marker and body of each segment before the picture data, read by the standard (T.81, B.1)."""
    at, found = 2, []
    assert jpeg[:2] == b"\xff\xd8"
    while True:
        assert jpeg[at] == 0xFF
        marker, length = jpeg[at + 1], struct.unpack(">H", jpeg[at + 2 : at + 4])[0]
        found.append((marker, jpeg[at + 4 : at + 2 + length]))
        if marker == 0xDA:
            return found
        at += 2 + length


def test_the_photo_of_the_test_does_carry_a_place():
    # read by Pillow, which had no part in building the block
    exif = Image.open(BytesIO(jpeg_with_everything())).getexif()
    assert exif[_MAKE] == "Inventacam"
    assert [float(part) for part in exif.get_ifd(_GPS_IFD)[2]] == [51.0, 30.0, 26.0]


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_no_place_no_camera_no_comment_is_left_in_any_segment(orientation):
    clean = clean_photo(jpeg_with_everything(orientation)).jpeg
    for secret in _SECRETS:
        assert secret not in clean
    # JFIF alone: APP0, tables, frame, Huffman tables, scan; no APP1 to APP15 and no comment
    assert {marker for marker, _ in segments(clean)} <= {0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDD, 0xDA}
    assert clean.endswith(b"\xff\xd9")
    again = Image.open(BytesIO(clean))
    assert not again.getexif()
    assert set(again.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "progressive"}


@pytest.mark.parametrize(
    ("orientation", "corner"),  # EXIF 2.32, orientation: where the first row and column go
    [(1, (2, 2)), (3, (-3, -3)), (6, (-3, 2)), (8, (2, -3))],
)
def test_it_stands_upright_without_its_orientation_tag(orientation, corner):
    clean = clean_photo(jpeg_with_everything(orientation))
    assert (clean.width, clean.height) == ((64, 48) if orientation in (1, 3) else (48, 64))
    seen = np.asarray(Image.open(BytesIO(clean.jpeg))).astype(int)
    red, green, _ = seen[corner[1], corner[0]]
    assert red > 200
    assert green < 80


def test_a_large_photo_is_made_smaller_and_keeps_its_shape():
    out = BytesIO()
    picture((6000, 3000)).save(out, "JPEG")
    clean = clean_photo(out.getvalue())
    assert (clean.width, clean.height) == (LONGEST_SIDE, LONGEST_SIDE // 2)


@pytest.mark.parametrize(
    ("form", "mode"),
    [("PNG", "RGB"), ("PNG", "RGBA"), ("WEBP", "RGB"), ("PNG", "P"), ("JPEG", "L"), ("JPEG", "CMYK")],
)
def test_other_forms_become_a_jpeg_too(form, mode):
    out = BytesIO()
    image = picture(mode="RGBA" if mode == "RGBA" else "RGB")
    image = image if image.mode == mode else image.convert(mode)
    extra = {"pnginfo": None} if form == "PNG" else {}
    image.save(out, form, **extra)
    clean = clean_photo(out.getvalue())
    seen = Image.open(BytesIO(clean.jpeg))
    assert (seen.format, seen.mode, seen.size) == ("JPEG", "RGB", (64, 48))


def test_a_png_loses_its_text_and_exif():
    from PIL.PngImagePlugin import PngInfo

    told = PngInfo()
    told.add_text("Location", "51.5 in the Inventacam")
    out = BytesIO()
    picture().save(out, "PNG", pnginfo=told, exif=b"Exif\x00\x00" + tiff_with_gps())
    assert b"Inventacam" in out.getvalue()
    assert not any(secret in clean_photo(out.getvalue()).jpeg for secret in _SECRETS)


def test_colours_of_a_profile_stay_as_seen_though_the_profile_goes():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    out = BytesIO()
    picture().save(out, "JPEG", quality=95, icc_profile=profile)
    clean = clean_photo(out.getvalue()).jpeg
    assert b"ICC_PROFILE" not in clean
    red, green, _ = np.asarray(Image.open(BytesIO(clean)))[3, 3].astype(int)
    assert red > 200
    assert green < 80


def bomb():
    """A PNG of a few hundred bytes that says it is 60,000 by 60,000 pixels."""
    return png_of(60_000)


def large_png():
    return png_of(4_000)


def png_of(side):
    """A PNG that says it is so many pixels wide and high, and has next to none (W3C PNG, 11.2.2)."""
    head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    chunks = b""
    for name, body in ((b"IHDR", head), (b"IDAT", zlib.compress(b"\x00" * 1000)), (b"IEND", b"")):
        chunks += struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    return b"\x89PNG\r\n\x1a\n" + chunks


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "no JPEG"),
        (b"<svg onload=alert(1)>", "no JPEG"),
        (b"GIF89a" + b"\x00" * 30, "no JPEG"),
        (bomb(), "too large"),
        (large_png(), "more than 12 million pixels"),
        (b"\xff" * (MOST_BYTES + 1), "larger than 20 MB"),
        (jpeg_with_everything()[:900], "damaged"),
    ],
    ids=["nothing", "svg", "gif", "bomb", "large png", "too many bytes", "cut off"],
)
def test_what_is_no_photo_is_refused_with_a_reason(data, why):
    with pytest.raises(NotAPhotoError, match=why):
        clean_photo(data)


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 2000), st.binary(min_size=1, max_size=40))
def test_bytes_that_are_damaged_give_a_photo_or_a_refusal_and_nothing_else(at, noise):
    whole = jpeg_with_everything()
    at = min(at, len(whole) - 1)
    try:
        clean = clean_photo(whole[:at] + noise + whole[at + len(noise) :])
    except NotAPhotoError:
        return
    assert not any(secret in clean.jpeg for secret in _SECRETS)
