"""Frequency words and their numbers: one documented number each.

The numbers are faultkit's convention, no source claims them. A number may be
written wherever a word may. Only ``always`` and ``never`` are logic.
"""

from __future__ import annotations

from types import MappingProxyType

__all__ = ["CHANCE_WORDS", "FAILS", "HOW_COMMON_WORDS", "SEASONS", "months_of"]

#: Chance that a cause acts, or that a reading falls in a band.
CHANCE_WORDS = MappingProxyType(
    {
        "always": 1.0,
        "nearly_always": 0.97,
        "usually": 0.85,
        "often": 0.7,
        "half_the_time": 0.5,
        "seldom": 0.15,
        "rarely": 0.03,
        "never": 0.0,
    }
)

#: Share of units that have the fault on a random day.
HOW_COMMON_WORDS = MappingProxyType(
    {
        "very_common": 0.03,
        "common": 0.01,
        "uncommon": 0.003,
        "rare": 0.001,
        "very_rare": 0.0003,
    }
)

#: Chance that a remedy leaves an event it should end as it was, where its author says nothing else.
FAILS = CHANCE_WORDS["rarely"]

#: Months of each season in the northern half of the world.
SEASONS = MappingProxyType(
    {"winter": (12, 1, 2), "spring": (3, 4, 5), "summer": (6, 7, 8), "autumn": (9, 10, 11)}
)


def months_of(season: str, hemisphere: str = "north") -> tuple[int, ...]:
    """Months (1 to 12) of a season; in the southern half they are shifted by six."""
    months = SEASONS[season]
    return months if hemisphere == "north" else tuple((m + 5) % 12 + 1 for m in months)
