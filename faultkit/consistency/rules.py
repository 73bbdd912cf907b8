"""Every check by its code, in the order of the report."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from faultkit.consistency.checks.b301_bands_swap import RULE as B301
from faultkit.consistency.checks.b302_band_outside_range import RULE as B302
from faultkit.consistency.checks.b303_band_too_narrow import RULE as B303
from faultkit.consistency.checks.e601_same_condition import RULE as E601
from faultkit.consistency.checks.e602_shared_base import RULE as E602
from faultkit.consistency.checks.e603_useless_sign import RULE as E603
from faultkit.consistency.checks.e604_unmovable import RULE as E604
from faultkit.consistency.checks.f101_loading import RULE as F101
from faultkit.consistency.checks.f102_schema_line import RULE as F102
from faultkit.consistency.checks.l401_never import RULE as L401
from faultkit.consistency.checks.l402_always import RULE as L402
from faultkit.consistency.checks.l403_implied import RULE as L403
from faultkit.consistency.checks.l404_shadowed_row import RULE as L404
from faultkit.consistency.checks.l405_confirms_and_rules_out import RULE as L405
from faultkit.consistency.checks.l406_dead_branch import RULE as L406
from faultkit.consistency.checks.l407_no_single_fault import RULE as L407
from faultkit.consistency.checks.l408_proof_impossible import RULE as L408
from faultkit.consistency.checks.r201_join_without_partner import RULE as R201
from faultkit.consistency.checks.r202_calculation import RULE as R202
from faultkit.consistency.checks.r203_unused_reading import RULE as R203
from faultkit.consistency.checks.r204_check_gives_nothing import RULE as R204
from faultkit.consistency.checks.r205_reading_without_check import RULE as R205
from faultkit.consistency.checks.r206_no_way_to_confirm import RULE as R206
from faultkit.consistency.checks.r207_no_remedy import RULE as R207
from faultkit.consistency.checks.r208_no_case import RULE as R208
from faultkit.consistency.checks.r209_threshold_without_source import RULE as R209
from faultkit.consistency.checks.r210_no_caution import RULE as R210
from faultkit.consistency.checks.r211_deprecated import RULE as R211
from faultkit.consistency.checks.t501_ambiguity import RULE as T501
from faultkit.consistency.checks.t502_masked import RULE as T502
from faultkit.consistency.checks.t503_redundant_check import RULE as T503
from faultkit.consistency.checks.t504_worse import RULE as T504
from faultkit.consistency.checks.x901_bad_exception import RULE as X901
from faultkit.consistency.checks.x902_unused_exception import RULE as X902
from faultkit.consistency.checks.x903_undecided import RULE as X903
from faultkit.consistency.finding import Rule

__all__ = ["BY_CODE", "RULES"]

RULES: tuple[Rule, ...] = (
    F101, F102,
    R201, R202, R203, R204, R205, R206, R207, R208, R209, R210, R211,
    B301, B302, B303,
    L401, L402, L403, L404, L405, L406, L407, L408,
    T501, T502, T503, T504,
    E601, E602, E603, E604,
    X901, X902, X903,
)

BY_CODE: Mapping[str, Rule] = MappingProxyType({r.code: r for r in RULES})
