"""What documents say about voltages and limits, as data, with every figure's grade; and how one rule is worked out."""

from .allowing import allows
from .bodies import as_body, from_body, may_choose, user_rule
from .evaluation import Volts, Worked, evaluate
from .limits import LimitsRule, read_limits
from .loader import limit, load, load_limits, rule

__all__ = [
    "LimitsRule", "Volts", "Worked", "allows", "as_body", "evaluate", "from_body", "limit", "load", "load_limits", "may_choose",
    "read_limits", "rule", "user_rule",
]  # fmt: skip
