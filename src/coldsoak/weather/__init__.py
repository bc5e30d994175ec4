"""Readers of weather files and the one table that all of them give."""
