"""Waits that pass by the warmth of the shop."""
