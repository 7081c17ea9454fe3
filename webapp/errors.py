"""Every refusal Underchassis can give.

    UnderchassisError        something we refuse or cannot do; never a bug
    ├── BadInput             what came in cannot be used              exit 2, HTTP 400
    │   ├── BadFindings      a findings document breaks its form
    │   ├── BadFile          a file is missing, unreadable, too large or not JSON
    │   ├── BadPhoto         a photo is none, too large, cut short or damaged
    │   └── BadBackup        a backup is none, damaged or cut short
    ├── NotKnown             no such family, model sheet or photo     exit 2, HTTP 404
    ├── RulesBroken          the rule tables do not hold together     exit 2, HTTP 500
    ├── ReaderMissing        labels cannot be read on this machine    exit 2, HTTP 501
    ├── SolverMissing        lots cannot be solved on this machine    HTTP 501
    ├── PortBusy             the address to serve on is taken         exit 2, HTTP 500
    ├── NotebookRefused      a notebook on the server
    │   ├── KeyUnknown       no notebook opens with this key          HTTP 401
    │   ├── KeyReplaced      this key was replaced by another         HTTP 401
    │   ├── KeyInUse         the new key opens another notebook       HTTP 409
    │   ├── OtherGeneration  the server was restored from a backup    HTTP 409
    │   ├── PartDoesNotFollow  a part of a photo leaves a gap         HTTP 409
    │   ├── PictureDamaged   a photo did not arrive as it was sent    HTTP 422
    │   ├── PictureTooLarge  a photo, or a part of it, is too large   HTTP 413
    │   ├── NotebookFull     a limit of the notebook is reached       HTTP 507
    │   └── NoLongerShared   a shared description is withdrawn or over  HTTP 410
    └── StoreRefused         the server's database
        ├── DatabaseUnusable it cannot be opened or reached           exit 2, HTTP 503
        ├── DatabaseBusy     it is taken by another for too long      exit 2, HTTP 503
        └── ServerFull       the disk takes nothing more              exit 2, HTTP 507

Outcomes such as "not enough known" are data, not errors. Foreign exceptions
(pydantic, tomllib, json, Pillow, SQLAlchemy, OSError) become one of these where they first appear.
"""

import re
from collections.abc import Mapping, Sequence
from datetime import date
from difflib import get_close_matches
from typing import ClassVar, Self

_BLANK = re.compile(r"\{(\w+)\}")


def filled(text: str, blanks: Mapping[str, object]) -> str:
    """A text with its blanks filled, such as {count}; those without a value stay as they are."""
    return _BLANK.sub(lambda blank: str(blanks.get(blank[1], blank[0])), text)


class Sentence(str):
    """A sentence of a refusal in English that still knows its text and what fills the blanks there.

    So a page can say it in another language, down to the days and sentences in its blanks. The text is one
    literal, for the extractor to find.
    """

    text: str
    blanks: Mapping[str, object]

    def __new__(cls, text: str, /, **blanks: object) -> Self:
        written = {
            name: _prose(value) if isinstance(value, date) else value for name, value in blanks.items()
        }
        made = super().__new__(cls, filled(text, written))
        made.text, made.blanks = text, blanks
        return made


def _prose(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


class UnderchassisError(Exception):
    """A refusal in words: what happened and where, and in `hint` what to do about it.

    `beside` is what a script is told beside the words, `headers` what goes with the answer.
    """

    code: ClassVar[str] = "refused"
    status: ClassVar[int] = 500
    headers: ClassVar[Mapping[str, str]] = {}
    beside: Mapping[str, object] = {}

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(f"{message} {hint}".strip())
        self.message = message
        self.hint = hint


class BadInput(UnderchassisError):
    """What came in cannot be used."""

    code = "bad-input"
    status = 400


class BadFindings(BadInput):
    """A findings document breaks its form."""

    code = "bad-findings"


class BadFile(BadInput):
    """A file is missing, unreadable, too large or not what it should be."""

    code = "bad-file"


class BadPhoto(BadInput):
    """What came in as a photo is none, or is too large, cut short, damaged, or more than a photo."""

    code = "bad-photo"


class BadBackup(BadInput):
    """What was given as a backup is none, or is damaged, cut short or of another form."""

    code = "bad-backup"


class NotKnown(UnderchassisError):
    """No family, model sheet or photo of that name."""

    code = "not-known"
    status = 404


class ReaderMissing(UnderchassisError):
    """No reader of labels is installed."""

    code = "reader-missing"
    status = 501


class SolverMissing(UnderchassisError):
    """No solver for lots is installed."""

    code = "solver-missing"
    status = 501


class PortBusy(UnderchassisError):
    """The address to serve on is taken."""

    code = "port-busy"


class RulesBroken(UnderchassisError):
    """The rule tables do not hold together; `problems` holds one sentence each."""

    code = "rules-broken"

    def __init__(self, problems: Sequence[str]) -> None:
        count = len(problems)
        noun = "problem" if count == 1 else "problems"
        super().__init__(f"The rule tables have {count} {noun}:\n" + "\n".join(f"- {p}" for p in problems))
        self.problems = list(problems)


class NotebookRefused(UnderchassisError):
    """Something about a notebook on the server is not as the phone takes it to be."""


class KeyUnknown(NotebookRefused):
    """No notebook on this server opens with this key."""

    code = "key-unknown"
    status = 401
    headers: ClassVar[Mapping[str, str]] = {"WWW-Authenticate": "Bearer"}

    def __init__(self) -> None:
        super().__init__(
            Sentence("No notebook on this server opens with this key."),
            Sentence("Check its words on a device that is still backed up, or begin a new backup."),
        )


class KeyReplaced(NotebookRefused):
    """The key opened a notebook until another took its place."""

    code = "key-replaced"
    status = 401
    headers: ClassVar[Mapping[str, str]] = {"WWW-Authenticate": "Bearer"}

    def __init__(self) -> None:
        super().__init__(
            Sentence("The key of this notebook was replaced, so this one opens nothing any more."),
            Sentence(
                "Nothing on this device is lost. A device with the new key shows it: open Keeping, "
                "exporting, about, then Second device and backup, and tap Show the key."
            ),
        )


class KeyInUse(NotebookRefused):
    """The key that is to open a notebook from now on opens one already, or once did."""

    code = "key-in-use"
    status = 409

    def __init__(self) -> None:
        super().__init__(
            Sentence("The new key is in use already."),
            Sentence("Make another new key; the old one still opens."),
        )


class OtherGeneration(NotebookRefused):
    """The phone's place in the notebook was counted on what is no longer there."""

    code = "other-generation"
    status = 409

    def __init__(self, generation: str) -> None:
        super().__init__(
            Sentence(
                "What this server holds was put back from a backup, or begun anew, "
                "since this phone last asked."
            ),
            Sentence("The phone sends all it has once more; nothing on it is lost."),
        )
        self.beside = {"generation": generation}


class PartDoesNotFollow(NotebookRefused):
    """A part of a photo does not begin where the parts held end."""

    code = "part-does-not-follow"
    status = 409

    def __init__(self, held: int) -> None:
        super().__init__(
            Sentence(
                "This part of the photo does not follow on the {held} bytes that the server holds of it.",
                held=format(held, ","),
            ),
            Sentence("Go on from there."),
        )
        self.beside = {"held": held}


class PictureDamaged(NotebookRefused):
    """The parts of a photo do not add up to what was announced."""

    code = "picture-damaged"
    status = 422

    def __init__(self) -> None:
        super().__init__(
            Sentence("The photo did not arrive as it was sent, so the server has dropped it."),
            Sentence("It is sent again from the beginning."),
        )


class PictureTooLarge(NotebookRefused):
    """A photo, or one part of it, is larger than the server takes."""

    code = "picture-too-large"
    status = 413


class NotebookFull(NotebookRefused):
    """A limit of the notebook is reached; nothing of what was sent has been stored."""

    code = "notebook-full"
    status = 507


class NoLongerShared(NotebookRefused):
    """A description was shared by this link, and is not any more: withdrawn, or readable until a day only.

    `day` is that day as the reader writes it, where that is not as in English.
    """

    code = "no-longer-shared"
    status = 410

    def __init__(self, until: date | None = None, day: str = "") -> None:
        if until and not day:
            day = f"{until.day} {until:%B %Y}"
        super().__init__(
            Sentence("This description could be read until {day}, and that day is over.", day=day)
            if until
            else Sentence("The seller has withdrawn this description."),
            Sentence("If you know the seller, ask for a new link."),
        )
        self.until = until


class StoreRefused(UnderchassisError):
    """The server's database does not do what is asked of it; nothing is left half-written."""


class DatabaseUnusable(StoreRefused):
    """The database cannot be opened, reached, or read by this version."""

    code = "database-unusable"
    status = 503
    headers: ClassVar[Mapping[str, str]] = {"Retry-After": "30"}


class DatabaseBusy(StoreRefused):
    """Somebody else holds the database for longer than is waited."""

    code = "database-busy"
    status = 503
    headers: ClassVar[Mapping[str, str]] = {"Retry-After": "5"}

    def __init__(self) -> None:
        super().__init__(
            Sentence("The server's database is busy with something else; nothing of this has been stored."),
            Sentence("Try again in a few seconds."),
        )


class ServerFull(StoreRefused):
    """The disk that the database lies on takes nothing more."""

    code = "server-full"
    status = 507

    def __init__(self) -> None:
        super().__init__(
            Sentence(
                "The server's disk is full; nothing of this has been stored, and what it held is unharmed."
            ),
            Sentence("Whoever runs the server must make room. On the phone everything stays as it is."),
        )


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """A half sentence that helps with a mistyped name: the nearest known one, or all of a short list.

    Returns "" when nothing is near and the list is long.
    """
    near = get_close_matches(word, known, n=1, cutoff=0.6)
    if near:
        return Sentence('Did you mean "{name}"?', name=near[0])
    if len(known) <= 8:
        return Sentence("Known: {names}.", names=", ".join(f'"{name}"' for name in known))
    return ""
