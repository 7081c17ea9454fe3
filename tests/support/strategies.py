"""Hypothesis strategies: findings documents on the shipped family and its sheets, and any JSON at all."""

from typing import Any

from hypothesis import strategies as st

from tests.support.packs import FAMILY, SHEETS, pack_for

Json = dict[str, Any]

sheets = st.sampled_from([None, *SHEETS])
money = st.one_of(st.just(0), st.floats(0.01, 1000), st.integers(1, 500))


def answers() -> st.SearchStrategy[dict[str, str]]:
    """Answers to any of the checks, those of hidden follow-ups too."""
    options = {
        check["id"]: st.sampled_from([option["id"] for option in check["options"]])
        for check in pack_for()["checks"]
    }
    return st.fixed_dictionaries({}, optional=options)


def all_answers() -> st.SearchStrategy[dict[str, str]]:
    """An answer to every check."""
    return st.fixed_dictionaries(
        {
            check["id"]: st.sampled_from([option["id"] for option in check["options"]])
            for check in pack_for()["checks"]
        }
    )


def holes(least: int = 0) -> st.SearchStrategy[list[Json]]:
    """A list of added holes."""
    hole = st.fixed_dictionaries(
        {
            "place": st.sampled_from([place["id"] for place in pack_for()["holes"]["places"]]),
            "diameter_mm": st.floats(0.1, 200),
        },
        optional={"as_found": st.sampled_from(["open", "plugged", "enlarged"])},
    )
    return st.lists(hole, min_size=least, max_size=6)


@st.composite
def findings(draw: st.DrawFn, asking: st.SearchStrategy[Any] | None = None, full: bool = False) -> Json:
    """A findings document, right in form; with `full` every check is answered."""
    given_answers = draw(all_answers() if full else answers())
    unanswered = [check["id"] for check in pack_for()["checks"] if check["id"] not in given_answers]
    listed = [] if given_answers.get("added-holes") == "none" else draw(holes())
    unseen = draw(st.lists(st.sampled_from(unanswered), max_size=8, unique=True)) if unanswered else []
    document: Json = {
        "family": FAMILY,
        "model_sheet": draw(sheets),
        "answers": given_answers,
        "unseen": [check for check in unseen if check != "added-holes" or not listed],
        "holes": listed,
        "aim": draw(st.sampled_from([aim["id"] for aim in pack_for()["aims"]])),
        "region": draw(st.sampled_from([None, 1, 2, 3])),
        "asking": draw(asking if asking is not None else st.none() | money),
        "hour_rate": draw(st.sampled_from([0, 2, 12.5, 40])),
    }
    if draw(st.booleans()):
        low = draw(st.floats(200, 9000))
        document["coverage_khz"] = [low, low * draw(st.floats(1.05, 3))]
    if draw(st.booleans()):
        document["crystal_khz"] = draw(st.floats(300, 12000))
    if draw(st.booleans()):
        document |= {"currency": "EUR", "rate": draw(st.floats(0.5, 2))}
    return document


def any_json() -> st.SearchStrategy[Any]:
    """Whatever a JSON file may hold, NaN, infinities and very long numbers included."""
    leaves = (
        st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=8)
        | st.sampled_from([10**400, -(10**400), "none", "some", 1e308, -0.0])
    )  # fmt: skip
    return st.recursive(
        leaves,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
        max_leaves=8,
    )
