"""What stands in a label: sheet and number, UC:K7Q2:007 in the symbol, K7Q2-007 in words."""

import re
import secrets

# Digits and letters without those that look alike on a worn label: 0 and O, 1, I and L, U and V.
SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
SHEET_SIGNS = 4
LAST_NUMBER = 999
# ISO/IEC 18004: version 1 is 21 modules a side, with a quiet zone of four all round.
MODULES, QUIET_MODULES = 21, 4

_SHEET = re.compile(f"[{SIGNS}]{{{SHEET_SIGNS}}}")
_PAYLOAD = re.compile(rf"UC:({_SHEET.pattern}):(?!000)([0-9]{{3}})")


def new_sheet() -> str:
    """A sheet drawn at random, one of 810,000."""
    return "".join(secrets.choice(SIGNS) for _ in range(SHEET_SIGNS))


def is_sheet(text: str) -> bool:
    """Whether a text can name a sheet of labels."""
    return _SHEET.fullmatch(text) is not None


def payload(sheet: str, number: int) -> str:
    """What the symbol of a label holds."""
    return f"UC:{sheet}:{number:03d}"


def in_words(sheet: str, number: int) -> str:
    """A label as people read and write it."""
    return f"{sheet}-{number:03d}"


def label_of(held: str) -> str | None:
    """The label in words whose symbol holds this; None for what is no label of ours."""
    match = _PAYLOAD.fullmatch(held)
    return in_words(match[1], int(match[2])) if match else None
