"""Every refusal Underchassis can give.

    UnderchassisError        something we refuse or cannot do; never a bug
    ├── BadInput             what came in cannot be used              exit 2, HTTP 400
    │   ├── BadFindings      a findings document breaks its form
    │   ├── BadFile          a file is missing, unreadable, too large or not JSON
    │   └── BadPhoto         a photo is none, too large, cut short or damaged
    ├── NotKnown             no such family or model sheet            exit 2, HTTP 404
    ├── RulesBroken          the rule tables do not hold together     exit 2, HTTP 500
    ├── ReaderMissing        labels cannot be read on this machine    exit 2, HTTP 501
    └── PortBusy             the address to serve on is taken         exit 2, HTTP 500

Outcomes such as "not enough known" are data, not errors. Foreign exceptions
(pydantic, tomllib, json, Pillow, OSError) become one of these where they first appear.
"""

from collections.abc import Sequence
from difflib import get_close_matches
from typing import ClassVar


class UnderchassisError(Exception):
    """A refusal in words: what happened and where, and in `hint` what to do about it."""

    code: ClassVar[str] = "refused"
    status: ClassVar[int] = 500

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


class NotKnown(UnderchassisError):
    """No family or model sheet of that name."""

    code = "not-known"
    status = 404


class ReaderMissing(UnderchassisError):
    """No reader of labels is installed."""

    code = "reader-missing"
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


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """A half sentence that helps with a mistyped name: the nearest known one, or all of a short list.

    Returns "" when nothing is near and the list is long.
    """
    near = get_close_matches(word, known, n=1, cutoff=0.6)
    if near:
        return f'Did you mean "{near[0]}"?'
    if len(known) <= 8:
        return "Known: " + ", ".join(f'"{name}"' for name in known) + "."
    return ""
