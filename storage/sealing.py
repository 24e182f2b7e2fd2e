"""Sealed copies: files in the open age format, which only the holder of a secret key can open.

Sealing needs the public key alone, so that whoever gets at the machine does not get at the copies sent
away from it, and no passphrase has to be stretched in memory that a small computer does not have. Any
program that knows the format (age-encryption.org/v1) opens them as well.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from storage.errors import CopyFailedError, StoreError

if TYPE_CHECKING:
    from types import ModuleType

#: What the name of a sealed file ends in.
SEALED: Final = ".age"
#: How every file of the format begins.
_HEAD: Final = b"age-encryption.org/v1\n"
_SECRET: Final = "AGE-SECRET-KEY-"


def new_key() -> tuple[str, str]:
    """A new pair of keys: the public one to seal with, the secret one to open with."""
    secret = _age().x25519.Identity.generate()
    return str(secret.to_public()), str(secret)


def is_public_key(text: str) -> bool:
    """Whether a copy can be sealed for that key."""
    try:
        _recipient(text)
    except StoreError:
        return False
    return True


def is_sealed(file: Path) -> bool:
    """Whether a file is a sealed one. Raises ``OSError`` where it cannot be read."""
    with file.open("rb") as opened:
        return opened.read(len(_HEAD)) == _HEAD


def seal(file: Path, target: Path, key: str) -> Path:
    """Writes a sealed copy of a file, which appears under its name once it is whole; gives that name.

    Raises :class:`StoreError` for a key that is none, ``OSError`` where it cannot be written.
    """
    recipient, part = _recipient(key), target.with_name(target.name + ".part")
    try:
        with file.open("rb") as plain, part.open("wb") as sealed:
            part.chmod(0o600)
            _age().encrypt_io(plain, sealed, [recipient])
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
    return target


def unseal(file: Path, target: Path, key_file: Path) -> None:
    """Opens a sealed file into another, with the secret key that stands in a file.

    Raises :class:`StoreError` where there is no key, :class:`CopyFailedError` where it does not open the
    file or the file was changed, ``OSError`` where one of the files cannot be read or written.
    """
    identity = _identity(key_file)
    with file.open("rb") as sealed, target.open("wb") as plain:
        target.chmod(0o600)
        try:
            _age().decrypt_io(sealed, plain, [identity])
        except (_age().DecryptError, OSError) as problem:
            if isinstance(problem, OSError) and problem.errno is not None:
                raise  # the disk's complaint, and not the library's about what it read
            raise CopyFailedError("That key does not open this file, or the file is damaged.") from None


def _recipient(key: str) -> Any:
    try:
        return _age().x25519.Recipient.from_str(key.strip())
    except _age().RecipientError:
        raise StoreError("That is no public key to seal copies with; it begins with age1.") from None


def _identity(key_file: Path) -> Any:
    """The first secret key of a file; other lines may say whatever they like."""
    for line in key_file.read_text(errors="replace").splitlines():
        if line.strip().startswith(_SECRET):
            try:
                return _age().x25519.Identity.from_str(line.strip())
            except _age().IdentityError:
                break
    raise StoreError(f"There is no secret key in that file; its line begins with {_SECRET}.")


def _age() -> ModuleType:
    try:
        import pyrage  # noqa: PLC0415  only where copies are sealed
    except ModuleNotFoundError:
        raise StoreError("Sealed copies need pyrage; install it: pip install 'burrowbell[sealed]'") from None
    return pyrage
