"""The safety signs that cautions carry: their codes in ISO 7010 and what these mean."""

from pydantic import Field

from webapp.errors import did_you_mean
from webapp.rulebook.layers import Layers
from webapp.rulebook.rows import Grounded, Text


class Sign(Grounded):
    """One sign; it is drawn under its id in static/icons/signs.svg."""

    id: str = Field(pattern=r"^[WM]\d{3}$", description="an ISO 7010 code such as W012")
    name: Text = Field(description="what the sign means, read out where it is drawn")


def read_signs(file: Layers) -> list[Sign]:
    """The signs of the file of cautions, or none where it lists none.

    A caution with a sign that is not listed is noted as a fault.
    """
    if "sign" not in file.tables:
        return []
    signs = file.rows("sign", Sign)
    known = [sign.id for sign in signs]
    for where, raw in file.raw_rows("caution"):
        code = raw.get("sign") if isinstance(raw, dict) else None
        if isinstance(code, str) and code not in known:
            file.fault(where, f'there is no sign "{code}". {did_you_mean(code, known)}')
    return signs
