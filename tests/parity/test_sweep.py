"""Engine and twin agree on thousands of random findings, on the family and on each of its model sheets."""

from collections.abc import Callable, Sequence

import pytest

from tests.parity.cases import DEEP, deep_pack, random_cases
from tests.support.table import Table
from tests.support.twin import Kernel, compare

pytestmark = pytest.mark.timeout(900)


@pytest.fixture
def kernel(table: Table) -> Kernel:
    return Kernel(table.phone, table.address)


def test_every_number_of_random_appraisals_is_the_same_in_both_engines(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    assert list(compare(kernel, random_cases(sweep(4000)))) == []


def test_a_pack_with_follow_ups_of_follow_ups_is_appraised_alike(
    kernel: Kernel, sweep: Callable[[int], Sequence[int]]
) -> None:
    pack = deep_pack()
    kernel.give(DEEP, pack)
    assert list(compare(kernel, random_cases(sweep(1000), pack))) == []
