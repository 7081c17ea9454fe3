"""How many generated examples a property is tried on."""

from typing import Any

from hypothesis import settings

# The profile of a run without --long, which tries always the same examples: more of them find nothing new.
STEADY = "steady"


def examples(full: int, **more: Any) -> settings:
    """Settings with that many examples under --long, half of them otherwise, and further options."""
    steady = settings.get_current_profile_name() == STEADY
    return settings(max_examples=full // 2 if steady else full, deadline=None, **more)
