"""Comparisons with the outside world: one list, printed by ``coldsoak checks`` and run by the tests."""
