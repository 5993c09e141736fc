"""Gaps by themselves, without crew and hours: soonest and latest times, and circles that cannot be met."""
