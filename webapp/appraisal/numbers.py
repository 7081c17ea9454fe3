"""All numbers of one appraisal, before anybody asks for words: what a tap needs."""

from dataclasses import dataclass

from webapp.appraisal.effort import Effort, effort
from webapp.appraisal.findings import Findings
from webapp.appraisal.looking import Looking, Now, looking
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import Market, Shares, market, shares
from webapp.appraisal.scores import Scores, scores
from webapp.appraisal.standing import Standing, stand
from webapp.appraisal.worth import InParts, Mending, Worth, fair, in_parts, mending, worth


@dataclass(frozen=True, slots=True)
class Numbers:
    """Everything that follows from the findings before anybody asks what to look at next."""

    standing: Standing
    scores: Scores
    found: Shares
    market: Market
    parts: InParts
    mending: Mending
    effort: Effort
    worth: Worth


def numbers(prepared: Prepared, findings: Findings) -> Numbers:
    """All numbers of one appraisal."""
    standing = stand(prepared, findings)
    found = shares(prepared, standing, findings.aim)
    price = market(prepared, standing, found, findings)
    parts = in_parts(prepared, standing, findings)
    mend = mending(prepared, standing, findings)
    return Numbers(
        standing=standing,
        scores=scores(prepared, standing),
        found=found,
        market=price,
        parts=parts,
        mending=mend,
        effort=effort(prepared, standing, findings),
        worth=worth(price.mean, price.restored_mean - mend.total, parts.mean),
    )


def next_looks(prepared: Prepared, findings: Findings, now: Numbers) -> Looking:
    """What is left to look at, in order, and whether it is worth the time."""
    return looking(
        Now(prepared, now.standing, findings, now.found, now.market, now.parts, now.mending, now.worth)
    )


def fair_range(prepared: Prepared, now: Numbers) -> dict[str, float]:
    """The fair-price range {low, mid, high}: what the market would pay at P10, P50, P90."""
    z90 = prepared.pack["model"]["z90"]
    points = {"low": -z90, "mid": 0.0, "high": z90}
    return {name: fair(now.market, now.parts, z) for name, z in points.items()}
