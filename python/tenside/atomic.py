"""Files that are there whole or not at all.

A file is written under another name in the folder where it will stand, and takes its place once all of it is on the disk. After a full disk,
any exception or Ctrl-C (SIGINT) the folder is as it was. A process ended by SIGTERM or SIGKILL in mid-write, or by a power cut, can leave a
file `.tenside-*.part` there, which may be deleted; what stood under the right name is whole even then.

What is written over keeps its mode and, where the system allows it, its owner. A link is followed, so that it stays a link; another hard
link to the same file keeps the old content.

>>> import pathlib, tempfile
>>> from tenside import atomic
>>> with tempfile.TemporaryDirectory() as folder:
...     path = pathlib.Path(folder) / "note.txt"
...     with atomic.replacing(path) as file:
...         _ = file.write(b"whole")
...     path.read_bytes()
b'whole'
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Iterator
from typing import BinaryIO

__all__ = ["Path", "replacing", "shown"]

Path = str | bytes | os.PathLike[str] | os.PathLike[bytes]
"""What names a file; names that are not UTF-8 too."""


def shown(path: Path) -> str:
    """A path as messages show it: bytes that are not UTF-8 are escaped, so that it can be printed, and a long one has no middle."""
    text = os.fsencode(path).decode("utf-8", "backslashreplace")
    return text if len(text) <= 400 else f"{text[:200]}...{text[-200:]}"


@contextlib.contextmanager
def replacing(path: Path) -> Iterator[BinaryIO]:
    """A new file, open for writing, which takes the place of the one that is meant when the block ends without an exception."""
    target = os.path.realpath(os.fsdecode(path))
    try:
        old = os.stat(target)
    except FileNotFoundError:
        old = None
    if old is not None:
        # A device or a pipe that was replaced would be missing afterwards, and a rename asks nobody whether the file
        # may be written.
        if not stat.S_ISREG(old.st_mode):
            raise OSError(f"{shown(path)} is no file that could be written anew; name a plain file")
        if not os.access(target, os.W_OK):
            raise PermissionError(
                errno.EACCES, "the file may not be written; change its mode, or name another file", shown(path)
            )
    draft = os.path.join(os.path.dirname(target), f".tenside-{secrets.token_hex(8)}.part")
    try:
        # Until it has the mode of the old file nobody else reads it.
        with open(
            draft, "xb", opener=lambda name, flags: os.open(name, flags, 0o666 if old is None else 0o600)
        ) as file:
            if old is not None:
                _like(draft, old)
            yield file
            file.flush()
            os.fsync(file.fileno())
        os.replace(draft, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(draft)
        raise


def _like(path: str, old: os.stat_result) -> None:
    made = os.stat(path)
    if hasattr(os, "chown") and (made.st_uid, made.st_gid) != (old.st_uid, old.st_gid):
        # Only the superuser may give a file away; the mode is set afterwards, since this clears some of its bits.
        with contextlib.suppress(OSError):
            os.chown(path, old.st_uid, old.st_gid)
    os.chmod(path, stat.S_IMODE(old.st_mode))
