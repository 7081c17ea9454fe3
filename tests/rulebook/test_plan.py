"""Order among things that wait for one another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.rulebook.plan import in_order, loops

names = st.lists(st.sampled_from("abcdefgh"), unique=True, min_size=1)


@given(names)
def test_everything_comes_after_what_it_waits_for(ids: list[str]) -> None:
    """Whatever the order given: each may wait for any that come before it in the alphabet."""
    waits = {name: [other for other in ids if other < name and ord(other) % 2] for name in ids}
    ordered = in_order(ids, waits)
    assert sorted(ordered) == sorted(ids)
    assert all(ordered.index(other) < ordered.index(name) for name in ids for other in waits[name])


@given(names)
def test_what_waits_for_nothing_keeps_the_order_given(ids: list[str]) -> None:
    assert in_order(ids, {}) == ids


def test_the_earliest_given_comes_first_among_those_ready() -> None:
    assert in_order(["c", "b", "a"], {"c": ["a"]}) == ["b", "a", "c"]


def test_a_circle_is_named_and_refused() -> None:
    waits = {"a": ["b"], "b": ["c"], "c": ["a"], "d": []}
    assert [sorted(loop) for loop in loops(waits)] == [["a", "b", "c"]]
    with pytest.raises(ValueError, match="nodes are in a cycle"):
        in_order(["a", "b", "c"], waits)


def test_a_thing_that_waits_for_itself_is_a_circle() -> None:
    assert loops({"a": ["a"]}) == [["a"]]


def test_without_a_circle_there_is_none_to_name() -> None:
    assert loops({"a": ["b"], "b": []}) == []
