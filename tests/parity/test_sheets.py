"""The phone's packs are those of the compiler, those of the model sheets too."""

from collections.abc import Callable
from typing import Any

from tests.support.packs import SHEETS, pack_for
from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.twin import Kernel


def without_hash(pack: dict[str, Any]) -> dict[str, Any]:
    # The phone does not hash: a sheet made there is told apart by its id.
    return {key: value for key, value in pack.items() if key != "hash"}


def test_the_family_arrives_as_compiled_and_each_sheet_is_laid_over_it_alike(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    kernel = Kernel(browser(), live_server.url)
    assert kernel.shipped(None) == pack_for(None)
    for sheet in SHEETS:
        assert without_hash(kernel.shipped(sheet)) == without_hash(pack_for(sheet)), sheet
