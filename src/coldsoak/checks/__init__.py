"""Comparisons with the outside world, one list for ``coldsoak checks`` and for the tests."""
