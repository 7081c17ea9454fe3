"""The key that signs form tokens, made once and kept with the data."""

import contextlib
import os
import secrets
from pathlib import Path

KEY_BYTES = 32


def secret_key(data: Path) -> bytes:
    """Give the key kept in this data folder, made on first use; OSError when it cannot be written."""
    file = data / "secret_key"
    with contextlib.suppress(FileNotFoundError):
        key = file.read_bytes()
        if len(key) == KEY_BYTES:
            return key
        # A shorter key would sign tokens that anybody can forge.
        file.unlink(missing_ok=True)
    data.mkdir(parents=True, exist_ok=True)
    _make(file)
    return file.read_bytes()


def _make(file: Path) -> None:
    draft = file.with_name(f".{file.name}-{secrets.token_hex(8)}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(secrets.token_bytes(KEY_BYTES))
            stream.flush()
            os.fsync(stream.fileno())
        # Linking instead of renaming: of two programs starting at once, the second takes the first one's key.
        with contextlib.suppress(FileExistsError):
            os.link(draft, file)
    finally:
        draft.unlink()
