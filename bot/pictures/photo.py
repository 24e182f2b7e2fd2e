"""A keeper's photo made fit to be kept: upright, of a sensible size, and with nothing in it but the picture.

It is decoded and written anew: place, time, camera, serial numbers, thumbnails, comments and colour
profiles do not come along, whatever segment of the file they stood in.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Final

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

#: What a photo may come as. Other formats are refused rather than half understood.
FORMATS: Final = ("JPEG", "PNG", "WEBP")
MOST_BYTES: Final = 20_000_000
"""Bot API, getFile: bots can download files of up to 20 MB."""
MOST_PIXELS: Final = {"JPEG": 40_000_000}
MOST_OTHER_PIXELS: Final = 12_000_000
"""A large JPEG is decoded at a smaller scale, other pictures only whole: a small machine must bear it."""
LONGEST_SIDE: Final = 2560
_QUALITY: Final = 88


class NotAPhotoError(ValueError):
    """The bytes are no photo that can be kept; the text says why."""


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A JPEG without metadata, and its size in pixels."""

    jpeg: bytes
    width: int
    height: int


def clean_photo(data: bytes) -> CleanPhoto:
    """The photo, to be kept. Raises :class:`NotAPhotoError`."""
    if len(data) > MOST_BYTES:
        raise NotAPhotoError(f"the file is larger than {MOST_BYTES // 1_000_000} MB")
    try:
        return _cleaned(data)
    except NotAPhotoError:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError) as problem:
        raise NotAPhotoError("it is no JPEG, PNG or WebP picture, or far too large a one") from problem
    except (OSError, ValueError, SyntaxError, EOFError, IndexError, TypeError, OverflowError) as problem:
        raise NotAPhotoError("the picture is damaged") from problem


def _cleaned(data: bytes) -> CleanPhoto:
    with Image.open(BytesIO(data), formats=FORMATS) as image:
        most = MOST_PIXELS.get(image.format or "", MOST_OTHER_PIXELS)
        if image.width * image.height > most:
            raise NotAPhotoError(f"it has more than {most // 1_000_000} million pixels")
        image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        upright = _on_white(_in_srgb(ImageOps.exif_transpose(image)))
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
        bare = Image.new("RGB", upright.size)  # a new image: nothing of the old one's "info" is written
        bare.paste(upright)
    out = BytesIO()
    bare.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return CleanPhoto(out.getvalue(), bare.width, bare.height)


def _in_srgb(image: Image.Image) -> Image.Image:
    """The colours as they are without a profile; a profile that cannot be read is left out."""
    profile = image.info.get("icc_profile")
    if not profile or image.mode not in ("RGB", "RGBA", "CMYK"):
        return image
    try:
        return (
            ImageCms.profileToProfile(
                image,
                ImageCms.ImageCmsProfile(BytesIO(profile)),
                ImageCms.createProfile("sRGB"),
                outputMode="RGBA" if image.mode == "RGBA" else "RGB",
            )
            or image
        )
    except (ImageCms.PyCMSError, OSError):
        return image


def _on_white(image: Image.Image) -> Image.Image:
    if "A" not in image.getbands() and "transparency" not in image.info:
        return image.convert("RGB")
    seen = image.convert("RGBA")
    ground = Image.new("RGBA", seen.size, "white")
    ground.alpha_composite(seen)
    return ground.convert("RGB")
