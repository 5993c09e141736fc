"""Every rule of the trade, in the order in which a builder meets them."""

from castlang.rules.model import Rule

RULES: tuple[Rule, ...] = ()
